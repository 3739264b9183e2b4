package mend

import (
	"cmp"
	"context"
	"fmt"
	"iter"
	"maps"
	"math"
	"slices"
	"strings"
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
	mu    sync.Mutex
	known map[string]*checked
}

// checked is the latest check of one text: in full, or one that ended early.
type checked struct {
	mu   sync.Mutex
	done bool
	out  Outcome
}

func newMemory() *memory { return &memory{known: map[string]*checked{}} }

func (m *memory) of(text []byte) *checked {
	m.mu.Lock()
	defer m.mu.Unlock()
	c := m.known[string(text)]
	if c == nil {
		c = &checked{}
		m.known[string(text)] = c
	}
	return c
}

// check checks a text unless it is known already how the target stands.
func (m *memory) check(ctx context.Context, recheck Recheck, text []byte, target finding.Identity) (Outcome, error) {
	c := m.of(text)
	c.mu.Lock()
	defer c.mu.Unlock()
	if c.done && (c.out.Early == nil || c.out.Early.Made[target]) {
		return c.out, nil
	}
	out, err := recheck(ctx, text, target)
	if err == nil {
		c.done, c.out = true, out
	}
	return out, err
}

func newSearcher(text []byte, base Outcome, options Options, memory *memory) (*searcher, error) {
	v, err := newView(text, base)
	if err != nil {
		return nil, err
	}
	return &searcher{options: options, text: text, base: base, view: v, memory: memory}, nil
}

// trial is a candidate with the text that it makes and the check of that.
type trial struct {
	candidate Candidate
	text      []byte
	after     Outcome
	harm      []finding.Identity // what it made worse
}

// fix is the trial as a finding carries it.
func (t *trial) fix(f *finding.Finding) finding.Fix {
	text := t.candidate.Text
	if so := result(f, &t.after, t.candidate.Renamed); so != "" {
		text += "; " + so
	}
	return finding.Fix{Text: text, Proved: true, Cost: math.Round(t.candidate.Cost*100) / 100, Patch: t.candidate.Patch}
}

// search is what was found for one finding.
type search struct {
	proved []trial
	tried  int
}

// one tries the candidates for one finding, the cheapest first, until enough
// are proved or the budget ends. When none is, it tries to put right what the
// most promising ones made worse.
func (s *searcher) one(ctx context.Context, f *finding.Finding, budget, offers int) (search, error) {
	var out search
	var near []trial
	kinds := map[string]bool{}
	for t := range s.fitting(s.candidates(f)) {
		if kinds[t.candidate.Kind] {
			continue
		}
		if out.tried >= budget || len(out.proved) >= offers {
			break
		}
		out.tried++
		v, err := s.try(ctx, f, &t)
		if err != nil {
			return out, err
		}
		switch {
		case v.proved():
			kinds[t.candidate.Kind] = true
			out.proved = append(out.proved, t)
		case v.gone:
			t.harm = v.harm
			near = append(near, t)
		}
	}
	if len(out.proved) > 0 {
		return out, nil
	}
	return out, s.second(ctx, f, near, &out, budget)
}

// try checks a candidate.
func (s *searcher) try(ctx context.Context, f *finding.Finding, t *trial) (verdict, error) {
	after, err := s.memory.check(ctx, s.options.Recheck, t.text, renamedIdentity(f.Identity(), t.candidate.Renamed))
	if err != nil {
		return verdict{}, fmt.Errorf("check a changed plan: %w", err)
	}
	t.after = after
	return judge(s.base.Findings, &after, f.Identity(), t.candidate.Renamed), nil
}

const (
	// mostNear is how many candidates that did harm are followed, and
	// mostSecond how many changes are tried to put right what each did.
	mostNear   = 2
	mostSecond = 3
)

// second looks for a second change that puts right what a first one made worse, so
// that both together are proved.
func (s *searcher) second(ctx context.Context, f *finding.Finding, near []trial, out *search, budget int) error {
	slices.SortStableFunc(near, func(a, b trial) int { return cmp.Compare(len(a.harm), len(b.harm)) })
	for i := range near[:min(len(near), mostNear)] {
		first := &near[i]
		after, err := newSearcher(first.text, first.after, s.options, s.memory)
		if err != nil {
			return err
		}
		harmed := first.after.find(first.harm[0])
		if harmed == nil {
			continue
		}
		for _, t := range firsts(after.fitting(after.candidates(harmed)), mostSecond) {
			if out.tried >= budget+mostSecond {
				return nil
			}
			out.tried++
			both := trial{candidate: joined(&first.candidate, &t.candidate), text: t.text}
			v, err := s.try(ctx, f, &both)
			if err != nil {
				return err
			}
			if v.proved() {
				out.proved = append(out.proved, both)
				return nil
			}
		}
	}
	return nil
}

// joined is a candidate that makes two changes, one after the other.
func joined(a, b *Candidate) Candidate {
	return Candidate{Kind: a.Kind + " and " + b.Kind, Text: a.Text + ", and " + lowerFirst(b.Text), Cost: a.Cost + b.Cost,
		Patch: slices.Concat(a.Patch, b.Patch), Renamed: renamedTwice(a.Renamed, b.Renamed)}
}

// renamedTwice is what two changes of ids, one after the other, make of each id.
func renamedTwice(first, then map[string]string) map[string]string {
	out := maps.Clone(then)
	if out == nil {
		out = map[string]string{}
	}
	for from, to := range first {
		if next, again := then[to]; again {
			to = next
		}
		out[from] = to
	}
	return out
}

func lowerFirst(text string) string { return strings.ToLower(text[:1]) + text[1:] }

// fitting applies candidates and yields those that fit the plan and make a text
// that none before them makes.
func (s *searcher) fitting(candidates []Candidate) iter.Seq[trial] {
	return func(yield func(trial) bool) {
		seen := map[string]bool{string(s.text): true}
		for _, c := range candidates {
			tree := s.view.tree.Clone()
			if _, err := applyTo(&tree, c.Patch); err != nil {
				continue
			}
			text := tree.Pack()
			if seen[string(text)] {
				continue
			}
			seen[string(text)] = true
			if !yield(trial{candidate: c, text: text}) {
				return
			}
		}
	}
}

// firsts are at most n values of a sequence.
func firsts[T any](all iter.Seq[T], n int) []T {
	var out []T
	for item := range all {
		if len(out) >= n {
			break
		}
		out = append(out, item)
	}
	return out
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
