# METADATA
# title: Fixture or cable lies beyond the property line
# description: |
#   What stands or is buried on other people's land, the verge of a street
#   included, may have to be dug up again, is in the way of others' spades, and
#   lights ground that the owner has no say over. Six inches are allowed for how
#   finely a line is drawn.
# custom:
#   id: site.off-land
#   severity: advice
#   basis: practice
#   source: common practice, no source
#   confidence: practice
#   needs: []
#   limits: []
#   hint: Keep {element} inside the property line, or get the neighbour's consent in writing and note it in the plan
#   since: 0.1.0
package rules.site["off-land"]

import data.lib

hits contains lib.hit(standing.id, ["at"], {
	"case": "fixture",
	"value": standing.into_m,
	"limit": 0,
	"unit": "m",
	"message": sprintf("fixture %s stands %s beyond the property line: its owner may have it taken out", [standing.id, lib.length(standing.into_m)]),
}) if {
	some standing in input.standings
	standing.zone_kind == "off-land"
}

hits contains lib.hit(crossing.id, ["route"], {
	"case": "cable",
	"value": crossing.length_m,
	"limit": 0,
	"unit": "m",
	"message": sprintf("leg %s lies on other people's land for %s, from %s along it: it may have to be dug up again, and others dig there", [
		crossing.id, lib.length(crossing.length_m), lib.length(crossing.station_m),
	]),
}) if {
	some crossing in input.crossings
	crossing.kind == "off-land"
}
