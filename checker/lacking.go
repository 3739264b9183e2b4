package checker

import (
	"fmt"
	"strings"

	"duskproof/checker/finding"
	"duskproof/checker/policy"
	"duskproof/checker/report"
	"duskproof/checker/rule"
)

const cannotJudge = "plan.cannot-judge"

// sections says in which section of the plan a collection of facts is written.
var sections = map[string]string{
	"supply": "supply", "branches": "supply", "receptacles": "supply", "permissions": "permissions",
	"transformers": "transformers", "commons": "transformers",
	"runs": "runs", "nodes": "runs", "legs": "runs", "pieces": "runs", "joints": "runs", "faults": "runs",
	"fixtures": "fixtures", "beams": "fixtures", "standings": "fixtures", "photometry": "fixtures",
	"controls": "controls", "scenes": "controls", "take_off": "take_off", "readings": "readings",
}

func sectionOf(collection string) string {
	if s, ok := sections[collection]; ok {
		return s
	}
	return "site"
}

// issued reports whether the plan has left the drawing board.
func (s *state) issued() bool { return s.plan.Stage == "issued" || s.plan.Stage == "as-built" }

// lacking finds, while the rules run, what they lack.
func (s *state) lacking(document policy.Document) <-chan []policy.Lack {
	var metas []*rule.Meta
	rules := s.checker.catalogue.Rules
	for i := range rules {
		if s.judged(rules[i].ID) && !s.mute(&rules[i]) {
			metas = append(metas, &rules[i].Meta)
		}
	}
	lacks := make(chan []policy.Lack, 1)
	go func() { lacks <- policy.Lacking(metas, document) }()
	return lacks
}

// cannotJudge turns missing data into hits. Before a plan is issued there is
// one grouped advice for each section; from then on each rule and element has
// its own, and what a danger rule lacks is a defect.
func (s *state) cannotJudge(lacks []policy.Lack) []rule.Hit {
	s.result.Unjudged = append(s.result.Unjudged, unjudged(lacks)...)
	if !s.judged(cannotJudge) {
		return nil
	}
	hits := s.noSite()
	if s.issued() {
		return append(hits, s.eachLack(lacks)...)
	}
	return append(hits, s.groupedLacks(lacks)...)
}

// mute reports whether a rule is silent whatever the plan says, since no profile
// in force gives a limit that it reads, or all say no. It lacks nothing then. A
// rule written in Go judges by what the plan states as well, and is never mute.
func (s *state) mute(r *policy.Rule) bool {
	if r.Native {
		return false
	}
	for _, name := range r.Limits {
		if limit, ok := s.limits.Get(name); ok && (limit.Flag == nil || *limit.Flag) {
			return false
		}
	}
	return len(r.Limits) > 0
}

// noSite says once that a plan with only wiring leaves the ground unjudged.
func (s *state) noSite() []rule.Hit {
	if s.plan.Site != nil {
		return nil
	}
	return []rule.Hit{{
		Rule: cannotJudge, Element: "site", Case: "no site", Severity: finding.Advice.String(),
		Message: "the plan has no site: steps, light, cover, water and traffic were not judged",
		Hint:    "Draw at least the stairs, paths, gates, drives and water, so that they can be judged",
	}}
}

// unjudged groups lacks by rule and missing fact.
func unjudged(lacks []policy.Lack) []report.UnjudgedRule {
	var out []report.UnjudgedRule
	at, seen := map[[2]string]int{}, map[[3]string]bool{}
	for _, l := range lacks {
		key := [2]string{l.Rule, l.Field}
		i, known := at[key]
		if !known {
			i = len(out)
			at[key] = i
			out = append(out, report.UnjudgedRule{Rule: l.Rule, Missing: l.Field})
		}
		if one := [3]string{l.Rule, l.Field, l.Element}; !seen[one] {
			seen[one] = true
			out[i].Elements = append(out[i].Elements, l.Element)
		}
	}
	return out
}

// wordsOf collects words by key, each once, in the order in which they come.
type wordsOf[K comparable] struct {
	keys  []K
	words map[K][]string
	seen  map[K]map[string]bool
}

func (w *wordsOf[K]) add(key K, word string) {
	if w.words == nil {
		w.words, w.seen = map[K][]string{}, map[K]map[string]bool{}
	}
	if w.seen[key] == nil {
		w.keys, w.seen[key] = append(w.keys, key), map[string]bool{}
	}
	if !w.seen[key][word] {
		w.words[key], w.seen[key][word] = append(w.words[key], word), true
	}
}

func (s *state) groupedLacks(lacks []policy.Lack) []rule.Hit {
	var elements, rules wordsOf[string]
	for _, l := range lacks {
		section := sectionOf(l.Collection)
		elements.add(section, l.Element+" ("+fieldWords(l.Field)+")")
		rules.add(section, l.Rule)
	}
	var hits []rule.Hit
	for _, section := range elements.keys {
		hits = append(hits, rule.Hit{
			Rule: cannotJudge, Element: section, Case: "missing data", Severity: finding.Advice.String(),
			Message: fmt.Sprintf("%s cannot be judged for want of data: %s", listed(rules.words[section], 4), listed(elements.words[section], 6)),
		})
	}
	return hits
}

func (s *state) eachLack(lacks []policy.Lack) []rule.Hit {
	type one struct{ rule, element string }
	var fields wordsOf[one]
	for _, l := range lacks {
		fields.add(one{l.Rule, l.Element}, fieldWords(l.Field))
	}
	var hits []rule.Hit
	for _, key := range fields.keys {
		severity := finding.Advice
		if s.checker.metas[key.rule].Severity == finding.Danger {
			severity = finding.Defect
		}
		hits = append(hits, rule.Hit{
			Rule: cannotJudge, Element: key.element, Case: key.rule, Severity: severity.String(),
			Message: fmt.Sprintf("%s cannot judge %s: the plan does not give %s", key.rule, key.element, listed(fields.words[key], 6)),
		})
	}
	return hits
}

// unitEndings are the unit suffixes of fact names, which people do not read.
var unitEndings = []string{"_m", "_v", "_a", "_va", "_c", "_k", "_nm", "_mm2", "_lm"}

// computed are the words for facts that the plan does not state itself: what it
// would have to give for them.
var computed = map[string]string{
	"lux_centre": "the light of every fixture near it", "lux_min": "the light of every fixture near it",
	"x_m": "place", "emitted_lm": "lumens", "light": "distribution of light", "up_share": "light and aim",
	"on_tree": "crown of its tree", "past_tree": "crown of its tree",
}

// fieldWords turns a fact's name into words: "cover_m" is "cover".
func fieldWords(field string) string {
	if words, known := computed[field]; known {
		return words
	}
	for _, ending := range unitEndings {
		if rest, ok := strings.CutSuffix(field, ending); ok {
			field = rest
			break
		}
	}
	return strings.ReplaceAll(field, "_", " ")
}

// listed joins words, at most n of them, and counts the rest.
func listed(words []string, n int) string {
	if len(words) <= n {
		return strings.Join(words, ", ")
	}
	return fmt.Sprintf("%s and %d more", strings.Join(words[:n], ", "), len(words)-n)
}
