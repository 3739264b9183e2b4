# METADATA
# title: Flush fixture does not bear what passes over it
# description: |
#   A fixture in the ground of a drive carries the weight of a wheel. Glass and
#   housing that are made for feet, or for none, break under it, let water in and
#   leave sharp edges. The maker states the class: walk-over or drive-over.
# custom:
#   id: site.drive-over
#   severity: defect
#   basis: listing
#   source: the load class that the fixture's maker states
#   confidence: confirmed
#   needs:
#     - each: standings
#       where: {flush: ["true"], zone_kind: [drive]}
#       has: [load_class]
#   limits: []
#   hint: Move {element} out of {case}, or use a fixture whose maker states that class
#   since: 0.1.0
package rules.site["drive-over"]

import data.lib

# Vehicles pass over it.
hits contains lib.hit(standing.id, ["at"], {
	"case": standing.zone,
	"message": sprintf("fixture %s lies in %s, and its maker's class is %s, not drive-over: a wheel breaks it and leaves sharp edges", [
		standing.id, lib.called("drive", standing.zone), standing.load_class,
	]),
}) if {
	some standing in input.standings
	standing.flush
	standing.zone_kind == "drive"
	standing.into_m > lib.tolerances.m
	standing.load_class != "drive-over"
}

# People walk over it.
hits contains lib.hit(standing.id, ["at"], {
	"case": standing.zone,
	"severity": "advice",
	"message": sprintf("fixture %s lies underfoot in %s, and its maker says that it bears no load: it cracks or loosens when people step on it", [
		standing.id, standing.zone,
	]),
}) if {
	some standing in input.standings
	standing.flush
	underfoot[standing.zone_kind]
	standing.into_m > lib.tolerances.m
	standing.load_class == "none"
}

underfoot := {"landing", "lawn", "mower-strip", "other", "path", "play", "slab", "snow-store", "stair", "terrace"}
