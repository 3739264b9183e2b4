package mend

import (
	"cmp"
	"context"
	"fmt"
	"math"
	"slices"

	"duskproof/checker/finding"
)

// Step is one change of a combined mend.
type Step struct {
	// Settles is the finding that the change was looked for.
	Settles finding.Finding
	// Fix is the change; its patch applies to the plan as the steps before
	// left it.
	Fix finding.Fix
}

// Combined is a set of changes that were proved together.
type Combined struct {
	// Text is the mended plan; the plan itself when nothing helps.
	Text []byte
	// Steps are the changes in order.
	Steps []Step
	// Cost is the sum of their costs.
	Cost float64
	// After is the check of the mended plan.
	After Outcome
	// Remaining are the findings that still hold the plan.
	Remaining []finding.Finding
	// Checks is how many checks were made.
	Checks int
}

// combiner looks for a set of changes.
type combiner struct {
	options Options
	text    []byte // the plan as it was
	base    Outcome
	left    int // checks that may still be made
	made    int
	now     *place
	best    *place // the best that does no harm, so far
	stuck   map[finding.Identity]bool
	daring  int             // how many steps past the best, in the hope to put their harm right
	been    map[string]bool // texts that were the plan on the way
}

// mostDaring is how many steps are taken past the best place before giving up.
const mostDaring = 10

// place is a plan on the way, with the steps that led there.
type place struct {
	text    []byte
	out     Outcome
	steps   []Step
	cost    float64
	renamed map[string]string // since the beginning
}

// Combine looks for changes that together leave no finding at the hold level or
// above, do no harm, and cost little. It settles one finding at a time on the
// plan as the changes before left it, takes the change that costs least for each
// finding at the hold level that goes with it, puts right what a change made
// worse, and in the end takes out every change that the others made needless.
//
// The whole set is proved like a single fix: measured against the plan as it
// was, no finding at advice or above has come and none grew worse. When no set
// leaves the plan without holds, the one that leaves fewest is returned.
func Combine(ctx context.Context, text []byte, base Outcome, options Options) (Combined, error) {
	start := &place{text: text, out: base, renamed: map[string]string{}}
	c := &combiner{options: options, text: text, base: base, now: start, best: start, stuck: map[finding.Identity]bool{},
		been: map[string]bool{string(text): true}}
	if base.Usable {
		if c.left = options.Budget; c.left <= 0 {
			c.left = 2 * DefaultBudget(len(base.Plan.Fixtures))
		}
		if err := c.run(ctx); err != nil {
			return Combined{}, err
		}
	}
	out := Combined{Text: c.best.text, Steps: c.best.steps, Cost: c.best.cost, After: c.best.out, Checks: c.made}
	for _, f := range c.best.out.Findings {
		if f.Severity >= options.Hold {
			out.Remaining = append(out.Remaining, f)
		}
	}
	return out, nil
}

// run settles what it can by steps that do no harm, then by steps whose harm
// others put right, and drops what was needless.
func (c *combiner) run(ctx context.Context) error {
	for c.left > 0 && c.daring <= mostDaring {
		target, ok := c.next()
		if !ok && c.daring > 0 {
			break
		}
		if !ok {
			c.daring = 1
			clear(c.stuck)
			continue
		}
		moved, err := c.settle(ctx, target)
		if err != nil {
			return err
		}
		if c.stuck[target.Identity()] = !moved; moved {
			c.arrive()
		}
	}
	return c.prune(ctx)
}

// arrive notes the place that a step led to.
func (c *combiner) arrive() {
	clear(c.stuck)
	c.been[string(c.now.text)] = true
	switch {
	case better(c.worth(c.now), c.worth(c.best)):
		c.best, c.daring = c.now, 0
	case c.daring > 0:
		c.daring++
	}
}

// next is what to settle next: harm that a step did, then what holds the plan,
// the gravest first. Findings that nothing helped are left until something
// changes.
func (c *combiner) next() (finding.Finding, bool) {
	harm := map[finding.Identity]bool{}
	for _, id := range c.harm(c.now) {
		harm[id] = true
	}
	var todo []finding.Finding
	for _, f := range c.now.out.Findings {
		id := f.Identity()
		if len(remedies[f.Rule]) > 0 && !c.stuck[id] && (f.Severity >= c.options.Hold || harm[id]) {
			todo = append(todo, f)
		}
	}
	if len(todo) == 0 {
		return finding.Finding{}, false
	}
	return slices.MinFunc(todo, func(a, b finding.Finding) int {
		return cmp.Or(cmp.Compare(b.Severity, a.Severity), finding.Compare(a, b))
	}), true
}

