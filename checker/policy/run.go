package policy

import (
	"cmp"
	"context"
	"errors"
	"fmt"
	"sync"
	"sync/atomic"
	"time"

	"github.com/open-policy-agent/opa/v1/ast"
	"github.com/open-policy-agent/opa/v1/rego"
	"github.com/open-policy-agent/opa/v1/topdown"

	"duskproof/checker/policy/machine"
	"duskproof/checker/rule"
)

// runaways counts evaluations and compilations that were given up and have not
// ended yet.
var runaways atomic.Int64

// Runaways returns how many evaluations were given up because they could not be
// interrupted, and are still running. They cannot be killed; a command should
// end soon when there is one.
func Runaways() int { return int(runaways.Load()) }

// alone lets evaluations run side by side, and lets one that used too much
// memory or time beside others run again by itself, so that no rule is blamed for
// what others did.
var alone sync.RWMutex

// run is the judging of one document: as many attempts as it takes until every
// rule has finished or failed.
type run struct {
	program  *Program
	document Document
	engine   *engine // once it is needed
	began    time.Time
	finished map[string]bool
	hits     []rule.Hit
	failures []Failure
	times    map[string]time.Duration // nil when nobody measures
}

func newRun(p *Program, document Document) *run {
	return &run{program: p, document: document, finished: map[string]bool{}}
}

// all runs the rules that the machine knows, and asks the engine about the rest.
func (r *run) all(ctx context.Context) error {
	r.began = time.Now()
	if err := r.byMachine(ctx); err != nil {
		return err
	}
	if len(r.finished) == len(r.program.rules) {
		return nil
	}
	e, err := r.program.engine()
	if err != nil {
		return err
	}
	r.engine = e
	return r.byEngine(ctx)
}

// byEngine makes attempts until every rule is finished.
func (r *run) byEngine(ctx context.Context) error {
	lonely := false
	for {
		a := r.newAttempt()
		end := a.watch(ctx, lonely)
		r.collect(a)
		if ctx.Err() != nil {
			return ctx.Err()
		}
		if end.kind == completed {
			return nil
		}
		if end.innocent() && !lonely {
			lonely = true
			continue
		}
		lonely = false
		if end.kind == outOfTime {
			r.giveUp(end.rule)
			return nil
		}
		if end.rule == "" || r.finished[end.rule] {
			return fmt.Errorf("no rule can be blamed: %w", cmp.Or(end.err, errStopped))
		}
		r.blame(a, end)
	}
}

// collect takes over what an attempt finished.
func (r *run) collect(a *attempt) {
	a.mu.Lock()
	defer a.mu.Unlock()
	a.closed = true
	r.hits = append(r.hits, a.hits...)
	r.failures = append(r.failures, a.failures...)
	for _, id := range a.done {
		r.finished[id] = true
	}
}

// blame records why the rule that was running when an attempt ended failed.
func (r *run) blame(a *attempt, end ending) {
	id := end.rule
	limits := r.program.limits
	switch end.kind {
	case ruleTooSlow:
		r.fail(id, Slow, fmt.Sprintf("the rule ran longer than %s and was stopped", limits.Rule))
	case tooMuchMemory:
		r.fail(id, Large, fmt.Sprintf("the rule used more than %d MiB of memory and was stopped", limits.Memory>>20))
	case failed:
		r.fault(id, end.err)
	}
	r.finished[id] = true
}

// fail adds a failure at the rule's own place.
func (r *run) fail(id string, reason Reason, message string) {
	r.failures = append(r.failures, r.engine.failure(id, reason, message))
}

// fault adds the failure that ended an attempt.
func (r *run) fault(id string, err error) {
	var e *topdown.Error
	if errors.As(err, &e) {
		r.failures = append(r.failures, r.engine.fault(id, e))
		return
	}
	r.fail(id, Fault, "the rule could not be evaluated: "+err.Error())
}

// errStopped stands in when an evaluation was stopped before any rule began.
var errStopped = errors.New("the evaluation was stopped")

