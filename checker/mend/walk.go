package mend

import (
	"cmp"
	"context"
	"math"
	"slices"

	"duskproof/checker/finding"
)

const (
	// mostTried is how many candidates are compared for one finding, and
	// mostDaring for one where steps that do harm are allowed.
	mostTried     = 4
	mostTriedBold = 6
	// mostBold is how many steps are taken past the best place before giving up.
	mostBold = 10
)

// walk is one way from a place, settling a finding at each step.
type walk struct {
	*combiner
	now, best *place
	least     worth // of best
	// bold is how many steps were taken since steps that do harm are allowed;
	// nought while they are not.
	bold  int
	stuck map[finding.Identity]bool
	moved bool            // since stuck was last cleared
	been  map[string]bool // texts that were the plan on the way, or must not be
}

// walk settles what it can by steps that do no harm, the gravest finding first;
// for each it takes the change that costs least for each hold that goes with it.
// Then it takes steps that do harm as well, and puts that right by others, as
// long as that leads somewhere. It returns the best place without harm that it
// came to, and keeps away from the texts that are forbidden.
func (c *combiner) walk(ctx context.Context, from *place, forbidden ...[]byte) (*place, error) {
	w := &walk{combiner: c, now: from, best: from, least: c.worth(from), stuck: map[finding.Identity]bool{}, been: map[string]bool{}}
	if w.least.harm > 0 {
		w.least = nowhere
	}
	for _, text := range append(forbidden, from.text) {
		w.been[string(text)] = true
	}
	for c.left > 0 && w.bold <= mostBold {
		target, ok := w.next()
		if !ok && !w.again() {
			break
		}
		if !ok {
			continue
		}
		moved, err := w.settle(ctx, target)
		if err != nil {
			return nil, err
		}
		if w.stuck[target.Identity()] = !moved; moved {
			w.arrive()
		}
	}
	return w.best, nil
}

// again begins another round over the findings that nothing helped, with bolder
// steps. It is false when such a round changed nothing.
func (w *walk) again() bool {
	if w.bold > 0 && !w.moved {
		return false
	}
	w.bold, w.moved = max(1, w.bold), false
	clear(w.stuck)
	return true
}

// arrive notes the place that a step led to.
func (w *walk) arrive() {
	w.moved = true
	w.been[string(w.now.text)] = true
	worth := w.worth(w.now)
	switch {
	case better(worth, w.least):
		w.best, w.least, w.bold = w.now, worth, 0
	case w.bold > 0:
		w.bold++
		clear(w.stuck)
	}
}

// next is what to settle next: what holds the plan, and harm that a step did, the
// gravest first.
func (w *walk) next() (finding.Finding, bool) {
	harm := map[finding.Identity]bool{}
	for _, id := range w.harm(w.now) {
		harm[id] = true
	}
	var pending []finding.Finding
	for _, f := range w.now.out.Findings {
		id := f.Identity()
		if len(remedies[f.Rule]) > 0 && !w.stuck[id] && (f.Severity >= w.options.Hold || harm[id]) {
			pending = append(pending, f)
		}
	}
	if len(pending) == 0 {
		return finding.Finding{}, false
	}
	return slices.MinFunc(pending, func(a, b finding.Finding) int {
		return cmp.Or(cmp.Compare(b.Severity, a.Severity), finding.Compare(a, b))
	}), true
}

// settle tries the candidates for one finding side by side and takes the one that
// is worth most. False means that none is any good.
func (w *walk) settle(ctx context.Context, f finding.Finding) (bool, error) {
	s, err := newSearcher(w.now.text, w.now.out, w.options, w.memory)
	if err != nil {
		return false, err
	}
	most := mostTried
	if w.bold > 0 {
		most = mostTriedBold
	}
	tried := firsts(s.fitting(s.candidates(&f)), min(most, w.left))
	w.spend(len(tried))
	places := make([]*place, len(tried))
	err = each(cmp.Or(w.options.Jobs, defaultJobs), len(tried), func(i int) error {
		t := &tried[i]
		var err error
		t.after, err = w.check(ctx, t.text, renamedIdentity(f.Identity(), t.candidate.Renamed))
		places[i] = w.step(&f, t)
		return err
	})
	if err != nil {
		return false, err
	}
	best := w.pick(places)
	for i := range tried {
		w.memory.thin(tried[i].text)
	}
	if best == nil {
		return false, nil
	}
	w.now = best
	return true, nil
}

// step is where a trial leads, nil when it does not settle its finding.
func (w *walk) step(f *finding.Finding, t *trial) *place {
	if !judge(w.now.out.Findings, &t.after, f.Identity(), t.candidate.Renamed).gone {
		return nil
	}
	fix := t.fix(f)
	return &place{text: t.text, out: t.after, renamed: renamedTwice(w.now.renamed, t.candidate.Renamed),
		cost: w.now.cost + fix.Cost, steps: append(slices.Clone(w.now.steps), Step{Settles: *f, Fix: fix})}
}

// What a hold, and a harm, that a place still has counts for against the cost of
// a step.
const (
	holdPrice = 200
	harmPrice = 60
)

// pick takes the place that is worth most: while no harm is allowed, the one whose
// step costs least for each hold that it settles.
func (w *walk) pick(places []*place) *place {
	var best *place
	least := math.Inf(1)
	before := w.worth(w.now).number()
	for _, p := range places {
		if p == nil || w.been[string(p.text)] {
			continue
		}
		worth := w.worth(p)
		if worth.harm > 0 && w.bold == 0 {
			continue
		}
		rate := (p.cost - w.now.cost) / float64(max(1, before-worth.number()))
		if w.bold > 0 {
			rate = holdPrice*float64(worth.number()) + harmPrice*float64(worth.harm) + p.cost - w.now.cost
		}
		if rate < least {
			best, least = p, rate
		}
	}
	return best
}
