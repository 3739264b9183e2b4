package checker

import (
	"cmp"
	"context"
	"errors"
	"fmt"
	"slices"

	"duskproof/checker/config"
	"duskproof/checker/facts"
	"duskproof/checker/finding"
	"duskproof/checker/mend"
	"duskproof/checker/numeric"
	"duskproof/checker/plan"
	"duskproof/checker/report"
	"duskproof/checker/rule"
)

// recheck checks changed texts of one plan under the same settings. A change
// that a rule fails on is not usable, so that no fix rests on it.
func (c *Checker) recheck(in Input) mend.Recheck {
	if in.kept == nil {
		in.kept = facts.NewKept()
	}
	return func(ctx context.Context, text []byte, target finding.Identity) (mend.Outcome, error) {
		changed := in // checks run side by side
		changed.Bytes = text
		result, early, err := c.attempt(ctx, changed, target)
		var failed *EngineError
		var broken *RuleError
		switch {
		case errors.As(err, &failed):
			return mend.Outcome{}, nil
		case err != nil && !errors.As(err, &broken):
			return mend.Outcome{}, err
		}
		if early != nil {
			return mend.Outcome{Early: early}, nil
		}
		return outcome(&result), nil
	}
}

// attempt is a check that may end early: as soon as it is certain that a finding
// is still made. early is then what was found so far;
// otherwise it is nil and the check was made in full.
func (c *Checker) attempt(ctx context.Context, in Input, target finding.Identity) (result report.Plan, early *mend.Early, err error) {
	s := c.newState(in)
	if !s.parse(in) {
		return s.result, nil, nil
	}
	if ok, err := s.resolve(plan.Take(s.doc)); !ok || err != nil {
		return s.result, nil, err
	}
	e := mend.Early{Made: map[finding.Identity]bool{}}
	usable, err := s.compute(ctx, in, func(doc *facts.Document) bool {
		note(&e, numeric.Run(doc, s.judged))
		return e.Made[target]
	})
	if !usable && err == nil {
		return s.result, nil, nil
	}
	if err != nil || e.Made[target] {
		return s.result, &e, err
	}
	if program, _ := c.program(); program != nil && !slices.Contains(NativeRules(), target.Rule) {
		document, err := s.document()
		if err != nil {
			return s.result, nil, err
		}
		hits, _, err := program.JudgeSome(ctx, document, func(id string) bool { return id == target.Rule && s.judged(id) })
		note(&e, hits)
		if err != nil || e.Made[target] {
			return s.result, &e, err
		}
	}
	if ok, err := s.validate(); !ok || err != nil {
		return s.result, nil, err
	}
	hits, errs, err := s.judge(ctx)
	if err != nil {
		return s.result, nil, err
	}
	s.report(hits)
	return s.result, nil, errors.Join(errs...)
}

// note records what rules found.
func note(e *mend.Early, hits []rule.Hit) {
	for _, h := range hits {
		e.Made[finding.Identity{Rule: h.Rule, Element: h.Element, Case: h.Case}] = true
	}
}

func outcome(result *report.Plan) mend.Outcome {
	return mend.Outcome{
		Usable: result.Facts != nil && len(result.Problems) == 0, Findings: result.Findings,
		Facts: result.Facts, Plan: result.Model,
	}
}

// Prove looks for changes that settle the findings of a checked plan, checks
// each changed plan in full, and puts those that hold in place of the hints. in
// and result are what [Checker.Check] was given and returned.
func (c *Checker) Prove(ctx context.Context, in Input, result *report.Plan) error {
	findings, err := mend.Prove(ctx, in.Bytes, outcome(result), mend.Options{Recheck: c.recheck(in)})
	if err != nil {
		return fmt.Errorf("prove fixes: %w", err)
	}
	result.Findings = findings
	return nil
}

// Mended is a plan with a set of fixes in it that were proved together.
type Mended struct {
	Combined mend.Combined
	// Before and After are the checks of the plan as it was and as mended.
	Before, After report.Plan
}

// Mend checks a plan and looks for changes that together leave no finding at the
// hold level. What it could not settle, and what is for a person to settle, is
// in Remaining.
func (c *Checker) Mend(ctx context.Context, in Input) (Mended, error) {
	in.kept = facts.NewKept()
	before, err := c.Check(ctx, in)
	if err != nil {
		return Mended{Before: before}, err
	}
	settings := c.options.Settings
	if in.Settings != nil {
		settings = *in.Settings
	}
	combined, err := mend.Combine(ctx, in.Bytes, outcome(&before), mend.Options{
		Recheck: c.recheck(in), Hold: cmp.Or(settings.Hold, config.DefaultHold),
	})
	if err != nil {
		return Mended{Before: before}, fmt.Errorf("mend: %w", err)
	}
	in.Bytes = combined.Text
	after, err := c.Check(ctx, in)
	return Mended{Combined: combined, Before: before, After: after}, err
}
