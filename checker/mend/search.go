package mend

import (
	"cmp"
	"context"
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
	// scarce is true while there are too few checks for all findings: what may
	// settle several comes first then.
	scarce bool
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
	tried  int // candidates
	spent  int // checks
}

// sideBySide is how many candidates are checked at a time, and how many findings
// are searched at a time while checks are scarce. It does not depend on the
// machine, so that the outcome does not either.
const sideBySide = 2

// abreast is how many candidates for one finding are checked at a time.
func (s *searcher) abreast() int {
	if s.scarce {
		return 1
	}
	return sideBySide
}

// one tries the candidates for one finding, the cheapest first, until enough
// are proved or the budget ends. When none is, it tries to put right what the
// most promising ones made worse.
func (s *searcher) one(ctx context.Context, f *finding.Finding, budget, offers int) (search, error) {
	var out search
	var near, batch []trial
	kinds := map[string]bool{}
	next, stop := iter.Pull(s.fitting(s.candidates(f)))
	defer stop()
	for more := true; more && out.spent < budget && len(out.proved) < offers; {
		for batch = batch[:0]; len(batch) < min(s.abreast(), budget-out.spent) && more; {
			var t trial
			if t, more = next(); more && !kinds[t.candidate.Kind] {
				batch = append(batch, t)
			}
		}
		verdicts, err := s.try(ctx, f, batch, &out)
		if err != nil {
			return out, err
		}
		for i, t := range batch {
			switch {
			case verdicts[i].proved() && !kinds[t.candidate.Kind] && len(out.proved) < offers:
				kinds[t.candidate.Kind] = true
				out.proved = append(out.proved, t)
			case verdicts[i].gone && !verdicts[i].proved():
				t.harm = verdicts[i].harm
				near = append(near, t)
			}
		}
	}
	if len(out.proved) > 0 {
		return out, nil
	}
	return out, s.second(ctx, f, near, &out, budget)
}

// try checks candidates side by side. Those that come near keep their facts.
func (s *searcher) try(ctx context.Context, f *finding.Finding, batch []trial, out *search) ([]verdict, error) {
	verdicts := make([]verdict, len(batch))
	fresh := make([]bool, len(batch))
	err := each(cmp.Or(s.options.Jobs, defaultJobs), len(batch), func(i int) error {
		t := &batch[i]
		target := renamedIdentity(f.Identity(), t.candidate.Renamed)
		var err error
		t.after, fresh[i], err = s.memory.check(ctx, s.options.Recheck, t.text, target, false)
		if err != nil {
			return err
		}
		verdicts[i] = judge(s.base.Findings, &t.after, f.Identity(), t.candidate.Renamed)
		if !verdicts[i].proved() {
			s.memory.thin(t.text)
			return nil
		}
		if t.after.Facts == nil {
			t.after, fresh[i], err = s.memory.check(ctx, s.options.Recheck, t.text, target, true)
		}
		return err
	})
	out.tried += len(batch)
	for _, was := range fresh {
		if was {
			out.spent++
		}
	}
	return verdicts, err
}

const (
	// mostNear is how many candidates that did harm are followed, and
	// mostSecond how many changes are tried to put right what each did.
	mostNear   = 2
	mostSecond = 4
)

// second looks for a second change that puts right what a first one made worse, so
// that both together are proved.
func (s *searcher) second(ctx context.Context, f *finding.Finding, near []trial, out *search, budget int) error {
	slices.SortStableFunc(near, func(a, b trial) int { return cmp.Compare(len(a.harm), len(b.harm)) })
	for i := range near[:min(len(near), mostNear)] {
		first := &near[i]
		if out.spent+1 >= budget {
			return nil
		}
		if first.after.Facts == nil {
			var err error
			if first.after, _, err = s.memory.check(ctx, s.options.Recheck, first.text, finding.Identity{}, true); err != nil {
				return err
			}
			out.spent++
		}
		after, err := newSearcher(first.text, first.after, s.options, s.memory)
		if err != nil {
			return err
		}
		harmed := first.after.find(first.harm[0])
		if harmed == nil {
			continue
		}
		var batch []trial
		for _, t := range firsts(after.fitting(after.candidates(harmed)), min(mostSecond, budget-out.spent)) {
			batch = append(batch, trial{candidate: joined(&first.candidate, &t.candidate), text: t.text})
		}
		verdicts, err := s.try(ctx, f, batch, out)
		if err != nil {
			return err
		}
		for k, v := range verdicts {
			if v.proved() {
				out.proved = append(out.proved, batch[k])
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

// candidates are those for one finding, the cheapest first; while checks are
// scarce, the cheapest of those that may settle several.
func (s *searcher) candidates(f *finding.Finding) []Candidate {
	var out []Candidate
	for _, r := range remedies[f.Rule] {
		out = append(out, r(s.view, f)...)
	}
	slices.SortStableFunc(out, func(a, b Candidate) int {
		if s.scarce && a.Wide != b.Wide {
			return cmp.Compare(wide(&b), wide(&a))
		}
		return cmp.Or(cmp.Compare(a.Cost, b.Cost), cmp.Compare(a.Text, b.Text))
	})
	return out
}

func wide(c *Candidate) int {
	if c.Wide {
		return 1
	}
	return 0
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
