package policy

import (
	"cmp"
	"context"
	"fmt"
	"slices"
	"time"

	"github.com/open-policy-agent/opa/v1/profiler"
	"github.com/open-policy-agent/opa/v1/rego"
)

// Share is what one rule costs. What the helper library works out once for all
// rules is counted for the rule that asks first.
type Share struct {
	Rule string
	// Each is the time of one evaluation, the median of several: a pause that
	// falls into one of them does not count.
	Each time.Duration
	// Part is the share of all rules together, 0 to 1.
	Part float64
}

// Shares judges a document several times and returns what each rule costs, the
// dearest first.
func (p *Program) Shares(ctx context.Context, document Document, rounds int) ([]Share, error) {
	taken := map[string][]time.Duration{}
	for range max(rounds, 1) {
		r := newRun(p, document)
		r.times = map[string]time.Duration{}
		if err := r.all(ctx); err != nil {
			return nil, fmt.Errorf("measure the rules: %w", err)
		}
		for id, took := range r.times {
			taken[id] = append(taken[id], took)
		}
	}
	shares := make([]Share, 0, len(taken))
	var all time.Duration
	for id, times := range taken {
		slices.Sort(times)
		each := times[len(times)/2]
		all += each
		shares = append(shares, Share{Rule: id, Each: each})
	}
	for i := range shares {
		shares[i].Part = float64(shares[i].Each) / float64(max(all, 1))
	}
	slices.SortFunc(shares, func(a, b Share) int {
		return cmp.Or(cmp.Compare(b.Each, a.Each), cmp.Compare(a.Rule, b.Rule))
	})
	return shares, nil
}

// Line is what one line of Rego costs.
type Line struct {
	File string
	Line int
	// Took is the time of all evaluations of the line together; Times is
	// how often it was evaluated.
	Took  time.Duration
	Times int
}

// Profile judges a document once and returns the dearest lines. Watching every
// line makes the evaluation slower; only the proportions count. It takes no
// notice of the program's limits: it is for rules that are trusted.
func (p *Program) Profile(ctx context.Context, document Document, lines int) ([]Line, error) {
	watcher := profiler.New()
	a := newRun(p, document).newAttempt()
	e, err := p.engine()
	if err != nil {
		return nil, fmt.Errorf("profile the rules: %w", err)
	}
	_, err = e.query.Eval(
		context.WithValue(ctx, attemptKey{}, a),
		rego.EvalParsedInput(document.forEngine()),
		rego.EvalQueryTracer(watcher),
	)
	if err != nil {
		return nil, fmt.Errorf("profile the rules: %w", err)
	}
	var found []Line
	for _, stats := range watcher.ReportTopNResults(lines, []string{"total_time_ns"}) {
		found = append(found, Line{
			File: stats.Location.File, Line: stats.Location.Row,
			Took: time.Duration(stats.ExprTimeNs), Times: stats.NumEval,
		})
	}
	return found, nil
}
