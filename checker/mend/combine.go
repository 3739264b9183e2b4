package mend

import (
	"cmp"
	"context"
	"fmt"
	"math"
	"slices"

	"github.com/tailscale/hujson"

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
	memory  *memory
	another int // how many steps may still be looked at for something cheaper
}

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
// plan as the changes before left it; see walk. Then it takes out every change
// that the others made needless, and looks for something cheaper in place of
// the dearest ones.
//
// The whole set is proved like a single fix: measured against the plan as it
// was, no finding at advice or above has come and none grew worse. When no set
// leaves the plan without holds, the one that leaves fewest is returned.
func Combine(ctx context.Context, text []byte, base Outcome, options Options) (Combined, error) {
	c := &combiner{options: options, text: text, base: base, memory: newMemory(), another: mostImproved}
	best := &place{text: text, out: base}
	if base.Usable {
		if c.left = options.Budget; c.left <= 0 {
			c.left = DefaultBudget(len(base.Plan.Fixtures))
		}
		var err error
		if best, err = c.search(ctx, best); err != nil {
			return Combined{}, err
		}
	}
	out := Combined{Text: best.text, Steps: best.steps, Cost: best.cost, After: best.out, Checks: c.made}
	for _, f := range best.out.Findings {
		if f.Severity >= options.Hold {
			out.Remaining = append(out.Remaining, f)
		}
	}
	return out, nil
}

// search walks from the plan as it was, prunes, and improves.
func (c *combiner) search(ctx context.Context, start *place) (*place, error) {
	best, err := c.walk(ctx, start)
	if err == nil {
		best, err = c.prune(ctx, best)
	}
	if err != nil {
		return nil, err
	}
	return c.improve(ctx, best)
}

// check checks a text in full or until a target is seen to stand.
func (c *combiner) check(ctx context.Context, text []byte, target finding.Identity) (Outcome, error) {
	out, _, err := c.memory.check(ctx, c.options.Recheck, text, target, true)
	return out, err
}

// spend takes up to n checks from what is left.
func (c *combiner) spend(n int) int {
	n = min(n, c.left)
	c.left, c.made = c.left-n, c.made+n
	return n
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

// number is how many holds there are, dangers counted like the rest.
func (w worth) number() int { return w.holds/dangerWeight + w.holds%dangerWeight }

// better reports whether a place does no harm and leaves fewer holds, or as few
// for less.
func better(a, than worth) bool {
	return a.harm == 0 && (a.holds < than.holds || a.holds == than.holds && a.cost < than.cost-nothing)
}

// prune takes out each step without which the rest does as well, the dearest first.
// A step that is needed is not looked at again when others are gone.
func (c *combiner) prune(ctx context.Context, best *place) (*place, error) {
	order := best.dearest()
	for len(order) > 0 && len(best.steps) > 1 && c.left > 0 {
		shorter, err := c.without(ctx, best, order[:c.spend(len(order))])
		if err != nil {
			return nil, err
		}
		var next []int
		var found *place
		gone := -1
		for k, p := range shorter {
			switch {
			case p == nil || !better(c.worth(p), c.worth(best)):
			case found == nil:
				found, gone = p, order[k]
			default:
				next = append(next, order[k])
			}
		}
		if found == nil {
			break
		}
		best = found
		for k := range next {
			if next[k] > gone {
				next[k]--
			}
		}
		order = next
	}
	return best, nil
}

// without checks a place with each of some steps left out; nil where the rest does
// not fit then.
func (c *combiner) without(ctx context.Context, p *place, steps []int) ([]*place, error) {
	out := make([]*place, len(steps))
	err := each(cmp.Or(c.options.Jobs, defaultJobs), len(steps), func(i int) error {
		again, whole, err := c.replay(p, steps[i])
		if err != nil || !whole {
			return err
		}
		if again.out, err = c.check(ctx, again.text, finding.Identity{}); err == nil && again.out.Usable {
			out[i] = again
		}
		return err
	})
	return out, err
}

// dearest are the steps of a place by index, the dearest first.
func (p *place) dearest() []int {
	order := make([]int, len(p.steps))
	for i := range order {
		order[i] = i
	}
	slices.SortStableFunc(order, func(a, b int) int { return cmp.Compare(p.steps[b].Fix.Cost, p.steps[a].Fix.Cost) })
	return order
}

// replay makes a place again without one of its steps. Later steps that no longer
// fit without it are left out as well; whole is false then.
func (c *combiner) replay(p *place, without int) (again *place, whole bool, err error) {
	tree, err := hujson.Parse(c.text)
	if err != nil {
		return nil, false, fmt.Errorf("read the plan: %w", err)
	}
	again, whole = &place{renamed: p.renamed}, true
	for i, step := range p.steps {
		if i == without {
			continue
		}
		intact, err := applyTo(&tree, step.Fix.Patch)
		switch {
		case err == nil:
			again.cost += step.Fix.Cost
			again.steps = append(again.steps, step)
		case intact:
			whole = false
		default:
			return nil, false, fmt.Errorf("apply a fix again: %w", err)
		}
	}
	again.text = tree.Pack()
	return again, whole, nil
}

// mostImproved is how many steps are looked at for something cheaper.
const mostImproved = 2

// overtaken are the steps that set what a later step sets again.
func (p *place) overtaken() []int {
	var out []int
	last := map[string]int{}
	for i, step := range p.steps {
		for _, op := range step.Fix.Patch {
			if op.Op != "replace" {
				continue
			}
			if before, again := last[op.Path]; again && !slices.Contains(out, before) {
				out = append(out, before)
			}
			last[op.Path] = i
		}
	}
	return out
}

// improve takes out steps, one at a time, and walks on from there another way: those
// that were overtaken, then the dearest.
func (c *combiner) improve(ctx context.Context, best *place) (*place, error) {
	overtaken := best.overtaken()
	order := append(overtaken, best.dearest()...)
	for k, i := range order {
		if c.another--; c.another < 0 || c.spend(1) == 0 {
			break
		}
		without, _, err := c.replay(best, i)
		if err == nil {
			without.out, err = c.check(ctx, without.text, finding.Identity{})
		}
		if err != nil {
			return nil, err
		}
		if !without.out.Usable {
			continue
		}
		forbidden := [][]byte{best.text}
		if k < len(overtaken) {
			forbidden = nil // it is to be reached in fewer steps
		}
		other, err := c.walk(ctx, without, forbidden...)
		if err != nil {
			return nil, err
		}
		if !better(c.worth(other), c.worth(best)) {
			continue
		}
		if other, err = c.prune(ctx, other); err != nil {
			return nil, err
		}
		return c.improve(ctx, other)
	}
	return best, nil
}

// nowhere is worse than any place.
var nowhere = worth{holds: math.MaxInt, harm: math.MaxInt, cost: math.Inf(1)}
