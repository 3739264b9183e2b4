package rules.light.dark_gap_test

import data.rules.light["dark-gap"] as rule

limits := [
	{"name": "light.dark_gap_m", "value": 3, "unit": "m", "source": "house"},
	{"name": "light.path_dark_lx", "value": 0.4, "unit": "lx", "source": "practice"},
]

public := array.concat(limits, [{"name": "light.path_public_lx", "value": 11, "unit": "lx", "source": "IBC 1008.2.1"}])

walk := {"id": "walk", "kind": "path", "scene": "all", "dark_m": 0, "lux_min": 1, "lux_max": 20}

patio := {"id": "patio", "kind": "terrace", "scene": "late", "known": true, "lux_min": 0, "lux_max": 0.2}

plan(path, limits_in_force) := {"units": "m", "paths": [path], "limits": limits_in_force}

dark(length) := object.union(walk, {"dark_m": length, "dark_from_m": 2, "dark_to_m": 2 + length})

test_dark_stretch if {
	some hit in rule.hits with input as plan(dark(4.2), limits)
	hit.element == "walk"
	hit.field == ["centreline"]
	hit.case == "all"
	hit.value == 4.2
	hit.limit == 3
	contains(hit.message, "dark (below 0.4 lx) for 4.20 m, from 2.00 m to 6.20 m along it, with everything on")
}

test_known_to_be_dark_beside_the_unknown if {
	some hit in rule.hits with input as plan(object.remove(dark(4.2), ["lux_min", "lux_max"]), limits)
	hit.value == 4.2
}

test_dark_terrace if {
	some hit in rule.hits with input as plan(patio, limits)
	hit.element == "patio"
	not hit.case
	hit.limit_name == "light.path_dark_lx"
	contains(hit.message, "terrace patio gets 0.2 lx at its brightest, in any scene")
}

test_terrace_lit_in_one_scene if {
	evening := object.union(patio, {"scene": "evening", "lux_max": 12})
	count(rule.hits) == 0 with input as {"units": "m", "paths": [evening, patio], "limits": limits}
	dim := object.union(patio, {"scene": "evening", "lux_max": 0.3})
	some hit in rule.hits with input as {"units": "m", "paths": [dim, patio], "limits": limits}
	hit.value == 0.3
}

test_public_path if {
	some hit in rule.hits with input as plan(object.union(walk, {"lux_min": 10.8}), public)
	hit.case == "public, all"
	hit.limit_name == "light.path_public_lx"
	contains(hit.message, "falls to 10.8 lx at its darkest spot")
}

test_silent[name] if {
	some name, case in {
		"just as long as the limit": [dark(3), limits],
		"lit": [walk, limits],
		"lit terrace": [object.union(patio, {"lux_max": 0.4}), limits],
		"terrace of unknown light": [object.union(object.remove(patio, ["lux_min", "lux_max"]), {"known": false}), limits],
		"public and lit": [object.union(walk, {"lux_min": 11}), public],
		"public terrace": [object.union(patio, {"lux_max": 3}), public],
		"no limits": [dark(30), []],
		"no limits, terrace": [patio, []],
	}
	count(rule.hits) == 0 with input as plan(case[0], case[1])
}
