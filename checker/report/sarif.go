package report

import (
	"cmp"
	"crypto/sha256"
	"encoding/hex"
	"fmt"
	"io"
	"net/url"
	"slices"
	"strings"

	"duskproof/checker/finding"
	"duskproof/checker/rule"
)

const (
	sarifVersion = "2.1.0"
	sarifSchema  = "https://docs.oasis-open.org/sarif/sarif/v2.1.0/errata01/os/schemas/sarif-schema-2.1.0.json"
	// mostDescription is the longest description of a rule that code-hosting
	// services show, in code points.
	mostDescription = 1024
)

// SARIF writes the report in the Static Analysis Results Interchange Format
// 2.1.0 (OASIS, errata 01), as code-hosting services read it. Findings that a
// variance silences are results with a suppression. A proved fix is written as
// changed text when the options can apply its patch.
func SARIF(w io.Writer, r *Report, o Options) error {
	s := sarif{report: r, options: o, index: map[string]int{}}
	s.collectRules()
	run := sarifRun{
		Tool: sarifTool{sarifDriver{
			Name: r.Tool.Name, SemanticVersion: r.Tool.Version,
			FullDescription: sarifText{Text: r.Caution}, Rules: s.rules,
		}},
		AutomationDetails: sarifAutomation{ID: r.Tool.Name + "/"},
		Invocations:       []sarifInvocation{s.invocation()},
		ColumnKind:        "unicodeCodePoints",
		Results:           []sarifResult{},
		Properties:        map[string]any{"today": r.Today, "hold": r.Hold},
	}
	results := func(yield func(any) bool) {
		for i := range r.Plans {
			for _, result := range s.results(&r.Plans[i]) {
				if !yield(result) {
					return
				}
			}
		}
	}
	log := sarifLog{Schema: sarifSchema, Version: sarifVersion, Runs: []sarifRun{run}}
	if err := writeList(w, log, "      ", "results", results); err != nil {
		return fmt.Errorf("write the report as SARIF: %w", err)
	}
	return nil
}

// sarif writes one log.
type sarif struct {
	report  *Report
	options Options
	rules   []sarifRule
	index   map[string]int // of rules, by id
}

// problemTitles are the rules that speak of files that are no plan.
var problemTitles = map[string]string{
	"plan.syntax":     "The file is not strict JSON",
	"plan.schema":     "The file is not a plan",
	"plan.profile":    "The plan names a profile that does not exist",
	"plan.dangling":   "The plan refers to something that it does not have",
	"plan.limit":      "The plan is beyond what can be computed",
	"plan.unreadable": "The file could not be read",
}

// collectRules lists the rules that have results, by id.
func (s *sarif) collectRules() {
	ids := map[string]bool{}
	for i := range s.report.Plans {
		p := &s.report.Plans[i]
		for _, q := range p.Problems {
			ids[q.Rule] = true
		}
		for _, f := range p.Findings {
			ids[f.Rule] = true
		}
		for _, v := range p.Variances {
			for _, f := range v.Silenced {
				ids[f.Rule] = true
			}
		}
		for _, c := range p.Carried {
			if c.Finding != nil {
				ids[c.Finding.Rule] = true
			}
		}
	}
	s.rules = []sarifRule{}
	for _, id := range sortedIDs(ids) {
		s.index[id] = len(s.rules)
		s.rules = append(s.rules, s.rule(id))
	}
}

func sortedIDs(set map[string]bool) []string {
	ids := make([]string, 0, len(set))
	for id := range set {
		ids = append(ids, id)
	}
	slices.Sort(ids)
	return ids
}

func (s *sarif) rule(id string) sarifRule {
	meta, known := s.report.Rules[id]
	if !known {
		meta = rule.Meta{ID: id, Title: problemTitles[id], Severity: finding.Defect, Basis: finding.House}
		if meta.Title == "" {
			meta.Title = id
		}
	}
	family, _, _ := strings.Cut(id, ".")
	title := sarifWords(meta.Title)
	full := title
	if meta.Why != "" {
		full = sarifWords(strings.Join(strings.Fields(meta.Why), " "))
	}
	return sarifRule{
		ID: id, Name: pascal(id), ShortDescription: sarifText{Text: cut(title, mostDescription)},
		FullDescription: sarifText{Text: cut(full, mostDescription)}, Help: help(&meta),
		DefaultConfiguration: sarifConfiguration{Level: level(meta.Severity)},
		Properties: sarifRuleBag{
			Tags: []string{family, string(meta.Basis)}, Precision: precision(meta.Confidence), ProblemSeverity: problemSeverity(meta.Severity),
		},
	}
}

