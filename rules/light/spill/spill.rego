# METADATA
# title: Much of an uplight goes past its tree
# description: |
#   A beam much wider than the crown lights the sky, the neighbour's bedroom and the haze.
#   A round beam has about half its light outside its nominal angle, so some always goes
#   past.
# custom:
#   id: light.spill
#   severity: advice
#   basis: practice
#   source: common practice, no source
#   confidence: practice
#   needs:
#     - each: beams
#       has: [past_tree]
#   limits: [light.beam_on_tree_min, light.spill_max]
#   hint: Choose a narrower beam for {element}, move it nearer to the tree, or shroud it
#   since: 0.1.0
package rules.light.spill

import data.lib

# Where light.beam-misses-tree has nothing to say.
hits contains lib.hit(beam.id, ["aim"], object.union(lib.against(beam.past_tree, "light.spill_max"), {
	"case": beam.tree,
	"message": sprintf("%s of the light of %s goes past tree %s into the sky, more than %s", [
		lib.percent_apart(beam.past_tree, most), beam.id, beam.tree, lib.percent_apart(most, beam.past_tree),
	]),
})) if {
	most := lib.limit("light.spill_max")
	enough := lib.most("light.spill_max")
	some beam in input.beams
	beam.past_tree > enough
	not misses(beam)
}

misses(beam) if beam.on_tree < lib.least("light.beam_on_tree_min")
