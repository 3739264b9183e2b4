package config

import (
	"fmt"
	"slices"

	"duskproof/checker/finding"
	"duskproof/checker/profile"
	"duskproof/checker/rule"
	"duskproof/checker/source"
)

// layers calls f for every layer with the pointer of its object.
func (c *Config) layers(f func(at string, l Layer)) {
	f("", c.Base)
	for i, p := range c.Paths {
		f(source.Pointer("paths", i), p.Layer)
	}
}

// CheckRules returns what is wrong with the settings of rules, given every rule
// that is loaded: rules that do not exist, and rules that can be a danger
// switched off or graded down without a reason.
func (c *Config) CheckRules(metas []rule.Meta) []source.Problem {
	if c.doc == nil {
		return nil
	}
	byID, ids := map[string]rule.Meta{}, make([]string, len(metas))
	for i, meta := range metas {
		byID[meta.ID], ids[i] = meta, meta.ID
	}
	slices.Sort(ids)
	var problems []source.Problem
	c.layers(func(_ string, l Layer) {
		for _, r := range l.Rules {
			if message := misgraded(r, byID, ids); message != "" {
				problems = append(problems, c.onKey(r.Pointer, message))
			}
		}
	})
	source.SortProblems(problems)
	return problems
}

// onKey makes a problem at the name that a pointer ends with.
func (c *Config) onKey(pointer, message string) source.Problem {
	return c.doc.NewProblem(c.doc.Locate(pointer)[0].Key, pointer, message)
}

// misgraded says what is wrong with the setting of a rule, or "".
func misgraded(r Rule, byID map[string]rule.Meta, ids []string) string {
	meta, known := byID[r.ID]
	switch {
	case !known:
		message := fmt.Sprintf("there is no rule %q", r.ID)
		if near := profile.Nearest(r.ID, ids); near != "" {
			message += fmt.Sprintf("; did you mean %q?", near)
		}
		return message
	case meta.Severity != finding.Danger || r.Reason != "":
		return ""
	case r.Off:
		return fmt.Sprintf("%s can be a danger, so it is switched off only with a reason; add one, or leave it on", r.ID)
	case r.Severity < finding.Danger:
		return fmt.Sprintf("%s can be a danger, so it is graded down only with a reason; add one, or leave it as it is", r.ID)
	}
	return ""
}

// CheckProfiles returns what is wrong with the profiles and limits that the
// settings name, given every profile that plans may name.
func (c *Config) CheckProfiles(set *profile.Set) []source.Problem {
	if c.doc == nil {
		return nil
	}
	var problems []source.Problem
	c.layers(func(at string, l Layer) {
		for i, name := range l.Profiles {
			if _, err := set.Stack([]string{name}); err != nil {
				problems = append(problems, c.doc.ProblemAt(source.Append(at, "profiles", i), err.Error()))
			}
		}
		for _, limit := range l.Limits {
			if message := set.Misfit(limit.inProfile()); message != "" {
				problems = append(problems, c.onKey(limit.Pointer, message))
			}
		}
	})
	source.SortProblems(problems)
	return problems
}
