package rules.earth.no_sleeve_test

import data.rules.earth["no-sleeve"] as rule

required := [{"name": "earth.sleeve_paving_required", "flag": true, "unit": "", "source": "practice"}]

plan(pieces, crossings, limits) := {"units": "ft", "pieces": pieces, "crossings": crossings, "limits": limits}

piece(from, to) := {"id": "w1", "from_m": from, "to_m": to, "hard": ["walk"], "exempt": false, "sleeved": false}

wall := {"id": "w1", "what": "north-wall", "kind": "wall", "station_m": 3.048, "in_ground": true, "sleeved": false}

test_under_paving if {
	found := rule.hits with input as plan([piece(3, 4.2192)], [], required)
	count(found) == 1
	some hit in found
	hit.element == "w1"
	hit.field == ["sleeve"]
	hit.case == "walk"
	contains(hit.message, "under walk for 4 ft without a sleeve")
}

test_stretches_add_up if {
	found := rule.hits with input as plan([piece(3, 4), piece(6, 7)], [], required)
	[hit.value | some hit in found] == [2]
}

test_each_surface if {
	both := object.union(piece(3, 4), {"hard": ["drive", "walk"]})
	found := rule.hits with input as plan([both], [], required)
	{hit.case | some hit in found} == {"drive", "walk"}
}

test_through_a_wall if {
	found := rule.hits with input as plan([], [wall], required)
	count(found) == 1
	some hit in found
	hit.case == "north-wall"
	contains(hit.message, "wall north-wall, 10 ft along it")
}

test_silent[name] if {
	some name, change in {
		"sleeved": {"sleeved": true},
		"a rise": {"exempt": true},
		"in the open": {"hard": []},
	}
	count(rule.hits) == 0 with input as plan([object.union(piece(3, 4), change)], [], required)
}

test_silent_at_walls[name] if {
	some name, change in {
		"sleeved": {"sleeved": true},
		"on its face": {"in_ground": false},
		"not a wall": {"kind": "deck"},
	}
	count(rule.hits) == 0 with input as plan([], [object.union(wall, change)], required)
}

test_silent_without_limit if {
	count(rule.hits) == 0 with input as plan([piece(3, 4)], [wall], [])
	count(rule.hits) == 0 with input as plan([piece(3, 4)], [wall], [object.union(required[0], {"flag": false})])
}
