package checker

import (
	"cmp"
	"context"
	"errors"
	"fmt"
	"io/fs"
	"runtime"
	"strings"

	"duskproof/checker/carried"
	"duskproof/checker/config"
	"duskproof/checker/facts"
	"duskproof/checker/finding"
	"duskproof/checker/numeric"
	"duskproof/checker/plan"
	"duskproof/checker/policy"
	"duskproof/checker/profile"
	"duskproof/checker/report"
	"duskproof/checker/rule"
	"duskproof/checker/source"
)

// Input is one plan to check.
type Input struct {
	// Name is shown in the report, with forward slashes.
	Name string
	// Bytes is the plan file.
	Bytes []byte
	// FS is the plan's own folder, for photometric files; it should be
	// confined (os.Root.FS). Nil means that there is none.
	FS fs.FS
	// Settings hold for this plan instead of the checker's own, when not nil.
	// Rules that the checker's own settings switch off stay off.
	Settings *config.Settings
	// Carried are the plan's entries in a list of carried findings: findings
	// that they cover do not count.
	Carried []carried.Entry

	kept *facts.Kept // of other texts of the same plan
}

// EngineError is a failure that is not the plan's: a rule that could not be
// judged. The rest of the report stands.
type EngineError struct{ Failures []policy.Failure }

// Error lists the failures, one a line.
func (e *EngineError) Error() string {
	out := "rules could not be judged:"
	for _, f := range e.Failures {
		out += "\n" + f.Problem.Error()
	}
	return out
}

// state is one check under way.
type state struct {
	checker  *Checker
	carried  []carried.Entry
	settings config.Settings
	doc      *source.Document
	plan     *plan.Plan
	issues   []plan.Issue
	limits   *profile.Limits
	facts    *facts.Document
	forRules *policy.Document
	result   report.Plan

	processors int // on which this check may run at a time: none that others need
}

// Check checks one plan. What is wrong with the plan is in the report; the
// error is about the checker itself. Rules that cannot be used (*RuleError) and
// rules that failed on this plan (*EngineError) leave the rest of the report
// standing, and both may be in the error; after any other error, such as a
// cancelled context, nothing was judged.
func (c *Checker) Check(ctx context.Context, in Input) (report.Plan, error) {
	s := c.newState(in)
	s.processors = max(1, runtime.GOMAXPROCS(0)/int(c.underWay.Add(1)))
	defer c.underWay.Add(-1)
	if ok, err := s.read(in); !ok || err != nil {
		return s.result, err
	}
	if ok, err := s.compute(ctx, in, nil); !ok || err != nil {
		return s.result, err
	}
	hits, errs, err := s.judge(ctx)
	if err != nil {
		return s.result, err
	}
	s.report(hits)
	return s.result, errors.Join(errs...)
}

func (c *Checker) newState(in Input) *state {
	s := &state{checker: c, settings: c.options.Settings, carried: in.Carried, result: report.Plan{
		Path: in.Name, Verdict: report.Unjudged, Profiles: []string{}, Problems: []report.Problem{},
		Findings: []finding.Finding{}, Unjudged: []report.UnjudgedRule{}, Variances: []report.Variance{},
		SwitchedOff: []report.SwitchedOff{},
	}}
	if in.Settings != nil {
		s.settings = *in.Settings
	}
	s.switchedOff()
	return s
}

// read parses, validates and resolves the plan; false means that it cannot be
// judged, and the report says why. It is taken over,
// and its profiles are fetched, while it is validated.
func (s *state) read(in Input) (bool, error) {
	if !s.parse(in) {
		return false, nil
	}
	type validity struct {
		ok  bool
		err error
	}
	valid := make(chan validity, 1)
	go func() {
		ok, err := s.validate()
		valid <- validity{ok, err}
	}()
	document, wrong := plan.Take(s.doc)
	if wrong == nil {
		s.checker.profiles.Fetch(document.Profiles)
	}
	if v := <-valid; !v.ok || v.err != nil {
		return false, v.err
	}
	return s.resolve(document, wrong)
}

