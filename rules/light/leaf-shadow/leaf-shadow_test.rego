package rules.light.leaf_shadow_test

import data.rules.light["leaf-shadow"] as rule

limits := [
	{"name": "light.step_dark_lx", "value": 1, "unit": "lx", "source": "practice"},
	{"name": "light.landing_dark_lx", "value": 2, "unit": "lx", "source": "practice"},
	{"name": "light.path_dark_lx", "value": 0.4, "unit": "lx", "source": "practice"},
]

shadow := {
	"id": "up/1", "leaf": "gate", "scene": "all", "position": "closed", "open_deg": 0, "tread": true,
	"lux_without": 7.3, "lux_with": 0,
}

plan(shadows, limits_in_force) := {
	"leaf_shadows": [object.union(shadow, s) | some s in shadows],
	"leaves": [{"id": "gate", "door": false}, {"id": "front", "door": true}],
	"treads": [{"id": "rest", "landing": true}, {"id": "up/1", "landing": false}],
	"limits": limits_in_force,
}

test_positions[words] if {
	some words, change in {
		"gate gate, closed, leaves up/1 in the dark with everything on: 0.0 lx instead of 7.3 lx": {},
		"gate gate, left open, leaves walk in the dark in scene late": {"id": "walk", "tread": false, "position": "open", "open_deg": 90, "scene": "late"},
		"door front, when it is 40° open, leaves up/1 in the dark": {"leaf": "front", "position": "swing", "open_deg": 40},
	}
	some hit in rule.hits with input as plan([change], limits)
	contains(hit.message, words)
}

test_limits[name] if {
	some name, case in {
		"light.step_dark_lx": {"lux_with": 0.9},
		"light.landing_dark_lx": {"id": "rest", "tread": false, "lux_with": 1.9},
		"light.path_dark_lx": {"id": "walk", "tread": false, "lux_with": 0.3},
	}
	some hit in rule.hits with input as plan([case], limits)
	hit.limit_name == name
	hit.value == case.lux_with
}

test_rest_says_it_for_the_swing if {
	found := rule.hits with input as plan([{}, {"position": "swing", "open_deg": 20}], limits)
	[hit.case | some hit in found] == ["gate closed, all"]
}

test_silent[name] if {
	some name, change in {
		"light enough for a step": {"lux_with": 1},
		"light enough for a landing": {"id": "rest", "tread": false, "lux_with": 2},
		"light enough for a path": {"id": "walk", "tread": false, "lux_with": 0.4},
		"a path while it swings": {"id": "walk", "tread": false, "position": "swing"},
		"light enough while it swings": {"position": "swing", "lux_with": 3},
	}
	count(rule.hits) == 0 with input as plan([change], limits)
}

test_silent_without_limits if {
	count(rule.hits) == 0 with input as plan([{}, {"position": "swing"}], [])
}