// help is the long text of a rule, plain and in Markdown.
func help(m *rule.Meta) sarifText {
	var plain, marked strings.Builder
	add := func(name, text string) {
		if text = strings.Join(strings.Fields(text), " "); text != "" {
			fmt.Fprintf(&plain, "%s: %s\n", name, sarifWords(text))
			fmt.Fprintf(&marked, "**%s.** %s\n\n", name, markdown(text))
		}
	}
	add("What it finds", m.Title)
	add("Why", m.Why)
	add("What to do", hintWords.Replace(m.Hint))
	add("Severity", m.Severity.String()+" at most")
	add("Basis", basisAndSource(m.Basis, m.Source))
	return sarifText{Text: strings.TrimSpace(plain.String()), Markdown: strings.TrimSpace(marked.String())}
}

// hintWords stand for what a hint takes from a finding.
var hintWords = strings.NewReplacer("{element}", "the element", "{case}", "the case", "{value}", "the value", "{limit}", "the limit")

// pascal turns "power.in-use-cover" into "PowerInUseCover".
func pascal(id string) string {
	var b strings.Builder
	for _, word := range strings.FieldsFunc(id, func(r rune) bool { return r == '.' || r == '-' }) {
		b.WriteString(strings.ToUpper(word[:1]) + word[1:])
	}
	return b.String()
}

// level maps severities to those of the format. What holds a plan by default
// is an error.
func level(s finding.Severity) string {
	switch s {
	case finding.Danger, finding.Defect:
		return "error"
	case finding.Advice:
		return "warning"
	}
	return "note"
}

func problemSeverity(s finding.Severity) string {
	switch s {
	case finding.Danger, finding.Defect:
		return "error"
	case finding.Advice:
		return "warning"
	}
	return "recommendation"
}

func precision(confidence string) string {
	switch confidence {
	case "confirmed", "single":
		return "high"
	case "memory":
		return "low"
	}
	return "medium"
}

// cut shortens text to at most n code points.
func cut(text string, n int) string {
	runes := []rune(text)
	if len(runes) <= n {
		return text
	}
	return string(runes[:n-1]) + "…"
}

// sarifWords makes plan text inert in a plain-text message of the format, where
// square brackets and braces have a meaning (clause 3.11).
func sarifWords(text string) string {
	return sarifMarks.Replace(Clean(text))
}

var sarifMarks = strings.NewReplacer("[", "\\[", "]", "\\]", "{", "{{", "}", "}}")

func (s *sarif) invocation() sarifInvocation {
	out := sarifInvocation{ExecutionSuccessful: len(s.report.RuleProblems) == 0}
	for i := range s.report.RuleProblems {
		out.ConfigurationNotices = append(out.ConfigurationNotices, ruleNotice(&s.report.RuleProblems[i]))
	}
	for i := range s.report.Plans {
		p := &s.report.Plans[i]
		for _, off := range p.SwitchedOff {
			out.ConfigurationNotices = append(out.ConfigurationNotices, sarifNotification{Level: "warning", Message: sarifText{
				Text: sarifWords(fmt.Sprintf("%s, a danger rule, is switched off (%s) for %s: %s", off.Rule, off.By, p.Path, off.Reason)),
			}})
		}
		for k := range p.Weakened {
			out.ConfigurationNotices = append(out.ConfigurationNotices, sarifNotification{Level: "warning", Message: sarifText{
				Text: sarifWords(p.Path + ": " + weakenedLine(&p.Weakened[k])),
			}})
		}
		for k := range p.Failed {
			out.ExecutionSuccessful = false
			out.ExecutionNotification = append(out.ExecutionNotification, ruleNotice(&p.Failed[k]))
		}
	}
	return out
}

func ruleNotice(q *RuleProblem) sarifNotification {
	text := q.Message
	if q.Rule != "" {
		text = q.Rule + ": " + text
	}
	return sarifNotification{Level: "error", Message: sarifText{Text: sarifWords(text)}, Locations: []sarifLocation{{
		PhysicalLocation: sarifPhysical{sarifArtifact{uri(q.File)}, region(q.Line, q.Column, q.EndLine, q.EndColumn)},
	}}}
}

