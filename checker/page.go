package checker

import (
	"context"
	"fmt"
	"io/fs"

	"duskproof/checker/config"
	"duskproof/checker/policy"
	"duskproof/checker/profile"
	"duskproof/checker/rule"
)

// ExampleDay is the day for which the examples of rules are written: their
// tickets and variances are dated for it.
const ExampleDay = "2026-06-01"

// Page writes a rule's page in Markdown, with its examples, what it says about
// the bad one, and the meaning of the limits that it reads.
func (c *Checker) Page(ctx context.Context, r *policy.Rule) string {
	e := rule.Examples{Meanings: map[string]string{}}
	for _, name := range r.Limits {
		if m, ok := c.profiles.Meaning(name); ok {
			e.Meanings[name] = m.Note
		}
	}
	bad, _ := r.Example("bad") // a rule without an example has a page without one
	good, _ := r.Example("good")
	e.Bad, e.Good = string(bad), string(good)
	if len(bad) > 0 {
		e.Says, e.Hint = c.says(ctx, r, bad)
	}
	return r.Meta.Page(e)
}

// says lists what a rule says about a plan, on the day of the examples and
// without anybody's settings, and its first hint. What other rules say is left
// out.
func (c *Checker) says(ctx context.Context, r *policy.Rule, plan []byte) (says []string, hint string) {
	plain := *c
	plain.options.Today, plain.options.Settings = ExampleDay, config.Settings{}
	in := Input{Name: "bad.lighting.json", Bytes: plan}
	if folder, err := fs.Sub(r.FS, r.Folder); err == nil {
		in.FS = folder
	}
	result, _ := plain.Check(ctx, in) // rules that cannot be used are no matter of this one
	for _, p := range result.Problems {
		if p.Rule == r.ID {
			says = append(says, fmt.Sprintf("line %d: %s", p.Line, p.Message))
		}
	}
	for _, f := range result.Findings {
		if f.Rule != r.ID {
			continue
		}
		says = append(says, fmt.Sprintf("line %d: %s: %s", f.Line, f.Severity, f.Message))
		if hint == "" && len(f.Fixes) > 0 {
			hint = f.Fixes[0].Text
		}
	}
	return says, hint
}

// ProfileSet is the profiles that plans may name.
func (c *Checker) ProfileSet() *profile.Set { return c.profiles }
