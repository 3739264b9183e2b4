package rules.earth.unlisted_cable_test

import data.rules.earth["unlisted-cable"] as rule

leg := {"id": "w1", "cable": "cord", "method": "buried", "direct_burial": false, "sunlight_resistant": false}

plan(legs) := {"legs": legs}

test_buried if {
	found := rule.hits with input as plan([leg, object.union(leg, {"id": "w2"})])
	count(found) == 1
	some hit in found
	hit.element == "cord"
	hit.case == "burial"
	hit.field == ["direct_burial"]
	not hit.severity
	contains(hit.message, "as w1 and w2")
}

test_method_not_stated if {
	count(rule.hits) == 1 with input as plan([object.remove(leg, ["method"])])
}

test_in_the_sun[method] if {
	some method in ["surface", "on-tree"]
	found := rule.hits with input as plan([object.union(leg, {"method": method})])
	count(found) == 1
	some hit in found
	hit.case == "sunlight"
	hit.severity == "advice"
}

test_silent[name] if {
	some name, case in {
		"marked for burial": object.union(leg, {"direct_burial": true}),
		"mark not known": object.remove(leg, ["direct_burial", "sunlight_resistant"]),
		"in a sleeve": object.union(leg, {"sleeve_where": "whole"}),
		"in the wall": object.union(leg, {"method": "in-wall"}),
		"marked for sunlight": object.union(leg, {"method": "surface", "sunlight_resistant": true}),
	}
	count(rule.hits) == 0 with input as plan([case])
}

test_sleeved_at_crossings_is_bare_between if {
	count(rule.hits) == 1 with input as plan([object.union(leg, {"sleeve_where": "crossings"})])
}
