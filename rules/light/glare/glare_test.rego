package rules.light.glare_test

import data.rules.light.glare

common := [
	{"name": "light.glare_cd_per_klm", "value": 200, "unit": "cd/klm", "source": "from memory"},
	{"name": "light.glare_neighbour_lx", "value": 0.5, "unit": "lx", "source": "house"},
	{"name": "light.glare_path_lx", "value": 3, "unit": "lx", "source": "house"},
	{"name": "light.glare_window_lx", "value": 1, "unit": "lx", "source": "house"},
]

shore := array.concat(common, [{"name": "neighbour.source_visible_allowed", "flag": false, "unit": "1", "source": "shore"}])

view := {
	"id": "G1", "from": "walk", "from_kind": "path", "distance_m": 2, "candela": 24, "candela_per_klm": 80,
	"lux": 6, "off_axis_deg": 90, "from_down_deg": 80,
}

plan(change, limits) := {"units": "m", "sightlines": [object.union(view, change)], "boundary": [], "scenes": [], "limits": limits}

# A lamp that gives too much light at a line or window is said to do so once.
bound := array.concat(common, [
	{"name": "neighbour.property_lux", "value": 1, "unit": "lx", "source": "town"},
	{"name": "neighbour.window_lux_pre", "value": 5, "unit": "lx", "source": "CIE 150"},
	{"name": "neighbour.window_lux_post", "value": 1, "unit": "lx", "source": "CIE 150"},
])

lit(from, from_kind, light) := {
	"units": "m", "limits": bound,
	"sightlines": [object.union(view, {"from": from, "from_kind": from_kind, "lux": 3})],
	"boundary": [object.union({"id": from, "scene": "late", "lamps": ["G1"]}, light)],
	"scenes": [{"id": "late", "after_curfew": true}, {"id": "evening", "after_curfew": false}],
}

test_said_once[name] if {
	some name, facts in {
		"line": lit("property-line", "boundary", {"kind": "property-line", "lux": 3}),
		"window before the curfew": lit("attic", "neighbour-window", {"kind": "neighbour-window", "lux": 6, "scene": "evening"}),
		"window after the curfew": lit("attic", "neighbour-window", {"kind": "neighbour-window", "lux": 3}),
	}
	count(glare.hits) == 0 with input as facts
}

test_not_said_there[name] if {
	some name, facts in {
		"line": lit("property-line", "boundary", {"kind": "property-line", "lux": 0.9}),
		"window before the curfew": lit("attic", "neighbour-window", {"kind": "neighbour-window", "lux": 3, "scene": "evening"}),
		"another lamp": lit("property-line", "boundary", {"kind": "property-line", "lux": 3, "lamps": ["G2"]}),
	}
	count(glare.hits) == 1 with input as facts
}

test_in_sight[words] if {
	some words, change in {
		"G1 shows its bare source to people on path walk, 2.00 m away: 6.0 lx at the eye": {},
		"to people on stair up": {"from": "up", "from_kind": "stair"},
		"in window kitchen, 2.00 m away: 1.1 lx": {"from": "kitchen", "from_kind": "window", "lux": 1.1},
		"in the neighbour's window attic": {"from": "attic", "from_kind": "neighbour-window", "lux": 0.6},
		"beyond the property-line": {"from": "property-line", "from_kind": "boundary", "lux": 0.6},
	}
	some hit in glare.hits with input as plan(change, common)
	hit.element == "G1"
	hit.unit == "lx"
	contains(hit.message, words)
}

test_case_is_the_place if {
	some hit in glare.hits with input as plan({}, common)
	hit.case == "from walk"
}

test_throws_sideways if {
	some hit in glare.hits with input as plan({"lux": 2, "candela_per_klm": 350}, common)
	hit.limit_name == "light.glare_cd_per_klm"
	contains(hit.message, "350 cd for each 1,000 lm")
}

test_one_finding_for_one_view if {
	count(glare.hits) == 1 with input as plan({"candela_per_klm": 350}, common)
	count(glare.hits) == 1 with input as plan({"from": "attic", "from_kind": "neighbour-window"}, shore)
}

test_may_not_be_seen[kind] if {
	some kind in ["boundary", "neighbour-window"]
	some hit in glare.hits with input as plan({"from_kind": kind, "lux": 0.1}, shore)
	hit.limit_name == "neighbour.source_visible_allowed"
	contains(hit.message, "under the profile none may be")
}

test_silent[name] if {
	some name, case in {
		"at the limit": [{"lux": 3}, common],
		"own window": [{"from_kind": "window", "lux": 1}, common],
		"from above": [{"lux": 2, "candela_per_klm": 350, "from_down_deg": 40}, common],
		"weak and wide": [{"lux": 1.4, "candela_per_klm": 350}, common],
		"own window under a shore profile": [{"from_kind": "window", "lux": 0.4}, shore],
		"allowed to be seen": [{"from_kind": "boundary", "lux": 0.2}, array.concat(common, [{"name": "neighbour.source_visible_allowed", "flag": true, "unit": "1", "source": "x"}])],
		"no limits": [{"lux": 900, "candela_per_klm": 900}, []],
	}
	count(glare.hits) == 0 with input as plan(case[0], case[1])
}
