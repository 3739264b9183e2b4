package rules.site.traffic_test

import data.rules.site.traffic

limits := [
	{"name": "site.drive_edge_m", "value": 0.6096, "unit": "m", "source": "house"},
	{"name": "site.mower_strip_m", "value": 0.3048, "unit": "m", "source": "house"},
	{"name": "site.path_edge_m", "value": 0.1016, "unit": "m", "source": "house"},
	{"name": "site.snow_edge_m", "value": 0.6096, "unit": "m", "source": "house"},
]

plan(standing, limits_in_force) := {"units": "ft", "standings": [standing], "limits": limits_in_force}

at(kind, into_m) := {"id": "P1", "zone": "Z", "zone_kind": kind, "into_m": into_m, "flush": false}

test_inside[kind] if {
	some kind, words in {
		"drive": "inside drive Z: a wheel",
		"landing": "inside landing Z: people trip",
		"lawn": "inside lawn Z: mowers",
		"mower-strip": "into the strip that a mower runs over at Z: mowers",
		"path": "inside path Z: feet",
		"snow-store": "inside snow store Z: piled snow",
		"stair": "inside stair Z: people trip",
	}
	found := traffic.hits with input as plan(at(kind, 0.1524), limits)
	count(found) == 1
	some hit in found
	hit.element == "P1"
	hit.field == ["at"]
	hit.case == "Z"
	hit.value == 0.1524
	hit.limit == 0
	contains(hit.message, "6 in")
	contains(hit.message, words)
}

test_inside_needs_no_limit if {
	count(traffic.hits) == 1 with input as plan(at("drive", 0.3), [])
}

test_beside[kind] if {
	some kind, limit in {
		"drive": "site.drive_edge_m",
		"landing": "site.path_edge_m",
		"path": "site.path_edge_m",
		"snow-store": "site.snow_edge_m",
		"stair": "site.path_edge_m",
	}
	found := traffic.hits with input as plan(at(kind, -0.0508), limits)
	count(found) == 1
	some hit in found
	hit.limit_name == limit
	hit.value == 0.0508
	hit.case == "Z"
	contains(hit.message, "2 in from the edge of Z")
}

test_touching_is_beside if {
	some hit in traffic.hits with input as plan(at("path", 0), limits)
	hit.limit_name == "site.path_edge_m"
	contains(hit.message, "stands at the edge of Z")
}

test_room_from_both_sides if {
	count(traffic.hits) == 1 with input as plan(at("drive", -0.6), limits)
	count(traffic.hits) == 0 with input as plan(at("drive", -0.6094), limits)
	count(traffic.hits) == 0 with input as plan(at("drive", -0.6096), limits)
}

test_beside_needs_the_limit if {
	count(traffic.hits) == 0 with input as plan(at("drive", -0.1), [])
}

test_silent[name] if {
	some name, standing in {
		"flush": object.union(at("drive", 0.3), {"flush": true}),
		"flush beside": object.union(at("drive", -0.3), {"flush": true}),
		"another zone": at("off-land", 0.3),
		"beside a zone without room": at("terrace", -0.01),
	}
	count(traffic.hits) == 0 with input as plan(standing, limits)
}
