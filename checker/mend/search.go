package mend

import (
	"cmp"
	"context"
	"fmt"
	"slices"
	"sync"

	"duskproof/checker/finding"
)

// searcher tries candidates on one plan.
type searcher struct {
	options Options
	text    []byte
	base    Outcome
	view    *view
	memory  *memory
}

// memory keeps the outcome of each text that was checked, so that two findings
// with one fix cost one check.
type memory struct {
	mu   sync.Mutex
	made map[string]*attempt
}

// attempt is one check, made once.
type attempt struct {
	once sync.Once
	out  Outcome
	err  error
}

func newMemory() *memory { return &memory{made: map[string]*attempt{}} }

func (m *memory) check(ctx context.Context, recheck Recheck, text []byte) (Outcome, error) {
	m.mu.Lock()
	a := m.made[string(text)]
	if a == nil {
		a = &attempt{}
		m.made[string(text)] = a
	}
	m.mu.Unlock()
	a.once.Do(func() { a.out, a.err = recheck(ctx, text) })
	return a.out, a.err
}

func newSearcher(text []byte, base Outcome, options Options, memory *memory) (*searcher, error) {
	v, err := newView(text, base)
	if err != nil {
		return nil, err
	}
	return &searcher{options: options, text: text, base: base, view: v, memory: memory}, nil
}

// trial is a candidate that was proved: the text it makes, and the check of it.
type trial struct {
	candidate Candidate
	text      []byte
	after     Outcome
}

// fix is the trial as a finding carries it.
func (t *trial) fix(f *finding.Finding) finding.Fix {
	text := t.candidate.Text
	if so := result(f, &t.after, t.candidate.Renamed); so != "" {
		text += "; " + so
	}
	return finding.Fix{Text: text, Proved: true, Cost: t.candidate.Cost, Patch: t.candidate.Patch}
}

// search is what was found for one finding.
type search struct {
	proved []trial
	tried  int
}

// one tries the candidates for one finding, the cheapest first, until enough
// are proved or the budget ends.
func (s *searcher) one(ctx context.Context, f *finding.Finding, budget, offers int) (search, error) {
	var out search
	kinds := map[string]bool{}
	seen := map[string]bool{string(s.text): true}
	for _, c := range s.candidates(f) {
		if kinds[c.Kind] {
			continue
		}
		if out.tried >= budget || len(out.proved) >= offers {
			break
		}
		text, err := Apply(s.text, c.Patch)
		if err != nil || seen[string(text)] {
			continue // it does not fit this plan, or changes nothing new
		}
		seen[string(text)] = true
		out.tried++
		after, err := s.memory.check(ctx, s.options.Recheck, text)
		if err != nil {
			return out, fmt.Errorf("check a changed plan: %w", err)
		}
		if judge(s.base.Findings, &after, f.Identity(), c.Renamed).proved() {
			kinds[c.Kind] = true
			out.proved = append(out.proved, trial{c, text, after})
		}
	}
	return out, nil
}

// candidates are those for one finding, the cheapest first.
func (s *searcher) candidates(f *finding.Finding) []Candidate {
	var out []Candidate
	for _, r := range remedies[f.Rule] {
		out = append(out, r(s.view, f)...)
	}
	slices.SortStableFunc(out, func(a, b Candidate) int {
		return cmp.Or(cmp.Compare(a.Cost, b.Cost), cmp.Compare(a.Text, b.Text))
	})
	return out
}

// share is how many candidates each of so many findings may have checked. A
// finding's share does not depend on how many the others use, so that the
// fixes do not depend on the order of work.
func (o *Options) share(fixtures, findings int) int {
	budget := o.Budget
	if budget <= 0 {
		budget = DefaultBudget(fixtures)
	}
	return min(mostForOne, max(leastForOne, budget/max(1, findings)))
}

// each runs work for every index, so many side by side, and returns the first
// error by index.
func each(jobs, n int, work func(i int) error) error {
	errs := make([]error, n)
	next := make(chan int)
	var wait sync.WaitGroup
	for range min(max(1, jobs), n) {
		wait.Go(func() {
			for i := range next {
				errs[i] = work(i)
			}
		})
	}
	for i := range n {
		next <- i
	}
	close(next)
	wait.Wait()
	for _, err := range errs {
		if err != nil {
			return err
		}
	}
	return nil
}

// Prove returns the findings of a plan with the fixes that were proved, in order
// of rising cost. A finding for which none was proved keeps its hint, which says
// so when something was tried.
func Prove(ctx context.Context, text []byte, base Outcome, options Options) ([]finding.Finding, error) {
	out := slices.Clone(base.Findings)
	if !base.Usable {
		return out, nil
	}
	s, err := newSearcher(text, base, options, newMemory())
	if err != nil {
		return nil, err
	}
	var todo []int
	for i := range out {
		if out[i].Severity >= finding.Advice && len(remedies[out[i].Rule]) > 0 {
			todo = append(todo, i)
		}
	}
	budget := options.share(len(base.Plan.Fixtures), len(todo))
	err = each(cmp.Or(options.Jobs, defaultJobs), len(todo), func(i int) error {
		f := &out[todo[i]]
		found, err := s.one(ctx, f, budget, cmp.Or(options.Offers, defaultOffers))
		f.Fixes = fixes(f, &found)
		return err
	})
	return out, err
}

// fixes are what was proved, else the hint.
func fixes(f *finding.Finding, found *search) []finding.Fix {
	var out []finding.Fix
	for i := range found.proved {
		out = append(out, found.proved[i].fix(f))
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