func (s *sarif) results(p *Plan) []sarifResult {
	var out []sarifResult
	for i := range p.Problems {
		q := &p.Problems[i]
		out = append(out, sarifResult{
			RuleID: q.Rule, RuleIndex: s.index[q.Rule], Level: "error", Message: sarifText{Text: sarifWords(q.Message)},
			Locations:           []sarifLocation{location(p, q.Pointer, "", q.Line, q.Column, q.EndLine, q.EndColumn)},
			PartialFingerprints: fingerprints(q.Rule, q.Pointer, q.Message),
		})
	}
	for i := range p.Findings {
		out = append(out, s.result(p, &p.Findings[i]))
	}
	for i := range p.Variances {
		v := &p.Variances[i]
		for k := range v.Silenced {
			result := s.result(p, &v.Silenced[k])
			result.Suppressions = []sarifSuppression{{Kind: "inSource", Status: "accepted", Justification: Clean(v.Reason),
				Properties: properties("grantedBy", Clean(v.GrantedBy), "on", v.On, "until", v.Until)}}
			out = append(out, result)
		}
	}
	for i := range p.Carried {
		c := &p.Carried[i]
		if c.Finding == nil {
			continue
		}
		result := s.result(p, c.Finding)
		result.Suppressions = []sarifSuppression{{Kind: "external", Status: "accepted", Justification: Clean(cmp.Or(c.Reason, "on the list of carried findings")),
			Properties: properties("until", c.Expires)}}
		out = append(out, result)
	}
	return out
}

func (s *sarif) result(p *Plan, f *finding.Finding) sarifResult {
	out := sarifResult{
		RuleID: f.Rule, RuleIndex: s.index[f.Rule], Level: level(f.Severity), Message: sarifText{Text: sarifWords(f.Message)},
		Locations:           []sarifLocation{location(p, f.Pointer, f.Element, f.Line, f.Column, f.EndLine, f.EndColumn)},
		PartialFingerprints: fingerprints(f.Rule, f.Element, f.Case),
		Properties: properties("severity", f.Severity.String(), "basis", string(f.Basis), "element", Clean(f.Element),
			"case", Clean(f.Case), "source", Clean(f.Source), "hint", hintOf(f)),
		Fixes: s.fixes(p, f),
	}
	if f.Value != nil && f.Limit != nil {
		out.Properties["value"], out.Properties["limit"], out.Properties["unit"] = *f.Value, *f.Limit, f.Unit
	}
	return out
}

// hintOf is the hint of a finding without a proved fix.
func hintOf(f *finding.Finding) string {
	for _, fix := range f.Fixes {
		if !fix.Proved {
			return Clean(fix.Text)
		}
	}
	return ""
}

// properties makes a bag of the values that are not empty.
func properties(pairs ...string) map[string]any {
	bag := map[string]any{}
	for i := 1; i < len(pairs); i += 2 {
		if pairs[i] != "" {
			bag[pairs[i-1]] = pairs[i]
		}
	}
	return bag
}

// fingerprints name a result wherever it stands in the file: by rule, element
// and case, as [finding.Identity] does.
func fingerprints(parts ...string) map[string]string {
	sum := sha256.Sum256([]byte(strings.Join(parts, "\x00")))
	text := hex.EncodeToString(sum[:])
	return map[string]string{"primaryLocationLineHash": text[:16] + ":1", "duskproof/identity/v1": text}
}

func location(p *Plan, pointer, element string, line, column, endLine, endColumn int) sarifLocation {
	return sarifLocation{
		PhysicalLocation: sarifPhysical{sarifArtifact{uri(p.Path)}, region(line, column, endLine, endColumn)},
		LogicalLocations: []sarifLogical{{Name: Clean(element), FullyQualifiedName: Clean(pointer), Kind: "element"}},
	}
}

// region is a place with all four numbers; nil for a file as a whole.
func region(line, column, endLine, endColumn int) *sarifRegion {
	if line < 1 || column < 1 {
		return nil
	}
	if endLine < line || endLine == line && endColumn < column {
		endLine, endColumn = line, column
	}
	return &sarifRegion{line, column, endLine, endColumn}
}

// uri writes a path as the format wants it: with forward slashes, escaped, and
// relative unless the path is not.
func uri(path string) string {
	escaped := (&url.URL{Path: path}).EscapedPath()
	switch {
	case strings.HasPrefix(path, "/"):
		return "file://" + escaped
	case len(path) > 1 && path[1] == ':':
		return "file:///" + escaped
	}
	return escaped
}
