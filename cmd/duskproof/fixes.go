package main

import (
	"context"

	"duskproof/checker"
	"duskproof/checker/finding"
	"duskproof/checker/report"
)

// The ways to give fixes with findings.
const (
	fixesAuto   = "auto"
	fixesNone   = "none"
	fixesHint   = "hint"
	fixesProved = "proved"
)

// fixing is how findings come by their fixes.
type fixing struct {
	Fixes string `help:"Fixes with the findings: none, hint, or proved, which tries changes until one holds; auto is proved for one plan and hint for many." enum:"auto,none,hint,proved" default:"auto" placeholder:"HOW"`
}

// settled turns auto into what it stands for.
func (f *fixing) settled(plans int, again bool) {
	if f.Fixes != fixesAuto && f.Fixes != "" {
		return
	}
	f.Fixes = fixesHint
	if plans == 1 && !again {
		f.Fixes = fixesProved
	}
}

// fix gives the findings of a plan the fixes that are wanted. Where a rule failed
// on the plan nothing is tried: it would fail on every change again, and take its
// time for each.
func (f *fixing) fix(ctx context.Context, c *checker.Checker, in checker.Input, result *report.Plan) error {
	switch f.Fixes {
	case fixesProved:
		if len(result.Failed) > 0 {
			return nil
		}
		return c.Prove(ctx, in, result)
	case fixesNone:
		for i := range result.Findings {
			result.Findings[i].Fixes = []finding.Fix{}
		}
	}
	return nil
}
