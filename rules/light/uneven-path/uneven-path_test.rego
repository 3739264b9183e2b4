package rules.light.uneven_path_test

import data.rules.light["uneven-path"] as rule

limits := [
	{"name": "light.dark_gap_m", "value": 3, "unit": "m", "source": "house"},
	{"name": "light.fixture_gap_m", "value": 4.57, "unit": "m", "source": "practice"},
	{"name": "light.opposite_pairs_most", "value": 2, "unit": "1", "source": "house"},
	{"name": "light.path_avg_to_min", "value": 10, "unit": "1", "source": "RP-8"},
]

walk := {
	"id": "walk", "kind": "path", "scene": "all", "dark_m": 0, "opposite_pairs": 0, "known": true,
	"lux_min": 0.5, "lux_avg": 4, "avg_to_min": 8, "widest_gap_m": 3, "gap_from": "P1", "gap_to": "P2",
}

plan(path, limits_in_force) := {"units": "m", "paths": [object.union(walk, path)], "limits": limits_in_force}

unknown(path) := {
	"units": "m", "limits": limits,
	"paths": [object.union(object.remove(walk, ["lux_min", "lux_avg", "avg_to_min"]), object.union({"known": false}, path))],
}

test_uneven if {
	some hit in rule.hits with input as plan({"lux_avg": 6, "avg_to_min": 12, "scene": "late"}, limits)
	hit.element == "walk"
	hit.case == "late"
	hit.value == 12
	hit.limit == 10
	contains(hit.message, "gets 6.0 lx on average but 0.5 lx at its darkest spot, in scene late: a ratio of 12")
}

test_nothing_at_one_spot if {
	facts := {
		"units": "m", "limits": limits,
		"paths": [object.union(object.remove(walk, ["avg_to_min"]), {"lux_min": 0})],
	}
	some hit in rule.hits with input as facts
	contains(hit.message, "gets 4.0 lx on average but nothing at its darkest spot, with everything on")
}

test_wide_gap if {
	some hit in rule.hits with input as unknown({"widest_gap_m": 6})
	hit.case == "spacing"
	hit.value == 6
	contains(hit.message, "leave 6.00 m between P1 and P2")
}

test_runway if {
	some hit in rule.hits with input as plan({"opposite_pairs": 3}, limits)
	hit.case == "facing pairs"
	contains(hit.message, "3 pairs of lights face each other across path walk")
}

test_silent[name] if {
	some name, facts in {
		"even": plan({}, limits),
		"at the limit": plan({"avg_to_min": 10}, limits),
		"a dark gap says more": plan({"avg_to_min": 50, "dark_m": 4}, limits),
		"a terrace": plan({"avg_to_min": 50, "kind": "terrace"}, limits),
		"dark all over": plan({"lux_min": 0, "lux_avg": 0, "dark_m": 2}, limits),
		"wide but known to be lit": plan({"widest_gap_m": 6}, limits),
		"not wide": unknown({"widest_gap_m": 4.57}),
		"two pairs": plan({"opposite_pairs": 2}, limits),
		"no limits": plan({"avg_to_min": 50, "lux_min": 0, "opposite_pairs": 9}, []),
	}
	count(rule.hits) == 0 with input as facts
}
