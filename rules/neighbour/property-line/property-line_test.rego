package rules.neighbour.property_line_test

import data.rules.neighbour["property-line"] as rule

town := [
	{"name": "neighbour.property_lux", "value": 1.1, "unit": "lx", "source": "town code", "profile": "town"},
	{"name": "neighbour.property_height_m", "value": 1.5, "unit": "m", "source": "town code", "profile": "common"},
]

common := [object.union(town[0], {"profile": "common", "value": 10.8})]

light := {
	"id": "property-line", "kind": "property-line", "edge": 3, "scene": "all", "lux": 2.4,
	"worst": "L4", "lamps": ["L4", "L5"],
}

plan(change, limits) := {
	"units": "m", "has_site": true, "has_property_line": true, "fixtures": [{"id": "L4", "has_light": true}],
	"boundary": [object.union(light, change)], "limits": limits,
}

test_too_much if {
	some hit in rule.hits with input as plan({}, town)
	hit.element == "site"
	hit.field == ["property_line"]
	hit.case == "side 3, all"
	hit.value == 2.4
	hit.limit == 1.1
	contains(hit.message, "side 3 of the property line gets 2.4 lx at 1.50 m with everything on, most of it from L4; the profile allows 1.1 lx")
	hit.hint == "Move, turn, shade or dim L4 and L5"
}

test_many_lamps if {
	some hit in rule.hits with input as plan({"lux": 20, "lamps": ["L4", "L5", "L6", "L7"], "scene": "late"}, common)
	hit.hint == "Move, turn, shade or dim L4, L5 and 2 more"
	contains(hit.message, "gets 20.0 lx in scene late")
}

test_no_line if {
	facts := object.union(plan({}, town), {"has_property_line": false, "boundary": []})
	some hit in rule.hits with input as facts
	hit.case == "no line"
	contains(hit.message, "profile town limits the light at the property line")
}

test_silent[name] if {
	some name, facts in {
		"at the limit": plan({"lux": 1.1}, town),
		"a window": plan({"kind": "neighbour-window"}, town),
		"no limit": plan({}, []),
		"no line, common practice": object.union(plan({}, common), {"has_property_line": false, "boundary": []}),
		"no line, no site": object.union(plan({}, town), {"has_property_line": false, "has_site": false, "boundary": []}),
		"no line, no light": object.union(
			object.remove(plan({}, town), ["fixtures"]),
			{"has_property_line": false, "boundary": [], "fixtures": [{"id": "L4", "has_light": false}]},
		),
	}
	count(rule.hits) == 0 with input as facts
}
