package rules.neighbour.window_test

import data.rules.neighbour.window

zone := [
	{"name": "neighbour.intensity_post_cd", "value": 500, "unit": "cd", "source": "CIE 150"},
	{"name": "neighbour.intensity_pre_cd", "value": 7500, "unit": "cd", "source": "CIE 150"},
	{"name": "neighbour.window_lux_post", "value": 1, "unit": "lx", "source": "CIE 150"},
	{"name": "neighbour.window_lux_pre", "value": 5, "unit": "lx", "source": "CIE 150"},
]

evening := {"id": "evening", "curfew": "23:00", "after_curfew": false, "ends": "22:30", "lamps": ["L1"]}

late := {"id": "late", "curfew": "23:00", "after_curfew": true, "ends": "01:00", "lamps": ["L1", "L2"]}

endless := {"id": "all", "curfew": "23:00", "after_curfew": true, "lamps": ["L1"]}

plan(scene, lux, limits) := {
	"scenes": [evening, late, endless],
	"boundary": [{"id": "attic", "kind": "neighbour-window", "edge": 0, "scene": scene, "lux": lux, "worst": "L1", "lamps": ["L1"]}],
	"sightlines": [],
	"limits": limits,
}

view(change, scenes, limits) := {
	"scenes": scenes, "boundary": [], "limits": limits,
	"sightlines": [object.union({"id": "L1", "from": "attic", "from_kind": "neighbour-window", "candela": 600}, change)],
}

test_before_the_curfew if {
	some hit in window.hits with input as plan("evening", 6, zone)
	hit.element == "attic"
	hit.case == "evening"
	hit.limit_name == "neighbour.window_lux_pre"
	contains(hit.message, "window attic gets 6.0 lx in scene evening, most of it from L1; the zone allows 5.0 lx")
}

test_after_the_curfew if {
	some hit in window.hits with input as plan("late", 1.2, zone)
	hit.limit_name == "neighbour.window_lux_post"
	contains(hit.message, "allows 1.0 lx from 23:00 on, and the scene ends at 01:00")
}

test_nobody_says_when_it_ends if {
	some hit in window.hits with input as plan("all", 1.2, zone)
	contains(hit.message, "with everything on")
	contains(hit.message, "the plan does not say when the scene ends")
}

test_no_stricter_limit if {
	limits := [limit | some limit in zone; not endswith(limit.name, "_post")]
	some hit in window.hits with input as plan("late", 6, limits)
	hit.limit_name == "neighbour.window_lux_pre"
}

test_source if {
	some hit in window.hits with input as view({}, [late], zone)
	hit.case == "source L1"
	hit.limit_name == "neighbour.intensity_post_cd"
	contains(hit.message, "L1 sends 600 cd into the neighbour's window attic; the zone allows 500 cd from 23:00 on, when L1 still burns")
}

test_source_before_the_curfew if {
	some hit in window.hits with input as view({"candela": 8000}, [evening], zone)
	hit.limit_name == "neighbour.intensity_pre_cd"
	contains(hit.message, "allows 7500 cd")
}

test_silent[name] if {
	some name, facts in {
		"at the limit": plan("evening", 5, zone),
		"at the limit, late": plan("late", 1, zone),
		"no zone": plan("late", 50, []),
		"the property line": object.union(plan("late", 50, zone), {"boundary": [{"id": "property-line", "kind": "property-line", "edge": 1, "scene": "late", "lux": 50, "lamps": []}]}),
		"weak source": view({"candela": 400}, [late], zone),
		"weak source, early": view({}, [evening], zone),
		"own window": view({"from_kind": "window"}, [late], zone),
		"no zone, source": view({}, [late], []),
	}
	count(window.hits) == 0 with input as facts
}
