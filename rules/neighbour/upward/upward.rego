# METADATA
# title: Light goes upwards where the zone allows little or none
# description: |
#   Light above the horizontal brightens the sky and leads birds, insects and hatchlings
#   astray. The share that a fixture sends there as it is installed is held against the
#   profile of a zone or a place. Without such a profile nothing is said, so that a garden
#   may have its tree lights.
# custom:
#   id: neighbour.upward
#   severity: advice
#   basis: standard
#   source: limits of obtrusive light and guidance on wildlife, by the profile
#   confidence: confirmed
#   needs:
#     - each: fixtures
#       has: [up_share]
#   limits:
#     - neighbour.shield
#     - neighbour.tree_uplight_allowed
#     - neighbour.up_lumens_max
#     - neighbour.up_share_max
#   hint: Turn {element} down, or choose a fixture that is shielded against the sky
#   since: 0.1.0
package rules.neighbour.upward

import data.lib

hits contains lib.hit(fixture.id, [], object.union(lib.against(fixture.up_share, "neighbour.up_share_max"), {
	"case": "share",
	"message": sprintf("%s of the light of %s goes above the horizontal; the profile allows %s", [
		lib.percent_apart(fixture.up_share, most), fixture.id, allowance(most, lib.percent_apart(most, fixture.up_share)),
	]),
})) if {
	most := lib.limit("neighbour.up_share_max")
	too_much := lib.most("neighbour.up_share_max")
	some fixture in input.fixtures
	fixture.up_share > too_much
	not forbidden[fixture.id]
}

hits contains lib.hit(fixture.id, [], object.union(lib.against(fixture.up_lumens, "neighbour.up_lumens_max"), {
	"case": "lumens",
	"message": sprintf("%s sends %s above the horizontal; the profile allows %s", [
		fixture.id, lib.quantity_apart(fixture.up_lumens, most, "lm"), allowance(most, lib.quantity_apart(most, fixture.up_lumens, "lm")),
	]),
})) if {
	most := lib.limit("neighbour.up_lumens_max")
	too_much := lib.most("neighbour.up_lumens_max")
	some fixture in input.fixtures
	fixture.up_lumens > too_much
	not forbidden[fixture.id]
}

allowance(most, _) := "none" if {
	most == 0
}

allowance(most, text) := text if most > 0

# Decorative light into trees, where none is allowed.
hits contains lib.hit(lamp, [], {
	"case": "tree",
	"limit_name": "neighbour.tree_uplight_allowed",
	"message": sprintf("%s lights tree %s from below; the profile allows no decorative light into plants", [lamp, concat(" and ", trees)]),
	"hint": "Leave {element} out, or keep it dark in the season",
}) if {
	some lamp, trees in forbidden
}

# forbidden holds the trees of the lamps that may not be there.
forbidden[beam.id] contains beam.tree if {
	lib.limit_flag("neighbour.tree_uplight_allowed") == false
	some beam in input.beams
}

# A shield that is stated and hides less than the profile asks for.
hits contains lib.hit(fixture.id, [], {
	"case": "shield",
	"limit_name": "neighbour.shield",
	"message": sprintf("%s is %s; the profile asks for %s fixtures", [fixture.id, shields[fixture.shield].words, shields[wanted].words]),
	"hint": "Choose another fixture for {element}",
}) if {
	wanted := lib.limit_text("neighbour.shield")
	some fixture in input.fixtures
	shields[fixture.shield].rank < shields[wanted].rank
	not forbidden[fixture.id]
	not sends_nothing_up(fixture)
}

sends_nothing_up(fixture) if fixture.up_share == 0

shields := {
	"none": {"rank": 0, "words": "not shielded"},
	"louvred": {"rank": 1, "words": "louvred"},
	"shrouded": {"rank": 2, "words": "shrouded"},
	"full-cutoff": {"rank": 3, "words": "fully shielded"},
}
