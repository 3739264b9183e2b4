package rules.earth.concealed_test

import data.rules.earth.concealed

code := [{"name": "earth.concealed_method_required", "flag": true, "unit": "", "source": "411.5(A)", "basis": "code"}]

practice := [object.union(code[0], {"basis": "practice"})]

leg := {"id": "w1", "run": "R1", "cable": "12/2", "cable_listing": ["direct-burial"]}

plan(change, crossings, limits) := {
	"units": "ft",
	"legs": [object.union(leg, change)],
	"crossings": crossings,
	"runs": [{"id": "R1", "transformer": "T1"}],
	"transformers": [{"id": "T1", "listing": ["landscape-system"]}],
	"limits": limits,
}

under := {"id": "w1", "what": "house", "kind": "building", "length_m": 3.048, "in_ground": true, "sleeved": false}

test_in_a_wall if {
	found := concealed.hits with input as plan({"method": "in-wall"}, [], code)
	count(found) == 1
	some hit in found
	hit.element == "w1"
	hit.field == ["method"]
	hit.case == "in a wall"
	hit.severity == "defect"
	contains(hit.message, "cable 12/2 is not listed")
}

test_under_a_building if {
	found := concealed.hits with input as plan({"method": "under-building"}, [], code)
	count(found) == 1
	some hit in found
	hit.case == "under a building"
	hit.severity == "defect"
}

test_drawn_under_a_building if {
	found := concealed.hits with input as plan({"method": "buried"}, [under], code)
	count(found) == 1
	some hit in found
	hit.case == "house"
	hit.field == ["route"]
	contains(hit.message, "under house for 10 ft")
}

test_practice_is_advice if {
	some hit in concealed.hits with input as plan({"method": "in-wall"}, [], practice)
	hit.severity == "advice"
}

test_class_2_asks if {
	facts := object.union(plan({"method": "in-wall"}, [], code), {"transformers": [{"id": "T1", "listing": ["class-2"]}]})
	some hit in concealed.hits with input as facts
	hit.severity == "advice"
	contains(hit.message, "ask whether another article holds")
}

test_silent[name] if {
	some name, case in {
		"listed for walls": {"change": {"method": "in-wall", "cable_listing": ["in-wall"]}, "crossings": []},
		"raceway in the wall": {"change": {"method": "in-wall", "sleeve_where": "whole"}, "crossings": []},
		"listed for buildings": {"change": {"method": "under-building", "cable_listing": ["under-building"]}, "crossings": []},
		"raceway under it": {"change": {"method": "under-building", "sleeve_where": "crossings"}, "crossings": []},
		"drawn, listed": {"change": {"method": "buried", "cable_listing": ["under-building"]}, "crossings": [under]},
		"drawn, in a raceway": {"change": {"method": "buried"}, "crossings": [object.union(under, {"sleeved": true})]},
		"along the garage wall, in sight": {"change": {"method": "surface"}, "crossings": [object.union(under, {"in_ground": false})]},
		"under a deck": {"change": {"method": "buried"}, "crossings": [object.union(under, {"kind": "deck"})]},
		"in the open": {"change": {"method": "buried"}, "crossings": []},
	}
	count(concealed.hits) == 0 with input as plan(case.change, case.crossings, code)
}

test_cable_not_known if {
	facts := {"units": "ft", "legs": [{"id": "w1", "run": "R1", "cable_listing": [], "method": "in-wall"}], "limits": code}
	count(concealed.hits) == 0 with input as facts
}

test_partly_sleeved_wall if {
	count(concealed.hits) == 1 with input as plan({"method": "in-wall", "sleeve_where": "crossings"}, [], code)
}

test_silent_without_limit[name] if {
	some name, change in {"wall": {"method": "in-wall"}, "building": {"method": "under-building"}}
	count(concealed.hits) == 0 with input as plan(change, [under], [])
	count(concealed.hits) == 0 with input as plan(change, [under], [object.union(code[0], {"flag": false})])
}
