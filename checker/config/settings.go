package config

import (
	"cmp"
	"slices"

	"duskproof/checker/finding"
	"duskproof/checker/profile"
)

// Settings are the settings in force for one plan.
type Settings struct {
	// Profiles are to be stacked on top of those that the plan names.
	Profiles []string
	// Rules are in order of id.
	Rules []Rule
	// Limits are in order of name.
	Limits []Limit
	// Hold is the hold level; [DefaultHold] when nothing says otherwise.
	Hold finding.Severity
	// Fixes is none, hint, proved, or empty when nothing says so.
	Fixes string
	// Carried is the file that lists carried findings; empty without one.
	Carried string
}

// DefaultHold is the hold level when nothing says otherwise.
const DefaultHold = finding.Defect

// Effective returns the settings for a plan, by its path from the root of the
// repository with forward slashes: those of the repository, then those of the
// matching paths on top, in the order of the file.
func (c *Config) Effective(path string) Settings {
	s := Settings{Hold: DefaultHold}.Over(c.Base)
	for _, layer := range c.Paths {
		if layer.pattern.matches(path) {
			s = s.Over(layer.Layer)
		}
	}
	return s
}

// Over returns the settings with a layer on top: the command line, for example.
// Where the layer says nothing, what was there stays.
func (s Settings) Over(l Layer) Settings {
	s.Profiles = slices.Concat(s.Profiles, l.Profiles)
	s.Rules = merge(s.Rules, l.Rules, func(r Rule) string { return r.ID })
	s.Limits = merge(s.Limits, l.Limits, func(l Limit) string { return l.Name })
	s.Hold = cmp.Or(l.Hold, s.Hold)
	s.Fixes = cmp.Or(l.Fixes, s.Fixes)
	s.Carried = cmp.Or(l.Carried, s.Carried)
	return s
}

// merge puts over on top of under; the result is in order of key.
func merge[T any](under, over []T, key func(T) string) []T {
	if len(over) == 0 {
		return under
	}
	list := slices.Clone(over)
	for _, item := range under {
		if !slices.ContainsFunc(over, func(o T) bool { return key(o) == key(item) }) {
			list = append(list, item)
		}
	}
	slices.SortStableFunc(list, func(a, b T) int { return cmp.Compare(key(a), key(b)) })
	return list
}

// Rule returns the setting of one rule.
func (s Settings) Rule(id string) (Rule, bool) {
	i, found := slices.BinarySearchFunc(s.Rules, id, func(r Rule, id string) int { return cmp.Compare(r.ID, id) })
	if !found {
		return Rule{}, false
	}
	return s.Rules[i], true
}

// Grade grades one finding of a rule: gravest is the severity of the rule's
// gravest cases and severity that of this case, both after the cap by
// confidence. The rule's gravest cases take the severity that the settings say;
// milder cases stay as they are, unless they would then be graver than those.
// on is false when the rule is switched off.
func (s Settings) Grade(id string, gravest, severity finding.Severity) (graded finding.Severity, on bool) {
	rule, found := s.Rule(id)
	switch {
	case !found:
		return severity, true
	case rule.Off:
		return 0, false
	case severity >= gravest:
		return rule.Severity, true
	}
	return min(severity, rule.Severity), true
}

// Off returns the rules that are switched off, in order of id, for the report.
func (s Settings) Off() []Rule {
	return slices.DeleteFunc(slices.Clone(s.Rules), func(r Rule) bool { return !r.Off })
}

// OffEverywhere returns the ids of the rules that are off for every plan, in
// order: off in the repository, and on for no path.
func (c *Config) OffEverywhere() []string {
	var off []string
	for _, r := range c.Base.Rules {
		somewhere := slices.ContainsFunc(c.Paths, func(p PathLayer) bool {
			return slices.ContainsFunc(p.Rules, func(o Rule) bool { return o.ID == r.ID && !o.Off })
		})
		if r.Off && !somewhere {
			off = append(off, r.ID)
		}
	}
	return off
}

// LimitProfile returns the limits that the settings set as a profile, for the
// top of a stack; its name is the settings' file. ok is false when there are
// none.
func (s Settings) LimitProfile() (p profile.Profile, ok bool) {
	if len(s.Limits) == 0 {
		return profile.Profile{}, false
	}
	p = profile.Profile{Name: FileName, Title: "Limits set in the repository's settings", File: FileName}
	for _, l := range s.Limits {
		p.Limits = append(p.Limits, l.inProfile())
	}
	return p, true
}

// inProfile turns the setting into a limit of a profile.
func (l Limit) inProfile() profile.Limit {
	limit := profile.Limit{
		Name: l.Name, Value: l.Number, Text: l.Text, Flag: l.Flag, Table: profile.Rows(l.Table),
		Source: FileName + ": " + l.Reason, Basis: finding.House, Confidence: profile.Practice,
		Note: l.Reason, Profile: FileName,
	}
	return limit
}
