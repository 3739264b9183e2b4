package mend_test

import (
	"cmp"
	"context"
	"fmt"
	"maps"
	"math/rand/v2"
	"slices"
	"sync"
	"testing"

	"duskproof/checker"
	"duskproof/checker/finding"
	"duskproof/checker/mend"
	"duskproof/checker/plan"
	"duskproof/checker/report"
)

const (
	// wantedMistakes is how many plans with a mistake are mended.
	wantedMistakes = 348
	// leastOverall and leastPerRule are the shares of findings with numbers for
	// which a fix must be proved.
	leastOverall = 0.90
	leastPerRule = 0.70
	// fewest is how many findings of a rule say something about its share.
	fewest = 4
	// mostPlans is how many plans are tried for one mistake.
	mostPlans = 12
)

// mistaken is a good plan with one mistake in it.
type mistaken struct {
	sample
	kind   string
	before []finding.Finding // of the good plan
	result report.Plan       // of the plan with the mistake
}

// TestMistakesAreMended makes seeded mistakes in good plans, of each kind that a
// rule looks for, and holds what is promised of a proved fix: applied, its
// finding is gone, no new one at advice or above has come and none grew worse.
// For most findings that are about a number, one is proved.
func TestMistakesAreMended(t *testing.T) {
	c := newChecker(t)
	all := makeMistakes(t, c)
	tally := &tally{found: map[string]int{}, mended: map[string]int{}}
	var wait sync.WaitGroup
	next := make(chan *mistaken)
	for range 2 {
		wait.Go(func() {
			for m := range next {
				mendOne(t, c, m, tally)
			}
		})
	}
	for i := range all {
		next <- &all[i]
	}
	close(next)
	wait.Wait()
	tally.judge(t, len(all))
}

// makeMistakes makes the plans; each has a finding that the good plan had not.
func makeMistakes(t *testing.T, c *checker.Checker) []mistaken {
	t.Helper()
	var kinds []string
	for kind := range mistakes {
		kinds = append(kinds, kind)
	}
	slices.Sort(kinds)
	type base struct {
		sample
		result report.Plan
	}
	var bases []base
	for _, s := range goodPlans(t) {
		if text := stocked(t, &s); text != nil {
			s.text = text
			if result := check(t, c, &s, text); clean(&result) {
				bases = append(bases, base{s, result})
			}
		}
	}
	rng := rand.New(rand.NewPCG(7, 348))
	var out []mistaken
	for try := 0; len(out) < wantedMistakes && try < 10*wantedMistakes; try++ {
		kind := kinds[try%len(kinds)]
		for range mostPlans { // until one has room for the mistake
			b := &bases[rng.IntN(len(bases))]
			doc, err := plan.Decode(b.text)
			if err != nil {
				t.Fatal(err)
			}
			ops := mistakes[kind](&subject{rng, doc, b.result.Model})
			text, err := mend.Apply(b.text, ops)
			if err != nil || len(ops) == 0 {
				continue
			}
			m := mistaken{sample{b.name, text, b.fs}, kind, b.result.Findings, report.Plan{}}
			if m.result = check(t, c, &m.sample, text); len(m.result.Problems) == 0 && len(fresh(&m)) > 0 {
				out = append(out, m)
				break
			}
		}
	}
	if len(out) < 300 {
		t.Fatalf("%d mistakes made, fewer than 300", len(out))
	}
	return out
}

// clean reports whether a plan has cautions at most.
func clean(p *report.Plan) bool {
	return len(p.Problems) == 0 && !slices.ContainsFunc(p.Findings, func(f finding.Finding) bool { return f.Severity >= finding.Advice })
}

// fresh are the findings at advice or above that the mistake brought.
func fresh(m *mistaken) []finding.Finding {
	old := map[finding.Identity]bool{}
	for i := range m.before {
		old[m.before[i].Identity()] = true
	}
	var out []finding.Finding
	for _, f := range m.result.Findings {
		if f.Severity >= finding.Advice && !old[f.Identity()] {
			out = append(out, f)
		}
	}
	return out
}

