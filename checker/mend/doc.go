// Package mend looks for changes to a plan that settle a finding, tries each on
// the whole plan, and keeps those that hold. It knows what a person would
// change and what that costs; it does not know how a plan is checked: it
// receives the check as a function.
//
// A fix changes design choices only: cables, taps, routes, places, aims, types
// from the catalogue. What is a fact of the site, of a product or of the law
// (windows, power factors, tolerances, listings, readings, variances, what was
// bought) is never changed.
//
// A candidate is a JSON Patch (RFC 6902) in the plan's own units, with test
// operations before the changes. It is proved when the mended plan, checked
// again in full under the same settings, no longer has the finding, has no new
// one at advice or above, and has none that grew worse. To buy more is a cost,
// not a finding.
//
// Searching is bounded by a number of checks, never by time, so that the same
// plan gives the same fixes on every machine.
package mend

import (
	"context"

	"duskproof/checker/facts"
	"duskproof/checker/finding"
	"duskproof/checker/plan"
)

// Outcome is what a check says of one plan, as far as mending needs it.
type Outcome struct {
	// Usable is false for a plan that cannot be judged: its syntax, schema or
	// references are broken. The rest is then empty.
	Usable bool
	// Early is not nil when the check ended early, since the finding that was
	// asked about is still made. Nothing else is then known.
	Early *Early
	// Findings are what the rules say.
	Findings []finding.Finding
	// Facts are the computed quantities, Plan the resolved plan.
	Facts *facts.Document
	Plan  *plan.Plan
}

// Early is what a check that ended early found.
type Early struct {
	// Made is what the rules that were judged found.
	Made map[finding.Identity]bool
}

// find returns the finding with an identity, nil when there is none.
func (o *Outcome) find(id finding.Identity) *finding.Finding {
	for i := range o.Findings {
		if o.Findings[i].Identity() == id {
			return &o.Findings[i]
		}
	}
	return nil
}

// Recheck checks the text of a plan in full; it may end early when the target is
// still made. It must be safe for concurrent use and give the same outcome for
// the same text and target. An error ends the search.
type Recheck func(ctx context.Context, text []byte, target finding.Identity) (Outcome, error)

// Candidate is one change that may settle a finding.
type Candidate struct {
	// Kind is what is changed, "cable" or "tap". Of several proved candidates
	// of one kind only the cheapest is offered.
	Kind string
	// Text is one sentence in the imperative, without a full stop.
	Text string
	// Cost is in the units of the profile's weights.
	Cost float64
	// Patch holds test operations, then the changes.
	Patch []finding.Operation
	// Wide is true for a change that may settle the same finding on other
	// elements as well. While checks are scarce it is tried first.
	Wide bool
	// Renamed maps ids of elements to those they have after the change, so
	// that a finding on a moved element is known again.
	Renamed map[string]string
}

// Options say how hard to look.
type Options struct {
	// Recheck checks a changed plan.
	Recheck Recheck
	// Budget is the most checks that are made in all; nought means
	// [DefaultBudget] for the plan, and [ProvingBudget] for [Prove].
	Budget int
	// Offers is how many proved fixes of different kinds are wanted for one
	// finding; nought means 2.
	Offers int
	// Hold is the severity from which a finding has to be settled by a
	// combined mend.
	Hold finding.Severity
	// Jobs is how many checks run side by side; nought means two.
	Jobs int
}

const (
	defaultOffers = 2
	defaultJobs   = 2
	// mostForOne is how many checks are made for one finding at most, and
	// leastForOne how many at least while any are left.
	mostForOne  = 24
	leastForOne = 6
	// fixtureChecks is how many fixtures all checks of one search may add up
	// to, so that a large plan is not searched for longer than a small one.
	fixtureChecks = 12000
	leastBudget   = 60
	mostBudget    = 400
	// provingChecks is the same where findings wait for their fixes: nobody
	// asked for more than a check, so that a very large plan is searched less.
	provingChecks = 24000
)

// DefaultBudget is how many checks a search may make: fewer for a large plan,
// each of whose checks takes longer.
func DefaultBudget(fixtures int) int {
	return min(mostBudget, max(leastBudget, fixtureChecks/max(1, fixtures)))
}

// ProvingBudget is how many checks [Prove] may make: as many as [DefaultBudget],
// and fewer for a plan of more than 400 fixtures, 6 at least.
func ProvingBudget(fixtures int) int {
	return min(DefaultBudget(fixtures), max(leastForOne, provingChecks/max(1, fixtures)))
}
