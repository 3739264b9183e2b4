package policy

import (
	"context"
	"maps"
	"slices"
	"sync"
	"time"

	"duskproof/checker/finding"
	"duskproof/checker/policy/machine"
	"duskproof/checker/policy/packed"
	"duskproof/checker/rule"
	"duskproof/rules"
)

// The rules that come with the program are compiled beforehand: rules/ready.bin
// holds what a check needs to know of each rule, and a program that the machine
// runs. Nothing of their text is read unless somebody asks for it, or unless a
// rule does not run smoothly; then the engine reads the text and has the last word.

// readyRules reads the first part of rules/ready.bin once: what is to know of each
// rule. The rest is the machine's program.
var readyRules = sync.OnceValues(func() ([]Rule, *packed.Reader) {
	r := packed.NewReader(rules.Ready)
	all := make([]Rule, r.Count())
	for i := range all {
		all[i] = readRule(r)
	}
	return all, r
})

// readyMachine reads the program once; it is nil if it is damaged, which a test
// rules out: then the engine judges all.
var readyMachine = sync.OnceValue(func() *machine.Program {
	_, r := readyRules()
	program, err := machine.Read(r)
	if err != nil {
		return nil
	}
	return program
})

// Warm reads the rules that come with the program, so that [Open] and the first
// judging find them read.
func Warm() { readyMachine() }

// Open returns the rules that come with the program, ready to run, together with
// people's own rules, which are read and parsed. Without any of these nothing is
// parsed. Problems are those of [Load].
func Open(houses ...Source) (*Catalogue, []Problem) {
	if len(houses) > 0 {
		c, problems := Load(append([]Source{Bundled()}, houses...)...)
		c.machine = readyMachine
		return c, problems
	}
	all, _ := readyRules()
	parsed := sync.OnceValue(func() *Catalogue {
		c, _ := Load(Bundled())
		return c
	})
	return &Catalogue{Rules: all, machine: readyMachine, parsed: parsed}, nil
}

// readyProgram makes a program that needs the engine only where the machine ends
// without an answer.
func (c *Catalogue) readyProgram(options Options) *Program {
	var on []*Rule
	for i := range c.Rules {
		r := &c.Rules[i]
		if !r.Native && (options.Only == nil || slices.Contains(options.Only, r.ID)) {
			on = append(on, r)
		}
	}
	p := newProgram(on, options)
	p.machine = c.machine
	p.engine = sync.OnceValues(func() (*engine, error) {
		byEngine, problems := c.parsed().Compile(options)
		if len(problems) > 0 {
			return nil, problems[0]
		}
		return byEngine.engine()
	})
	return p
}

// byMachine runs the rules that the machine knows. What does not run smoothly is
// left to the engine.
func (r *run) byMachine(ctx context.Context) error {
	p := r.program
	if p.machine == nil {
		return nil
	}
	program := p.machine()
	if program == nil {
		return nil
	}
	var left []*Rule
	for _, rule := range p.rules {
		if !rule.House && !r.finished[rule.ID] && program.Has(rule.ID) {
			left = append(left, rule)
		}
	}
	processors := max(r.document.processors, 1)
	if r.times != nil {
		processors = 1 // so that no rule is measured while another takes its time
	}
	var results sync.Mutex
	var wait sync.WaitGroup
	for worker := range processors {
		wait.Go(func() {
			session := program.NewSession(r.document.facts)
			for ctx.Err() == nil {
				results.Lock()
				next := takeRule(&left, worker%2 == 1)
				results.Unlock()
				if next == nil {
					return
				}
				before := time.Now()
				hits, ok := p.runOne(session, next, p.limits.Total-before.Sub(r.began))
				results.Lock()
				if ok {
					r.hits = append(r.hits, hits...)
					r.finished[next.ID] = true
				}
				if r.times != nil {
					r.times[next.ID] += time.Since(before)
				}
				results.Unlock()
			}
		})
	}
	wait.Wait()
	return ctx.Err()
}

// takeRule takes the next rule off one end of what is to do; nil when nothing is
// left. Rules of a family stand together and work out much the same, which one
// session keeps.
func takeRule(left *[]*Rule, last bool) *Rule {
	n := len(*left)
	if n == 0 {
		return nil
	}
	at := 0
	if last {
		at = n - 1
	}
	r := (*left)[at]
	*left = slices.Delete(*left, at, at+1)
	return r
}

// runOne runs one rule; ok is false where it does not run smoothly.
func (p *Program) runOne(session *machine.Session, r *Rule, most time.Duration) (hits []rule.Hit, ok bool) {
	set, err := session.Judge(r.ID, min(p.limits.Rule, most))
	if err != nil {
		return nil, false
	}
	hits, _, complaints := decodeHits(r, set, p.limits)
	return hits, len(complaints) == 0
}

// writeReady writes rules/ready.bin.
func writeReady(parsed []Rule, program *machine.Program) []byte {
	var w packed.Writer
	w.Int(len(parsed))
	for i := range parsed {
		writeRule(&w, &parsed[i])
	}
	program.Write(&w)
	return w.Bytes
}

func writeRule(w *packed.Writer, r *Rule) {
	for _, text := range []string{
		r.ID, r.Title, r.Why, r.Severity.String(), string(r.Basis), r.Source, r.Confidence, r.Hint, r.Since, r.File,
		r.Package, r.Folder,
	} {
		w.Text(text)
	}
	w.Bool(r.Footer)
	w.Bool(r.Native)
	w.Texts(r.Limits)
	w.Bool(r.Needs != nil)
	w.Int(len(r.Needs))
	for _, need := range r.Needs {
		w.Text(need.Each)
		w.Texts(need.Has)
		w.Int(len(need.Where))
		for _, field := range slices.Sorted(maps.Keys(need.Where)) {
			w.Text(field)
			w.Texts(need.Where[field])
		}
	}
}

func readRule(r *packed.Reader) Rule {
	var severity, basis string
	out := Rule{FS: rules.Files}
	for _, text := range []*string{
		&out.ID, &out.Title, &out.Why, &severity, &basis, &out.Source, &out.Confidence, &out.Hint, &out.Since, &out.File,
		&out.Package, &out.Folder,
	} {
		*text = r.Text()
	}
	out.Severity, _ = finding.ParseSeverity(severity) // written by a severity
	out.Basis = finding.Basis(basis)
	out.Footer, out.Native, out.Limits = r.Bool(), r.Bool(), r.Texts()
	if r.Bool() {
		out.Needs = []rule.Need{}
	}
	for range r.Count() {
		out.Needs = append(out.Needs, readNeed(r))
	}
	return out
}

func readNeed(r *packed.Reader) rule.Need {
	need := rule.Need{Each: r.Text(), Has: r.Texts()}
	for range r.Count() {
		if need.Where == nil {
			need.Where = map[string][]string{}
		}
		need.Where[r.Text()] = r.Texts()
	}
	return need
}
