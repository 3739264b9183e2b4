package mend

import "duskproof/checker/finding"

// remedy makes the candidates of one kind for a finding. It may make none.
type remedy func(v *view, f *finding.Finding) []Candidate

// remedies are what a person would change to settle a finding of each rule. A
// rule that is not here asks for something that is not in the plan: a person
// has to look, ask, or buy what is listed for the place.
var remedies = map[string][]remedy{
	"wire.lamp-starved":      {otherTaps, thickerCable, otherOutput, largerUnit},
	"wire.lamp-overfed":      {otherTaps, otherOutput},
	"wire.excess-drop":       {thickerCable, otherTaps},
	"wire.uneven-run":        {thickerCable},
	"wire.undersized":        {thickerLeg, otherOutput},
	"wire.no-solution":       {otherTaps, thickerCable},
	"wire.fault-not-cleared": {thickerCable, otherOutput, largerUnit},
}

// Rules lists the rules whose findings have candidates, sorted.
func Rules() []string { return sortedKeys(remedies) }

// Has reports whether findings of a rule have candidates.
func Has(rule string) bool { return len(remedies[rule]) > 0 }
