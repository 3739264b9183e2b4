package mend

import (
	"cmp"
	"context"
	"slices"

	"duskproof/checker/finding"
)

// Prove returns the findings of a plan with the fixes that were proved, in order
// of rising cost. A finding for which none was proved keeps its hint, which says
// so when something was tried, or when no check was left to try it.
//
// A change that was proved for one finding is looked at for all others: its check
// was one of the whole plan, so it says of each whether that is gone as well.
// Findings that no change has settled yet come first, so that those with one
// cause cost one search. Among those of one severity the rules take turns, and a
// rule whose findings nothing helped waits.
func Prove(ctx context.Context, text []byte, base Outcome, options Options) ([]finding.Finding, error) {
	out := slices.Clone(base.Findings)
	if !base.Usable {
		return out, nil
	}
	s, err := newSearcher(text, base, options, newMemory())
	if err != nil {
		return nil, err
	}
	p := prover{searcher: s, pending: worthProving(out), shared: map[int]finding.Fix{}, searched: map[string]int{}, failed: map[string]int{},
		left: cmp.Or(options.Budget, ProvingBudget(len(base.Plan.Fixtures)))}
	for len(p.pending) > 0 {
		batch, found, err := p.search(ctx)
		if err != nil {
			return nil, err
		}
		for k, i := range batch {
			p.learn(i, &found[k])
		}
		for k, i := range batch {
			out[i].Fixes = p.fixes(i, &found[k])
		}
	}
	return out, nil
}

// search takes findings out of those to do and looks for fixes for them: for one,
// or for several side by side while checks are scarce.
func (p *prover) search(ctx context.Context) (batch []int, found []search, err error) {
	p.scarce = p.left < leastForOne*(len(p.pending)-1)
	offers, n := cmp.Or(p.options.Offers, defaultOffers), 1
	if p.scarce {
		offers, n = 1, sideBySide
	}
	budget := allowance(p.left/n, len(p.pending))
	for range min(n, len(p.pending)) {
		batch = append(batch, p.next())
	}
	found = make([]search, len(batch))
	if budget <= 0 {
		for k := range found {
			found[k].tried = 1 // so that the hint says that nothing is proved
		}
		return batch, found, nil
	}
	layers := make([]searcher, len(batch))
	err = each(cmp.Or(p.options.Jobs, defaultJobs), len(batch), func(k int) error {
		layers[k] = *p.searcher
		layers[k].memory = p.memory.layer()
		var err error
		found[k], err = layers[k].one(ctx, &p.base.Findings[batch[k]], budget, offers)
		return err
	})
	if err != nil {
		return nil, nil, err
	}
	for k := range layers {
		p.memory.learn(layers[k].memory)
	}
	return batch, found, nil
}

// prover proves fixes for the findings of one plan.
type prover struct {
	*searcher
	pending []int // findings by index, the gravest first
	left    int   // checks
	// shared are the changes that were proved for other findings and settle
	// these as well, the cheapest for each.
	shared map[int]finding.Fix
	// searched and failed count the searches for findings of a rule, and those
	// of them that proved nothing.
	searched, failed map[string]int
}

// next takes the finding out of those to do that is to be looked at next.
func (p *prover) next() int {
	rank := func(i int) []int {
		f := &p.base.Findings[i]
		shared := 0
		if _, has := p.shared[i]; has {
			shared = 1
		}
		return []int{shared, -int(f.Severity), p.failed[f.Rule], p.searched[f.Rule]}
	}
	best := 0
	for k := 1; k < len(p.pending); k++ {
		if slices.Compare(rank(p.pending[k]), rank(p.pending[best])) < 0 {
			best = k
		}
	}
	i := p.pending[best]
	p.pending = slices.Delete(p.pending, best, best+1)
	p.searched[p.base.Findings[i].Rule]++
	return i
}

// learn counts what a search for one finding cost, and looks what it settles
// besides.
func (p *prover) learn(i int, found *search) {
	p.left -= found.spent
	if len(found.proved) == 0 {
		p.failed[p.base.Findings[i].Rule]++
	}
	for k := range found.proved {
		t := &found.proved[k]
		for _, other := range p.pending {
			f := &p.base.Findings[other]
			known, has := p.shared[other]
			if has && known.Cost <= t.candidate.Cost {
				continue
			}
			if judge(p.base.Findings, &t.after, f.Identity(), t.candidate.Renamed).proved() {
				p.shared[other] = t.fix(f)
			}
		}
	}
}

// fixes are what was proved for a finding, else what was proved for another and
// settles it as well, else the hint.
func (p *prover) fixes(i int, found *search) []finding.Fix {
	f := &p.base.Findings[i]
	var out []finding.Fix
	for k := range found.proved {
		out = append(out, found.proved[k].fix(f))
	}
	if shared, has := p.shared[i]; has && len(out) == 0 {
		out = append(out, shared)
	}
	if len(out) > 0 {
		return out
	}
	for _, hint := range f.Fixes {
		if found.tried > 0 {
			hint.Text += notProved
		}
		out = append(out, hint)
	}
	return out
}

// notProved is added to a hint when changes were tried and none held.
const notProved = " (not proved)"

// allowance is how many of the checks that are left one of so many findings may
// use: more than its share, since findings with one cause cost one search.
func allowance(left, findings int) int {
	return min(left, mostForOne, max(leastForOne, 3*left/max(1, findings)))
}

// worthProving are the findings at advice or above that have candidates, by index,
// the gravest first.
func worthProving(findings []finding.Finding) []int {
	var out []int
	for i := range findings {
		if findings[i].Severity >= finding.Advice && len(remedies[findings[i].Rule]) > 0 {
			out = append(out, i)
		}
	}
	slices.SortStableFunc(out, func(a, b int) int { return cmp.Compare(findings[b].Severity, findings[a].Severity) })
	return out
}