// mendOne proves fixes for one mistake and tries each that is offered.
func mendOne(t *testing.T, c *checker.Checker, m *mistaken, tally *tally) {
	result := m.result
	if err := c.Prove(context.Background(), m.input(m.text), &result); err != nil {
		t.Errorf("%s, %s: %v", m.name, m.kind, err)
		return
	}
	brought := map[finding.Identity]bool{}
	for _, f := range fresh(m) {
		brought[f.Identity()] = true
	}
	for i := range result.Findings {
		f := &result.Findings[i]
		proved := 0
		for _, fix := range f.Fixes {
			if fix.Proved {
				proved++
				tryFix(t, c, m, f, &fix)
			}
		}
		if brought[f.Identity()] && f.Value != nil && f.Limit != nil && slices.Contains(mend.Rules(), f.Rule) {
			tally.count(m, f, proved > 0)
		}
	}
}

// tryFix applies a fix that is said to be proved, to the plan with the mistake,
// and checks what comes of it in full.
func tryFix(t *testing.T, c *checker.Checker, m *mistaken, f *finding.Finding, fix *finding.Fix) {
	text, err := mend.Apply(m.text, fix.Patch)
	if err != nil {
		t.Errorf("%s, %s: %s: %v", m.name, m.kind, fix.Text, err)
		return
	}
	after, err := c.Check(context.Background(), m.input(text))
	if err != nil || len(after.Problems) > 0 {
		t.Errorf("%s, %s: after %s: %v, problems %v", m.name, m.kind, fix.Text, err, after.Problems)
		return
	}
	grave, matters, rules := map[string]finding.Severity{}, map[string]finding.Severity{}, map[string]finding.Severity{}
	for i := range m.result.Findings {
		o := &m.result.Findings[i]
		grave[key(o)] = o.Severity
		rules[o.Rule] = max(rules[o.Rule], o.Severity)
		matters[o.Rule+" "+o.Element] = max(matters[o.Rule+" "+o.Element], o.Severity)
	}
	left := map[string]finding.Severity{}
	for i := range after.Findings {
		n := &after.Findings[i]
		left[n.Rule+" "+n.Element] = max(left[n.Rule+" "+n.Element], n.Severity)
	}
	for i := range after.Findings {
		n := &after.Findings[i]
		was, known := grave[key(n)]
		switch {
		case n.Identity() == f.Identity():
			t.Errorf("%s, %s: %s %s stays after %s", m.name, m.kind, f.Rule, f.Element, fix.Text)
		case n.Severity < finding.Advice || n.Rule == "plan.short-take-off":
		case !known && left[n.Rule+" "+n.Element] < matters[n.Rule+" "+n.Element]: // a graver finding of the rule hid it
		case !known && m.result.Model.Elements[n.Element] == nil && rules[n.Rule] >= n.Severity: // the part of a run that was split off takes its findings along
		case !known, known && n.Severity > was:
			t.Errorf("%s, %s: %s brings %s %s at %s (%s)", m.name, m.kind, fix.Text, n.Severity, n.Rule, n.Element, n.Case)
		}
	}
}

func key(f *finding.Finding) string { return fmt.Sprint(f.Identity()) }

// tally counts findings with numbers and those for which a fix was proved.
type tally struct {
	mu            sync.Mutex
	found, mended map[string]int
	missed        []string
}

func (y *tally) count(m *mistaken, f *finding.Finding, mended bool) {
	y.mu.Lock()
	defer y.mu.Unlock()
	y.found[f.Rule]++
	if mended {
		y.mended[f.Rule]++
		return
	}
	y.missed = append(y.missed, fmt.Sprintf("%s: %s, %s: %s", f.Rule, m.name, m.kind, f.Message))
}

// judge prints the share of each rule and holds the least.
func (y *tally) judge(t *testing.T, mistakes int) {
	found, mended := 0, 0
	for _, rule := range slices.Sorted(maps.Keys(y.found)) {
		n, m := y.found[rule], y.mended[rule]
		found, mended = found+n, mended+m
		t.Logf("%-26s %4d findings, %3.0f %% with a proved fix", rule, n, 100*float64(m)/float64(n))
		if n >= fewest && float64(m) < leastPerRule*float64(n) {
			t.Errorf("%s: a fix is proved for %d of %d findings", rule, m, n)
		}
	}
	t.Logf("%d plans with a mistake, %d findings with numbers, a fix proved for %.1f %%", mistakes, found, 100*float64(mended)/float64(found))
	if float64(mended) < leastOverall*float64(found) {
		t.Errorf("a fix is proved for %d of %d findings", mended, found)
	}
	slices.SortFunc(y.missed, func(a, b string) int { return cmp.Compare(a, b) })
	for _, line := range y.missed {
		t.Logf("none for %s", line)
	}
}
