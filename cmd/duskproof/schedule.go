package main

import (
	"context"
	"fmt"

	"duskproof/checker/report"
	"duskproof/checker/takeoff"
)

// scheduleCommand is "duskproof schedule".
type scheduleCommand struct {
	judging
	Plan string `arg:"" help:"Plan file."`
}

// Run prints the schedules of one plan.
func (c *scheduleCommand) Run(ctx context.Context, std streams) error {
	set, err := c.setup()
	if err != nil {
		return err
	}
	defer set.close()
	result, err := usablePlan(ctx, set, c.judging, c.Plan, std)
	if err != nil {
		return err
	}
	s := takeoff.Of(result.Model, result.Facts, report.Caution)
	for _, t := range s.Transformers {
		_, err := fmt.Fprintf(std.out, "%-12s %7.1f of %7.1f VA  %3.0f %%\n", report.Clean(t.ID), t.VA, t.RatingVA, 100*t.Loading)
		if err != nil {
			return fmt.Errorf("write the schedule: %w", err)
		}
	}
	return nil
}
