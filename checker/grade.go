package checker

import (
	"cmp"
	"slices"
	"strings"

	"duskproof/checker/config"
	"duskproof/checker/facts"
	"duskproof/checker/finding"
	"duskproof/checker/measure"
	"duskproof/checker/plan"
	"duskproof/checker/profile"
	"duskproof/checker/report"
	"duskproof/checker/rule"
	"duskproof/checker/source"
)

// severity is the grade of a hit, step by step: the rule's own or the case's,
// then the cap by confidence, then the settings. False means that the settings
// switch the rule off.
func (s *state) severity(meta *rule.Meta, h *rule.Hit) (finding.Severity, bool) {
	gravest, grade := meta.Severity, meta.Severity
	if own, err := finding.ParseSeverity(h.Severity); err == nil {
		grade = own
	}
	if s.fromMemory(meta, h) {
		gravest, grade = min(gravest, finding.Advice), min(grade, finding.Advice)
	}
	return s.settings.Grade(meta.ID, gravest, grade)
}

// fromMemory reports whether the rule, or the limit that the hit was judged
// against, rests on a value that nobody has confirmed.
func (s *state) fromMemory(meta *rule.Meta, h *rule.Hit) bool {
	if meta.Confidence == profile.Memory {
		return true
	}
	limit, ok := s.limits.Get(h.LimitName)
	return ok && limit.Confidence == profile.Memory
}

// report turns hits into findings, applies the variances, and decides.
func (s *state) report(hits []rule.Hit) {
	s.result.Units = s.plan.Units
	s.add(hits)
	s.variances()
	s.carryAlong()
	slices.SortStableFunc(s.result.Findings, finding.Compare)
	s.result.Verdict = report.NoHolds
	hold := cmp.Or(s.settings.Hold, config.DefaultHold)
	for i := range s.result.Findings {
		if s.result.Findings[i].Severity >= hold {
			s.result.Verdict = report.Held
		}
	}
}

// add places and grades hits.
func (s *state) add(hits []rule.Hit) {
	places, onKey := s.locate(hits)
	s.result.Findings = slices.Grow(s.result.Findings, len(hits))
	for i := range hits {
		meta := s.checker.metas[hits[i].Rule]
		if severity, on := s.severity(&meta, &hits[i]); on {
			s.result.Findings = append(s.result.Findings, s.finding(&meta, &hits[i], severity, places[i], onKey[i]))
		}
	}
}

// finding places and grades one hit.
func (s *state) finding(meta *rule.Meta, h *rule.Hit, severity finding.Severity, place source.Place, onKey bool) finding.Finding {
	span := place.Mark()
	if onKey && place.HasKey {
		span = place.Key
	}
	problem := s.doc.NewProblem(span, place.Found, h.Message)
	f := finding.Finding{
		Rule: h.Rule, Severity: severity, Element: h.Element, Case: h.Case, Pointer: problem.Pointer,
		Line: problem.Line, Column: problem.Column, EndLine: problem.EndLine, EndColumn: problem.EndColumn,
		Message: h.Message, Value: h.Value, Limit: h.Limit, Unit: h.Unit, Excerpt: problem.Excerpt,
		Fixes: []finding.Fix{},
	}
	limit, _ := s.limits.Get(h.LimitName)
	f.Basis = finding.Basis(cmp.Or(h.Basis, string(limit.Basis), string(meta.Basis)))
	f.Source = cmp.Or(h.Source, citation(limit), meta.Source)
	if hint := s.hint(meta, h); hint != "" {
		f.Fixes = append(f.Fixes, finding.Fix{Text: hint})
	}
	return f
}

func citation(limit profile.Limit) string {
	if limit.Name == "" {
		return ""
	}
	return limit.Cite()
}

// hint fills in the rule's fix hint.
func (s *state) hint(meta *rule.Meta, h *rule.Hit) string {
	text := cmp.Or(h.Hint, meta.Hint)
	if !strings.Contains(text, "{") {
		return text
	}
	var b strings.Builder
	for {
		before, after, more := strings.Cut(text, "{")
		b.WriteString(before)
		if !more {
			return b.String()
		}
		name, rest, closed := strings.Cut(after, "}")
		if words, known := s.blank(h, name); closed && known {
			b.WriteString(words)
			text = rest
			continue
		}
		b.WriteByte('{')
		text = after
	}
}

// blank is what stands in a hint in the place of a name in braces.
func (s *state) blank(h *rule.Hit, name string) (words string, known bool) {
	number := func(v *float64) string {
		if v == nil {
			return ""
		}
		return measure.Text(*v, h.Unit, s.plan.Units)
	}
	switch name {
	case "element":
		return h.Element, true
	case "case":
		return h.Case, true
	case "value":
		return number(h.Value), true
	case "limit":
		return number(h.Limit), true
	}
	return "", false
}

// switchedOff lists the danger rules that the settings switch off.
func (s *state) switchedOff() {
	for _, setting := range s.settings.Off() {
		by := setBy(setting)
		if s.checker.metas[setting.ID].Severity == finding.Danger {
			s.result.SwitchedOff = append(s.result.SwitchedOff, report.SwitchedOff{Rule: setting.ID, Reason: setting.Reason, By: by})
		}
	}
}

// factLimits gives the effective limits the form that rules read.
func factLimits(limits *profile.Limits) []facts.Limit {
	out := make([]facts.Limit, 0, limits.Count())
	for l := range limits.Each {
		f := facts.Limit{Name: l.Name, Value: l.Value, Text: l.Text, Flag: l.Flag, Unit: l.Unit,
			Source: l.Cite(), Basis: string(l.Basis), Confidence: l.Confidence, Profile: l.Profile}
		if l.Value != nil {
			if least, most, ok := measure.Bounds(*l.Value, l.Unit); ok {
				f.Least, f.Most = &least, &most
			}
		}
		for _, row := range l.Table {
			f.Table = append(f.Table, facts.LimitRow{Key: row.Key, Value: row.Value})
		}
		out = append(out, f)
	}
	return out
}

func factCautions(limits *profile.Limits) []facts.Caution {
	var out []facts.Caution
	for _, c := range limits.Cautions() {
		out = append(out, facts.Caution{Rule: c.Rule, Text: c.Text, Source: c.Source, Profile: c.Profile})
	}
	return out
}

// catalogue finds a type by its name.
func catalogue(p *plan.Plan, name string) (string, bool) {
	for _, f := range p.Fixtures {
		if f.Type.ID == name {
			return f.Type.Pointer, true
		}
	}
	for _, t := range p.Transformers {
		if t.Type.ID == name {
			return t.Type.Pointer, true
		}
	}
	for _, run := range p.Runs {
		for _, leg := range run.Legs {
			if leg.Cable.ID == name {
				return leg.Cable.Pointer, true
			}
		}
	}
	return connector(p, name)
}

// connector finds a connector type by its name.
func connector(p *plan.Plan, name string) (string, bool) {
	for _, f := range p.Fixtures {
		if f.Connector != nil && f.Connector.ID == name {
			return f.Connector.Pointer, true
		}
	}
	for _, run := range p.Runs {
		for _, n := range run.Nodes {
			if n.Connector != nil && n.Connector.ID == name {
				return n.Connector.Pointer, true
			}
		}
	}
	return "", false
}
