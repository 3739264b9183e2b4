package mend

import "duskproof/checker/finding"

// remedy makes the candidates of one kind for a finding. It may make none.
type remedy func(v *view, f *finding.Finding) []Candidate

// remedies are what a person would change to settle a finding of each rule. A
// rule that is not here asks for something that is not in the plan: a person
// has to look, ask, or have done what a licensed person does.
var remedies = map[string][]remedy{
	"wire.lamp-starved":      {otherTaps, thickerCable, splitRun, straightHome, fittedLamps, otherOutput, largerUnit},
	"wire.lamp-overfed":      {otherTaps, fullLevel, otherOutput, otherRun, otherUnit},
	"wire.excess-drop":       {thickerCable, splitRun, straightHome, otherTaps, fittedLamps},
	"wire.uneven-run":        {thickerCable, splitRun, fittedLamps, fullLevel, equalLeads},
	"wire.undersized":        {thickerLeg, splitRun, fittedLamps, otherOutput},
	"wire.no-solution":       {otherTaps, thickerCable, splitRun, straightHome, fittedLamps, otherRun},
	"wire.fault-not-cleared": {thickerCable, splitRun, otherOutput, otherUnit},
	"wire.loop-misfed":       {closeLoop},

	"power.overload":          {largerUnit, otherRun, thriftier},
	"power.margin":            {largerUnit, otherRun, thriftier},
	"power.relamp":            {largerUnit, otherRun, thriftier},
	"power.common-limit":      {otherRun, splitOff, otherUnit, thriftier},
	"power.branch-circuit":    {otherReceptacle, thriftier},
	"power.electronic-limits": {fullLevel, otherUnit, straightHome, otherRun},
	"power.mixed-loads":       {lampKinds, oneKind},
	"power.transformer-place": {higherUnit, moveUnit, otherReceptacle, otherUnit},
	"power.wet-contact-limit": {otherTaps, otherUnit},

	"light.unlit-step":       {onInScene, fullLevel, moveNearer, brighter, addLight, newKind},
	"light.unlit-landing":    {onInScene, fullLevel, moveNearer, brighter, addLight, newKind},
	"light.leaf-shadow":      {besideLeaf, moveNearer, addLight},
	"light.dark-gap":         {onInScene, fullLevel, evenOut, lightStretch, denserArray},
	"light.uneven-path":      {onInScene, fullLevel, evenOut, lightStretch, denserArray},
	"light.beam-misses-tree": {bestAim, atTree, otherType},
	"light.spill":            {bestAim, atTree, lowerAim, otherType},
	"light.glare":            {lowerAim, atTree, dimmed, ownLamp, lessLight, fartherIn},

	"site.gate-swing":      {moveFixture},
	"site.traffic":         {moveFixture},
	"site.off-land":        {moveFixture, moveEnds, detour},
	"site.drive-over":      {moveFixture, otherType},
	"site.outdoor-rating":  {otherType},
	"site.tree-mount":      {hungWell},
	"water.setback":        {moveFixture, moveUnit, moveEnds, detour, otherType},
	"heat.combustible":     {moveFixture, otherType},
	"control.photocell":    {turnSensor},
	"control.timer":        {curfew},
	"earth.shallow-cable":  {deeper},
	"earth.no-sleeve":      {sleeved},
	"earth.concealed":      {sleeved, detour},
	"earth.dug-over":       {sleeved, deeper, detour},
	"earth.root-zone":      {detour},
	"earth.slack":          {moreSlack},
	"earth.splice":         {otherConnector, moveNode},
	"earth.lug-fill":       {roomierConnector, hangElsewhere, otherRun},
	"earth.drainage":       {onGravel, otherType},
	"earth.unlisted-cable": {otherCable},

	"earth.crossing-service": {detour},
	"earth.mains-separation": {detour},

	"neighbour.property-line": {lowerAim, atTree, dimmed, ownLamp, lessLight, fartherIn},
	"neighbour.window":        {lowerAim, atTree, dimmed, ownLamp, lessLight},
	"neighbour.upward":        {lowerAim, atTree, ownLamp, lessLight},
	"neighbour.colour":        {otherType},
	"neighbour.lumens":        {otherType, ownLamp, dimmed},
}

// Rules lists the rules whose findings have candidates, sorted.
func Rules() []string { return sortedKeys(remedies) }
