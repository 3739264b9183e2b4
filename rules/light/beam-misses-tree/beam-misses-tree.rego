# METADATA
# title: Uplight misses its tree
# description: |
#   Light that does not land on trunk or crown is paid for and lost: a beam aimed past the
#   crown, one much wider than the tree, or one that a wall, a deck or a hedge stops. The
#   share that lands is computed from the beam, the aim and the size of the tree.
# custom:
#   id: light.beam-misses-tree
#   severity: advice
#   basis: practice
#   source: common practice, no source
#   confidence: practice
#   needs:
#     - each: beams
#       has: [on_tree]
#   limits: [light.beam_on_tree_min]
#   hint: Aim {element} at the middle of the crown, move it nearer, or choose a narrower beam
#   since: 0.1.0
package rules.light["beam-misses-tree"]

import data.lib

hits contains lib.hit(beam.id, ["aim"], object.union(lib.against(beam.on_tree, "light.beam_on_tree_min"), {
	"case": beam.tree,
	"message": sprintf("only %s of the light of %s lands on tree %s%s%s; less than %s is mostly light for the sky", [
		lib.percent_apart(beam.on_tree, least), beam.id, beam.tree, stopped(beam), better(beam), lib.percent_apart(least, beam.on_tree),
	]),
})) if {
	least := lib.limit("light.beam_on_tree_min")
	enough := lib.least("light.beam_on_tree_min")
	some beam in input.beams
	beam.on_tree < enough
}

stopped(beam) := sprintf(", since something in the way stops %s", [lib.percent(beam.blocked)]) if {
	beam.blocked > 0.25
} else := ""

better(beam) := sprintf(" (aimed at bearing %s and tipped %s from straight down, %s would)", [
	lib.degrees(beam.best_bearing_deg), lib.degrees(beam.best_tilt_deg), lib.percent(beam.best_on_tree),
]) if {
	beam.best_on_tree > beam.on_tree + 0.05
} else := ""