// parse reads strict JSON.
func (s *state) parse(in Input) bool {
	doc, problems := source.Parse(in.Name, in.Bytes, s.checker.options.Source)
	if s.fail("plan.syntax", problems) {
		return false
	}
	s.doc, s.result.Document = doc, doc
	return true
}

// validate holds the document against the plan's schema.
func (s *state) validate() (bool, error) {
	validator, err := s.checker.validator()
	if err != nil {
		return false, fmt.Errorf("plan schema: %w", err)
	}
	return !s.fail("plan.schema", validator.Validate(s.doc)), nil
}

// resolve turns the document, or what was wrong with it, into the resolved plan and
// stacks its profiles.
func (s *state) resolve(document *plan.Document, err error) (bool, error) {
	var at *plan.DecodeError
	switch {
	case errors.As(err, &at):
		return !s.fail("plan.schema", []source.Problem{s.doc.ProblemAt(at.Pointer, err.Error())}), nil
	case err != nil:
		return false, fmt.Errorf("decode a plan that its schema accepts: %w", err)
	}
	s.plan, s.issues = plan.Resolve(document)
	s.result.Title, s.result.Stage = document.Plan.Title, document.Plan.Stage
	if dangling := s.dangling(); s.fail(plan.Dangling, dangling) {
		return false, nil
	}
	s.result.Model = s.plan
	return s.stack(document)
}

// dangling lists the references that lead nowhere, and beside them the ids that
// are given twice: of two such elements one may be what was meant.
func (s *state) dangling() []source.Problem {
	var dangling, twice []source.Problem
	for _, issue := range s.issues {
		switch {
		case issue.Rule == plan.Dangling:
			dangling = append(dangling, s.problemAt(issue))
		case issue.Rule == plan.Conflict && strings.HasSuffix(issue.Pointer, "/id"):
			twice = append(twice, s.problemAt(issue))
		}
	}
	if len(dangling) == 0 {
		return nil
	}
	return append(dangling, twice...)
}

// problemAt places an issue that makes the plan unusable.
func (s *state) problemAt(issue plan.Issue) source.Problem {
	place := s.doc.Locate(issue.Pointer)[0]
	span := place.Mark()
	if issue.OnKey && place.HasKey {
		span = place.Key
	}
	return s.doc.NewProblem(span, place.Found, issue.Message)
}

// fail records problems; true when there are any.
func (s *state) fail(id string, problems []source.Problem) bool {
	source.SortProblems(problems)
	for _, p := range problems {
		s.result.Problems = append(s.result.Problems, report.ProblemOf(id, p))
	}
	return len(problems) > 0
}

// stack puts the profiles together.
func (s *state) stack(document *plan.Document) (bool, error) {
	names := append(append([]string{}, s.plan.Profiles...), s.settings.Profiles...)
	var top []profile.Profile
	if p, ok := s.settings.LimitProfile(); ok {
		top = append(top, p)
	}
	limits, err := s.checker.profiles.Stack(names, top...)
	var unknown *profile.UnknownError
	switch {
	case errors.As(err, &unknown):
		pointer := "/profiles"
		for i, name := range document.Profiles {
			if name == unknown.Name {
				pointer = source.Pointer("profiles", i)
			}
		}
		return !s.fail("plan.profile", []source.Problem{s.doc.ProblemAt(pointer, unknown.Error())}), nil
	case err != nil:
		return false, fmt.Errorf("stack profiles: %w", err)
	}
	s.limits = limits.In(s.plan.Units)
	s.result.Profiles = limits.Profiles()
	s.weakened()
	return true, nil
}

// planLimit is the rule of plans that are beyond what can be computed.
const planLimit = "plan.limit"

