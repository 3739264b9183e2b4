package policy

import (
	"cmp"
	"context"
	"fmt"
	"slices"
	"strings"

	"github.com/open-policy-agent/opa/v1/topdown"

	"duskproof/checker/rule"
)

// Reason says why a rule could not be judged.
type Reason string

// The reasons of failures.
const (
	// Fault means that an expression failed: a built-in function refused
	// its argument, or two values met where one may be.
	Fault Reason = "fault"
	// Slow means that the rule took longer than it may.
	Slow Reason = "slow"
	// Large means that the rule used more memory than it may, or made too
	// many or too large hits.
	Large Reason = "large"
	// BadHit means that a hit is not what a hit must be.
	BadHit Reason = "bad hit"
	// Unreached means that the rules before it used up the time.
	Unreached Reason = "unreached"
)

// Failure says that one rule could not be judged, or not on every element.
// Rule, place and message are those of the embedded problem. Hits that the rule
// made beside a Fault or a BadHit stand.
type Failure struct {
	Problem
	// Reason says why.
	Reason Reason
}

// Judge runs every rule of the program over a document. Hits and failures are
// sorted. A rule that fails does not hide the others. The error is not nil only
// when ctx ended; then nothing else is returned.
func (p *Program) Judge(ctx context.Context, document Document) ([]rule.Hit, []Failure, error) {
	return p.JudgeSome(ctx, document, func(string) bool { return true })
}

// JudgeSome is [Program.Judge] with the rules whose ids are wanted.
func (p *Program) JudgeSome(ctx context.Context, document Document, wanted func(id string) bool) ([]rule.Hit, []Failure, error) {
	run := newRun(p, document)
	for _, r := range p.rules {
		if !wanted(r.ID) {
			run.finished[r.ID] = true
		}
	}
	if err := run.all(ctx); err != nil {
		return nil, nil, fmt.Errorf("judge the rules: %w", err)
	}
	hits, failures := run.hits, run.failures
	slices.SortFunc(hits, compareHits)
	slices.SortFunc(failures, func(a, b Failure) int {
		return cmp.Or(cmp.Compare(a.Rule, b.Rule), cmp.Compare(a.File, b.File),
			cmp.Compare(a.Line, b.Line), cmp.Compare(a.Column, b.Column), cmp.Compare(a.Message, b.Message))
	})
	return hits, onePerPlace(failures), nil
}

// onePerPlace keeps the first of the failures that one place of a rule gave for
// many elements, and says how many there were.
func onePerPlace(failures []Failure) []Failure {
	var kept []Failure
	for start := 0; start < len(failures); {
		first := failures[start]
		end := start + 1
		for end < len(failures) && samePlace(first, failures[end]) {
			end++
		}
		if more := end - start - 1; more > 0 {
			first.Message += fmt.Sprintf(" (and %d more times)", more)
		}
		kept = append(kept, first)
		start = end
	}
	return kept
}

func samePlace(a, b Failure) bool {
	return a.Rule == b.Rule && a.File == b.File && a.Line == b.Line && a.Column == b.Column && a.Reason == b.Reason
}

// compareHits orders hits by rule, element and case, then by all that prints.
func compareHits(a, b rule.Hit) int {
	return cmp.Or(
		cmp.Compare(a.Rule, b.Rule), cmp.Compare(a.Element, b.Element), cmp.Compare(a.Case, b.Case),
		cmp.Compare(a.Severity, b.Severity), cmp.Compare(a.Message, b.Message),
		cmp.Compare(fmt.Sprint(a.Field...), fmt.Sprint(b.Field...)),
	)
}

// fail records that a rule failed. Without a better place it is where the rule
// makes its hits.
func (e *engine) failure(id string, reason Reason, message string) Failure {
	problem := e.texts.atLocation(e.hitSite[id], message)
	problem.Rule = id
	return Failure{Problem: problem, Reason: reason}
}

// fault makes a failure of an evaluation error, at its own place. Inside the
// helper library the place is where the rule called it.
func (e *engine) fault(id string, cause *topdown.Error) Failure {
	location := cause.Location
	if location == nil || e.owner[location.File] == "" {
		for _, frame := range cause.StackTrace {
			if frame.Location != nil && e.owner[frame.Location.File] != "" {
				location = frame.Location
				break
			}
		}
	}
	if location == nil || location.File == "" {
		return e.failure(id, Fault, plainFault(cause))
	}
	if owner := e.owner[location.File]; owner != "" {
		id = owner
	}
	problem := e.texts.atLocation(location, plainFault(cause))
	problem.Rule = id
	return Failure{Problem: problem, Reason: Fault}
}

// plainFault words an evaluation error.
func plainFault(e *topdown.Error) string {
	message := strings.Join(strings.Fields(e.Message), " ")
	if e.Code == topdown.ConflictErr {
		return short("the rule gives two different values where there may be one: " + message)
	}
	return short("the rule could not be evaluated: " + message)
}