// harm lists what a place has that the plan had not, or had less grave.
func (c *combiner) harm(p *place) []finding.Identity {
	return judge(c.base.Findings, &p.out, finding.Identity{}, p.renamed).harm
}

// worth is how good a place is.
type worth struct {
	holds int // each danger counts for more than any number of defects
	harm  int
	cost  float64
}

const dangerWeight = 1000

func (c *combiner) worth(p *place) worth {
	w := worth{harm: len(c.harm(p)), cost: p.cost}
	for _, f := range p.out.Findings {
		switch {
		case f.Severity < c.options.Hold:
		case f.Severity == finding.Danger:
			w.holds += dangerWeight
		default:
			w.holds++
		}
	}
	return w
}

// better reports whether a place that does no harm leaves fewer holds, or as few
// for less.
func better(a, than worth) bool {
	return a.harm == 0 && (a.holds < than.holds || a.holds == than.holds && a.cost < than.cost)
}

// mostTried is how many candidates are compared for one finding.
const mostTried = 12

// settle tries the candidates for one finding side by side and takes the one that
// is worth most. False means that none is any good.
func (c *combiner) settle(ctx context.Context, f finding.Finding) (bool, error) {
	s, err := newSearcher(c.now.text, c.now.out, c.options, newMemory())
	if err != nil {
		return false, err
	}
	tried := firsts(s.fitting(s.candidates(&f)), min(mostTried, c.left))
	c.left, c.made = c.left-len(tried), c.made+len(tried)
	places := make([]*place, len(tried))
	err = each(cmp.Or(c.options.Jobs, defaultJobs), len(tried), func(i int) error {
		after, err := c.options.Recheck(ctx, tried[i].text, renamedIdentity(f.Identity(), tried[i].candidate.Renamed))
		if err != nil {
			return fmt.Errorf("check a changed plan: %w", err)
		}
		tried[i].after = after
		places[i] = c.step(&f, &tried[i])
		return nil
	})
	if err != nil {
		return false, err
	}
	best := c.pick(places)
	if best == nil {
		return false, nil
	}
	c.now = best
	return true, nil
}

// step is where a trial leads, nil when it does not settle its finding.
func (c *combiner) step(f *finding.Finding, t *trial) *place {
	if !judge(c.now.out.Findings, &t.after, f.Identity(), t.candidate.Renamed).gone {
		return nil
	}
	return &place{text: t.text, out: t.after, renamed: renamedTwice(c.now.renamed, t.candidate.Renamed), cost: c.now.cost + t.candidate.Cost,
		steps: append(slices.Clone(c.now.steps), Step{Settles: *f, Fix: t.fix(f)})}
}

// pick takes the place that is worth most: while no harm is allowed, the one whose
// step costs least for each hold that it settles.
func (c *combiner) pick(places []*place) *place {
	var best *place
	least := math.Inf(1)
	before := c.worth(c.now).holds
	for _, p := range places {
		if p == nil || c.been[string(p.text)] {
			continue
		}
		w := c.worth(p)
		if w.harm > 0 && c.daring == 0 {
			continue
		}
		rate := (p.cost - c.now.cost) / float64(max(1, settled(before)-settled(w.holds)))
		if c.daring > 0 {
			rate = holdPrice*float64(settled(w.holds)) + harmPrice*float64(w.harm) + p.cost - c.now.cost
		}
		if rate < least {
			best, least = p, rate
		}
	}
	return best
}

// What a hold, and a harm, that a place still has counts for against the cost of
// a step.
const (
	holdPrice = 200
	harmPrice = 60
)

// settled counts holds, dangers like the rest.
func settled(holds int) int { return holds/dangerWeight + holds%dangerWeight }

// prune takes out each step without which the rest does as well.
func (c *combiner) prune(ctx context.Context) error {
	for i := len(c.best.steps) - 2; i >= 0 && c.left > 0; i-- {
		without, ok := c.replay(i)
		if !ok {
			continue
		}
		c.left, c.made = c.left-1, c.made+1
		after, err := c.options.Recheck(ctx, without.text, finding.Identity{})
		if err != nil {
			return fmt.Errorf("check a changed plan: %w", err)
		}
		if without.out = after; after.Usable && better(c.worth(without), c.worth(c.best)) {
			c.best = without
		}
	}
	return nil
}

// replay makes the best place again without one of its steps. It is false when
// the later ones no longer fit.
func (c *combiner) replay(without int) (*place, bool) {
	out := &place{text: c.text, renamed: c.best.renamed}
	for i, step := range c.best.steps {
		if i == without {
			continue
		}
		text, err := Apply(out.text, step.Fix.Patch)
		if err != nil {
			return nil, false
		}
		out.text, out.cost = text, out.cost+step.Fix.Cost
		out.steps = append(out.steps, step)
	}
	return out, true
}
