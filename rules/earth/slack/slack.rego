# METADATA
# title: No spare cable at a fixture
# description: |
#   Plants grow over lamps, and lamps are moved, lifted for service and re-aimed
#   at night. A loop of spare cable, or a factory lead left uncut, makes that
#   possible without a new joint. It is bought, and its resistance counts.
# custom:
#   id: earth.slack
#   severity: advice
#   basis: practice
#   source: common practice, no source
#   confidence: practice
#   needs: []
#   limits: [earth.fixture_slack_m]
#   hint: Leave {limit} of spare cable at each of them, and write it as slack
#   since: 0.1.0
package rules.earth.slack

import data.lib

# None at all: once for each run.
hits contains lib.hit(run, [], object.union(lib.against(0, "earth.fixture_slack_m"), {
	"case": "none",
	"message": sprintf("run %s leaves no spare cable at %s: without %s a lamp cannot be moved or lifted and the joint is pulled", [
		run, lib.few(ids), lib.length(lib.limit("earth.fixture_slack_m")),
	]),
})) if {
	some run, ids in without
}

without[place.run] contains place.id if {
	some place in short
	place.spare <= lib.tolerances.m
}

# Some, and too little.
hits contains lib.hit(place.id, ["slack"], object.union(lib.against(place.spare, "earth.fixture_slack_m"), {
	"case": "little",
	"message": sprintf("fixture %s has %s of spare cable, its own lead counted; with less than %s it can hardly be moved", [
		place.id, lib.length_apart(place.spare, least), lib.length_apart(least, place.spare),
	]),
})) if {
	some place in short
	place.spare > lib.tolerances.m
	least := lib.limit("earth.fixture_slack_m")
}

# short are the fixtures in the ground, drawn and wired, that lack spare cable.
short contains {"id": fixture.id, "run": fixture.run, "spare": spare(fixture)} if {
	least := lib.least("earth.fixture_slack_m")
	some fixture in input.fixtures
	fixture.slack_m < least
	fixture.placed
	buried[fixture.id]
	spare(fixture) < least
}

# buried are the places of the joints in the ground.
buried := {joint.id | some joint in input.joints; joint.buried}

spare(fixture) := fixture.slack_m + fixture.lead_m if {
	fixture.lead_m
} else := fixture.slack_m
