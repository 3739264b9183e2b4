# METADATA
# title: Trench cuts through a tree's roots
# description: |
#   The roots that feed a tree lie in the top foot of the ground, under the crown
#   and about as deep as a lighting cable. A trench across them harms the tree for
#   years. A cable to a lamp at the trunk comes in straight, like a spoke; a cable
#   that has more of its way under the crown than that goes round or through for
#   no need.
# custom:
#   id: earth.root-zone
#   severity: advice
#   basis: practice
#   source: common practice, no source
#   confidence: practice
#   needs:
#     - each: crossings
#       where: {kind: [root-zone]}
#       has: [zone_m]
#   limits: [earth.root_zone_factor]
#   hint: Lead {element} round the crown of {case}, or straight in to the lamp, and dig by hand or with air among the roots
#   since: 0.1.0
package rules.earth["root-zone"]

import data.lib

hits contains lib.hit(crossing.id, ["route"], {
	"case": crossing.what,
	"value": crossing.length_m,
	"limit": crossing.zone_m,
	"unit": "m",
	"limit_name": "earth.root_zone_factor",
	"message": sprintf("leg %s is dug through the root zone of %s for %s; a straight way in takes %s at most, and a trench across the roots harms the tree for years", [
		crossing.id, crossing.what, lib.length_apart(crossing.length_m, crossing.zone_m),
		lib.length_apart(crossing.zone_m, crossing.length_m),
	]),
}) if {
	lib.has_limit("earth.root_zone_factor")
	some crossing in input.crossings
	crossing.kind == "root-zone"
	crossing.in_ground
	crossing.length_m > crossing.zone_m + lib.tolerances.m
}