// giveUp ends the run when the time is up: it records the rule that was running
// and every rule that no attempt reached.
func (r *run) giveUp(current string) {
	for _, rule := range r.program.rules {
		switch {
		case r.finished[rule.ID]:
		case rule.ID == current:
			r.fail(current, Slow, fmt.Sprintf("the rule was stopped: all rules together ran longer than %s", r.program.limits.Total))
		default:
			r.fail(rule.ID, Unreached, "the rule was not judged: the rules before it used up the time")
		}
	}
}

// attempt is one evaluation of the entry query. The evaluating goroutine and
// the watching one share it.
type attempt struct {
	run     *run
	skip    map[string]bool // read only
	cancel  topdown.Cancel
	current atomic.Pointer[string] // the rule that is running
	since   atomic.Int64           // when it began, in nanoseconds of the run

	mu       sync.Mutex
	closed   bool // the watcher has left with what there was
	hits     []rule.Hit
	failures []Failure
	done     []string
}

func (r *run) newAttempt() *attempt {
	skip := make(map[string]bool, len(r.finished))
	for id := range r.finished {
		skip[id] = true
	}
	a := &attempt{run: r, skip: skip, cancel: topdown.NewCancel()}
	none := ""
	a.current.Store(&none)
	return a
}

// attemptKey finds the attempt in the context of a built-in function.
type attemptKey struct{}

// evaluate runs the entry query to its end and says how it ended.
func (a *attempt) evaluate() (err error) {
	defer func() {
		if cause := recover(); cause != nil {
			err = fmt.Errorf("the policy engine failed: %v", cause)
		}
	}()
	var faults []topdown.Error
	_, err = a.run.engine.query.Eval(
		context.WithValue(context.Background(), attemptKey{}, a),
		rego.EvalParsedInput(a.run.document.forEngine()),
		rego.EvalBuiltinErrorList(&faults),
		rego.EvalExternalCancel(a.cancel),
		rego.EvalTime(time.Unix(0, 0)),
	)
	a.note(time.Since(a.run.began))
	a.mu.Lock()
	defer a.mu.Unlock()
	if a.closed {
		return err
	}
	for i := range faults {
		a.failures = append(a.failures, a.run.engine.fault(*a.current.Load(), &faults[i]))
	}
	return err
}

// beginFunction is engine.begin: it notes which rule comes next.
func beginFunction(bctx rego.BuiltinContext, id *ast.Term) (*ast.Term, error) {
	a, _ := bctx.Context.Value(attemptKey{}).(*attempt)
	name, ok := id.Value.(ast.String)
	if a == nil || !ok {
		return nil, errors.New("called from outside the engine")
	}
	if a.skip[string(name)] {
		return ast.InternedTerm(false), nil
	}
	a.begin(string(name))
	return ast.InternedTerm(true), nil
}

func (a *attempt) begin(id string) {
	now := time.Since(a.run.began)
	a.note(now)
	a.since.Store(int64(now))
	a.current.Store(&id)
}

// note adds up what each rule took, when somebody measures.
func (a *attempt) note(now time.Duration) {
	if before := *a.current.Load(); a.run.times != nil && before != "" {
		a.run.times[before] += now - time.Duration(a.since.Load())
	}
}

// takeFunction is engine.take: it receives a rule's hits.
func takeFunction(bctx rego.BuiltinContext, id, hits *ast.Term) (*ast.Term, error) {
	a, _ := bctx.Context.Value(attemptKey{}).(*attempt)
	name, ok := id.Value.(ast.String)
	if a == nil || !ok {
		return nil, errors.New("called from outside the engine")
	}
	value, err := machine.FromTerm(hits)
	if err != nil {
		return nil, err
	}
	a.take(string(name), value)
	return ast.InternedTerm(true), nil
}

// take decodes a rule's hits and keeps them.
func (a *attempt) take(id string, value machine.Value) {
	p := a.run.program
	hits, reason, complaints := decodeHits(p.byID[id], value, p.limits)
	a.mu.Lock()
	defer a.mu.Unlock()
	if a.closed {
		return
	}
	a.hits = append(a.hits, hits...)
	a.done = append(a.done, id)
	for _, complaint := range complaints {
		a.failures = append(a.failures, a.run.engine.failure(id, reason, complaint))
	}
}
