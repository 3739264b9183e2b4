package rules.neighbour.upward_test

import data.rules.neighbour.upward

zone := [{"name": "neighbour.up_share_max", "value": 0.05, "unit": "1", "source": "CIE 150"}]

dark := [{"name": "neighbour.up_share_max", "value": 0, "unit": "1", "source": "CIE 150"}]

ordinance := [{"name": "neighbour.up_lumens_max", "value": 20, "unit": "lm", "source": "MLO"}]

shore := array.concat(dark, [
	{"name": "neighbour.shield", "text": "full-cutoff", "unit": "1", "source": "shore"},
	{"name": "neighbour.tree_uplight_allowed", "flag": false, "unit": "1", "source": "shore"},
])

fixture := {"id": "U1", "up_share": 0.4, "up_lumens": 90, "shield": "none"}

plan(change, beams, limits) := {"fixtures": [object.union(fixture, change)], "beams": beams, "limits": limits}

test_share if {
	some hit in upward.hits with input as plan({}, [], zone)
	hit.element == "U1"
	hit.case == "share"
	hit.value == 0.4
	hit.limit == 0.05
	hit.message == "40.0 % of the light of U1 goes above the horizontal; the profile allows 5.0 %"
}

test_none_at_all if {
	some hit in upward.hits with input as plan({}, [], dark)
	endswith(hit.message, "the profile allows none")
}

test_lumens if {
	some hit in upward.hits with input as plan({}, [], ordinance)
	hit.case == "lumens"
	hit.message == "U1 sends 90 lm above the horizontal; the profile allows 20 lm"
}

test_tree if {
	found := upward.hits with input as plan({}, [{"id": "U1", "tree": "thorn"}], shore)
	[hit.case | some hit in found] == ["tree"]
	some hit in found
	contains(hit.message, "U1 lights tree thorn from below")
}

test_shield[shield] if {
	some shield in ["none", "louvred", "shrouded"]
	facts := plan({"shield": shield, "up_share": 0.001}, [], array.slice(shore, 1, 3))
	some hit in upward.hits with input as facts
	hit.case == "shield"
	contains(hit.message, "the profile asks for fully shielded fixtures")
}

test_silent[name] if {
	some name, facts in {
		"at the limit": plan({"up_share": 0.05}, [], zone),
		"few lumens": plan({"up_lumens": 20}, [], ordinance),
		"shielded and down": plan({"up_share": 0, "shield": "full-cutoff"}, [], shore),
		"not shielded, but nothing goes up": plan({"up_share": 0}, [], shore),
		"shield not stated": {"fixtures": [{"id": "U1", "up_share": 0}], "beams": [], "limits": shore},
		"light not known": {"fixtures": [{"id": "U1"}], "beams": [], "limits": zone},
		"tree lights without a zone": plan({}, [{"id": "U1", "tree": "thorn"}], []),
	}
	count(upward.hits) == 0 with input as facts
}
