# METADATA
# title: Fixture stands where people, wheels, mowers or snow go
# description: |
#   What stands in a path is kicked, what stands in a drive is driven over, mowers
#   and trimmers break what stands in turf, and piled snow bends the rest. A
#   fixture that lies flush is out of the way. How much room is enough beside a
#   drive, a path, a lawn or a snow store is a rule of the house: no published
#   distances exist.
# custom:
#   id: site.traffic
#   severity: advice
#   basis: house
#   source: common practice, no source
#   confidence: practice
#   needs: []
#   limits: [site.drive_edge_m, site.mower_strip_m, site.path_edge_m, site.snow_edge_m]
#   hint: Move {element} into a bed or behind the edge, or use a fixture that lies flush and bears what passes over it
#   since: 0.1.0
package rules.site.traffic

import data.lib

# In the way.
hits contains lib.hit(standing.id, ["at"], {
	"case": standing.zone,
	"value": standing.into_m,
	"limit": 0,
	"unit": "m",
	"message": sprintf("fixture %s stands %s %s: %s", [
		standing.id, lib.length(standing.into_m), sprintf(inside[standing.zone_kind], [zone(standing)]),
		harm[standing.zone_kind],
	]),
}) if {
	some standing in input.standings
	standing.flush == false
	standing.into_m > lib.tolerances.m
	inside[standing.zone_kind]
}

# Beside it, with too little room.
hits contains lib.hit(standing.id, ["at"], object.union(lib.against(0 - standing.into_m, edges[standing.zone_kind]), {
	"case": standing.zone,
	"message": sprintf("fixture %s stands %s the edge of %s: %s, and %s is room enough", [
		standing.id, away(standing, room), standing.zone, harm[standing.zone_kind],
		lib.length_apart(room, 0 - standing.into_m),
	]),
})) if {
	some standing in input.standings
	standing.flush == false
	standing.into_m <= lib.tolerances.m
	room := lib.limit(edges[standing.zone_kind])
	0 - standing.into_m < room - lib.tolerances.m
}

away(standing, room) := sprintf("%s from", [lib.length_apart(0 - standing.into_m, room)]) if {
	0 - standing.into_m > lib.tolerances.m
} else := "at"

inside := {
	"drive": "inside %s",
	"landing": "inside %s",
	"lawn": "inside %s",
	"mower-strip": "into the strip that a mower runs over at %s",
	"path": "inside %s",
	"snow-store": "inside %s",
	"stair": "inside %s",
}

# zone names the place in words.
zone(standing) := lib.called(words[standing.zone_kind], standing.zone) if {
	words[standing.zone_kind]
} else := standing.zone

words := {"drive": "drive", "landing": "landing", "lawn": "lawn", "path": "path", "snow-store": "snow store", "stair": "stair"}

harm := {
	"drive": "a wheel or a bumper breaks it",
	"landing": "people trip over it",
	"lawn": "mowers and trimmers break it",
	"mower-strip": "mowers and trimmers break it",
	"path": "feet and bags knock it over",
	"snow-store": "piled snow bends and buries it",
	"stair": "people trip over it",
}

# edges are the limits for what stands beside a zone.
edges := {
	"drive": "site.drive_edge_m",
	"landing": "site.path_edge_m",
	"path": "site.path_edge_m",
	"snow-store": "site.snow_edge_m",
	"stair": "site.path_edge_m",
}
