package checker

import (
	"context"
	"fmt"

	"duskproof/checker/mend"
	"duskproof/checker/report"
)

// recheck checks changed texts of one plan under the same settings. A change
// that a rule fails on is not usable, so that no fix rests on it.
func (c *Checker) recheck(in Input) mend.Recheck {
	return func(ctx context.Context, text []byte) (mend.Outcome, error) {
		in.Bytes = text
		result, err := c.Check(ctx, in)
		if _, failed := err.(*EngineError); failed {
			return mend.Outcome{}, nil
		}
		return outcome(&result), err
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
