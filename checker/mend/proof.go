package mend

import (
	"math"

	"duskproof/checker/finding"
)

// shortTakeOff is the rule that compares what is needed with what was bought.
// That a fix needs more is its cost, not a new finding.
const shortTakeOff = "plan.short-take-off"

// worseShare is how much of its limit a finding may move away from that limit
// without having grown worse: less than an ordinary meter can tell. Whatever is
// done to one run moves the volts of the others on its power unit by a little.
const worseShare = 5e-3

// standing is what counts about one finding when two checks are compared.
type standing struct {
	severity finding.Severity
	excess   float64 // how far beyond its limit, as a share of the limit; NaN without numbers
}

func standingOf(f *finding.Finding) standing {
	out := standing{severity: f.Severity, excess: math.NaN()}
	if f.Value != nil && f.Limit != nil {
		out.excess = math.Abs(*f.Value-*f.Limit) / math.Max(math.Abs(*f.Limit), 1e-9)
	}
	return out
}

// standings are the findings of a check by identity, with the ids that a change
// gave to elements.
func standings(findings []finding.Finding, renamed map[string]string) map[finding.Identity]standing {
	out := make(map[finding.Identity]standing, len(findings))
	for i := range findings {
		out[renamedIdentity(findings[i].Identity(), renamed)] = standingOf(&findings[i])
	}
	return out
}

// matter is what a rule says about one element, whatever the case.
type matter struct{ rule, element string }

// gone are the matters that were settled, with the gravest severity that each had.
// A rule that says the gravest thing about an element keeps the lesser ones to
// itself: a lamp far above its window at nominal supply is above it at high
// supply as well. When the graver finding is gone the lesser one shows; it was
// there all the time.
func gone(old map[finding.Identity]standing, after []finding.Finding) map[matter]finding.Severity {
	still := map[finding.Identity]bool{}
	for i := range after {
		still[after[i].Identity()] = true
	}
	out := map[matter]finding.Severity{}
	for id, was := range old {
		if m := (matter{id.Rule, id.Element}); !still[id] {
			out[m] = max(out[m], was.severity)
		}
	}
	return out
}

func renamedIdentity(id finding.Identity, renamed map[string]string) finding.Identity {
	if to, ok := renamed[id.Element]; ok {
		id.Element = to
	}
	return id
}

// verdict is what a check of a changed plan proves.
type verdict struct {
	// gone is true when the finding is gone.
	gone bool
	// harm lists the findings that are new at advice or above, or worse than
	// before.
	harm []finding.Identity
}

// proved reports whether the change settles its finding and does no harm.
func (v verdict) proved() bool { return v.gone && len(v.harm) == 0 }

// judge compares the check of a changed plan with the one before.
func judge(before []finding.Finding, after *Outcome, target finding.Identity, renamed map[string]string) verdict {
	if !after.Usable {
		return verdict{harm: []finding.Identity{target}}
	}
	old := standings(before, renamed)
	settled := gone(old, after.Findings)
	out := verdict{gone: true}
	target = renamedIdentity(target, renamed)
	for i := range after.Findings {
		f := &after.Findings[i]
		id := f.Identity()
		if id == target {
			out.gone = false
		}
		if f.Severity < finding.Advice || f.Rule == shortTakeOff {
			continue
		}
		was, known := old[id]
		hidden := !known && f.Severity < settled[matter{f.Rule, f.Element}]
		if !known && !hidden || known && worse(was, standingOf(f)) {
			out.harm = append(out.harm, id)
		}
	}
	return out
}

// worse reports whether a finding grew worse from one check to the next.
func worse(was, now standing) bool {
	if now.severity != was.severity {
		return now.severity > was.severity
	}
	return now.excess > was.excess+worseShare
}
