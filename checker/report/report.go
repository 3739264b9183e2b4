// Package report writes what a check found, one file for each form of output.
// Its types are the report's published form, schema/report.schema.json.
package report

import (
	"duskproof/checker/facts"
	"duskproof/checker/finding"
	"duskproof/checker/plan"
	"duskproof/checker/rule"
	"duskproof/checker/source"
)

// Format is the version of the report's JSON form.
const Format = "1.0"

// Caution ends every report, in every form.
const Caution = "This is a check of a plan, not an approval. Local codes, product instructions and licensed people decide; ask them before work begins."

// The verdicts on one plan. There is no word for approval: the program
// approves nothing.
const (
	// Held means that a finding reached the hold level.
	Held = "held"
	// NoHolds means that none did.
	NoHolds = "no-holds"
	// Unjudged means that the plan could not be read or resolved.
	Unjudged = "unjudged"
)

// Report is the outcome of one command: what was checked, and with what.
type Report struct {
	Format  string `json:"format"`
	Tool    Tool   `json:"tool"`
	Today   string `json:"today"`
	Caution string `json:"caution"`
	// Hold is the level from which a finding holds a plan.
	Hold  finding.Severity `json:"hold"`
	Plans []Plan           `json:"plans"`
	// RuleProblems are why rules could not be used; the others judged.
	RuleProblems []RuleProblem `json:"ruleProblems,omitempty"`
	// Rules are the metadata of the rules that judged, by id, for forms
	// that print them.
	Rules map[string]rule.Meta `json:"-"`
}

// Tool names the program.
type Tool struct {
	Name    string `json:"name"`
	Version string `json:"version"`
}

// Plan is the outcome for one plan.
type Plan struct {
	// Path is the plan's name as the command was given it, with forward
	// slashes.
	Path    string `json:"path"`
	Title   string `json:"title,omitempty"`
	Stage   string `json:"stage,omitempty"`
	Verdict string `json:"verdict"`
	// Profiles lists the profiles in force, the lowest first.
	Profiles []string `json:"profiles"`
	// Problems are why a plan could not be used.
	Problems []Problem `json:"problems"`
	// Findings are sorted by [finding.Compare].
	Findings []finding.Finding `json:"findings"`
	// Unjudged lists what could not be judged for want of data.
	Unjudged []UnjudgedRule `json:"unjudged"`
	// Variances lists the plan's written exceptions.
	Variances []Variance `json:"variances"`
	// SwitchedOff lists danger rules that a setting switched off.
	SwitchedOff []SwitchedOff `json:"switchedOff"`
	// Weakened lists what settings and local profiles changed so that rules of
	// dangers let more pass.
	Weakened []Weakened `json:"weakened,omitempty"`
	// Carried lists the plan's entries in a list of carried findings, and what
	// became of them.
	Carried []Carried `json:"carried,omitempty"`
	// Failed lists rules that failed while they judged this plan.
	Failed []RuleProblem `json:"failed,omitempty"`

	// Units is the plan's own unit of length, "ft" or "m".
	Units string `json:"-"`
	// Document, Model, Facts and Light are for forms that draw; Light is nil
	// where it was not worked out.
	Document *source.Document `json:"-"`
	Model    *plan.Plan       `json:"-"`
	Facts    *facts.Document  `json:"-"`
	Light    *facts.LightMap  `json:"-"`
}

// Problem is why a plan could not be used, at its place.
type Problem struct {
	// Rule is plan.syntax, plan.schema, plan.dangling, plan.profile,
	// plan.limit or plan.unreadable.
	Rule string `json:"rule"`
	// Line and Column are 1-based, in code points; the end is exclusive.
	Line      int `json:"line"`
	Column    int `json:"column"`
	EndLine   int `json:"endLine"`
	EndColumn int `json:"endColumn"`
	// Pointer is the JSON Pointer of the place.
	Pointer string `json:"pointer"`
	Message string `json:"message"`
	// Excerpt is the text of the line that Line names.
	Excerpt string `json:"-"`
}

// RuleProblem is why a rule could not be used or could not judge a plan, at its
// place in the rule's file.
type RuleProblem struct {
	// Rule is the rule's id; empty where the file does not say it.
	Rule string `json:"rule,omitempty"`
	// File is the path as the command was given it, with forward slashes.
	File string `json:"file"`
	// Line and Column are 1-based, in code points, and the end is exclusive;
	// all are nought for a file as a whole.
	Line      int    `json:"line"`
	Column    int    `json:"column"`
	EndLine   int    `json:"endLine"`
	EndColumn int    `json:"endColumn"`
	Message   string `json:"message"`
	// Excerpt is the text of the line that Line names.
	Excerpt string `json:"-"`
}

// ProblemOf turns a reader's problem into one of a rule.
func ProblemOf(rule string, p source.Problem) Problem {
	return Problem{Rule: rule, Line: p.Line, Column: p.Column, EndLine: p.EndLine, EndColumn: p.EndColumn,
		Pointer: p.Pointer, Message: p.Message, Excerpt: p.Excerpt}
}

// UnjudgedRule says that a rule could not judge some elements.
type UnjudgedRule struct {
	Rule     string   `json:"rule"`
	Missing  string   `json:"missing"`
	Elements []string `json:"elements"`
}

// Variance is one written exception and what became of it.
type Variance struct {
	Rule      string `json:"rule"`
	Element   string `json:"element"`
	Case      string `json:"case,omitempty"`
	Reason    string `json:"reason"`
	GrantedBy string `json:"grantedBy"`
	On        string `json:"on,omitempty"`
	Until     string `json:"until,omitempty"`
	// State is applied, stale, expired or not-applied.
	State string `json:"state"`
	// Silenced are the findings it silenced.
	Silenced []finding.Finding `json:"silenced"`
}

// Carried is one entry of a list of carried findings and what became of it.
type Carried struct {
	Rule    string `json:"rule"`
	Element string `json:"element"`
	Case    string `json:"case,omitempty"`
	// Severity is how grave the finding was when it was written down.
	Severity finding.Severity `json:"severity"`
	Reason   string           `json:"reason,omitempty"`
	Expires  string           `json:"expires,omitempty"`
	// State is covered, graver, expired or stale. Only a covered finding does
	// not count.
	State string `json:"state"`
	// Finding is the finding that the entry covers.
	Finding *finding.Finding `json:"finding,omitempty"`
}

// SwitchedOff is a danger rule that a setting switched off, with the reason.
type SwitchedOff struct {
	Rule   string `json:"rule"`
	Reason string `json:"reason"`
	// By is "settings" or "command line".
	By string `json:"by"`
}

// Count is the number of findings by severity.
func (p *Plan) Count(s finding.Severity) int {
	n := 0
	for i := range p.Findings {
		if p.Findings[i].Severity == s {
			n++
		}
	}
	return n
}