// compute computes the facts, or as much of them as is enough; false means that
// the plan's numbers cannot be computed with, and the report says which.
func (s *state) compute(ctx context.Context, in Input, enough func(*facts.Document) bool) (bool, error) {
	limit := cmp.Or(s.checker.options.Compute, DefaultCompute)
	bounded, cancel := context.WithTimeout(ctx, limit)
	defer cancel()
	doc, err := facts.Compute(bounded, facts.Input{
		Plan: s.plan, Limits: factLimits(s.limits), Cautions: factCautions(s.limits),
		Profiles: s.limits.Profiles(), Files: in.FS, Today: s.checker.options.Today, Enough: enough, Kept: in.kept, Lights: s.checker.lights,
	})
	var numbers *facts.NumbersError
	switch {
	case errors.As(err, &numbers):
		return !s.fail(planLimit, []source.Problem{s.doc.ProblemAt(numbers.Pointer, numbers.Error())}), nil
	case err != nil && ctx.Err() == nil && errors.Is(err, context.DeadlineExceeded):
		return !s.fail(planLimit, []source.Problem{s.doc.ProblemAt("", fmt.Sprintf(
			"the plan takes longer than %s to compute; split it into smaller plans", limit))}), nil
	case err != nil:
		return false, fmt.Errorf("%s: %w", in.Name, err)
	}
	s.facts, s.result.Facts = doc, doc
	return true, nil
}

// judge runs every rule that is on. The errors are those of rules that did not
// judge; err ends the check.
func (s *state) judge(ctx context.Context) (hits []rule.Hit, errs []error, err error) {
	document, err := s.document()
	if err != nil {
		return nil, nil, err
	}
	lacks := s.lacking(document)
	program, broken := s.checker.program()
	if len(broken) > 0 {
		errs = append(errs, &RuleError{broken})
	}
	if program != nil {
		var failures []policy.Failure
		if hits, failures, err = program.Judge(ctx, document); err != nil {
			return nil, nil, err
		}
		s.result.Failed = failed(failures)
		if len(failures) > 0 {
			errs = append(errs, &EngineError{failures})
		}
	}
	hits = append(hits, numeric.Run(s.facts, s.judged)...)
	hits = append(hits, s.conflictHits()...)
	hits = append(hits, s.cannotJudge(<-lacks)...)
	return hits, errs, nil
}

// document is the facts as the rules read them, made once.
func (s *state) document() (policy.Document, error) {
	if s.forRules == nil {
		document, err := policy.NewDocumentOn(s.processors, s.facts)
		if err != nil {
			return document, fmt.Errorf("facts for the rules: %w", err)
		}
		s.forRules = &document
	}
	return *s.forRules, nil
}

// failed lists rules that failed on this plan, for the report.
func failed(failures []policy.Failure) []report.RuleProblem {
	out := make([]report.RuleProblem, len(failures))
	for i, f := range failures {
		out[i] = RuleProblem(f.Problem)
	}
	return out
}

// RuleProblem turns a problem of a rule file into one of a report.
func RuleProblem(p policy.Problem) report.RuleProblem {
	return report.RuleProblem{Rule: p.Rule, File: p.File, Line: p.Line, Column: p.Column,
		EndLine: p.EndLine, EndColumn: p.EndColumn, Message: p.Message, Excerpt: p.Excerpt}
}

// judged reports whether a rule is on for this plan.
func (s *state) judged(id string) bool {
	setting, _ := s.settings.Rule(id)
	return !setting.Off && s.checker.judged(id)
}

// conflictHits turns contradictions into hits.
func (s *state) conflictHits() []rule.Hit {
	if !s.judged(plan.Conflict) {
		return nil
	}
	var hits []rule.Hit
	for _, issue := range s.issues {
		if issue.Rule == plan.Conflict {
			hits = append(hits, rule.Hit{Rule: plan.Conflict, Element: issue.Element, Case: issue.Case,
				Message: issue.Message, Field: pointerField{issue.Pointer, issue.OnKey}.field()})
		}
	}
	return hits
}
