package rules.earth.root_zone_test

import data.rules.earth["root-zone"] as rule

limits := [{"name": "earth.root_zone_factor", "value": 1, "unit": "1", "source": "practice"}]

through(length_m) := {
	"id": "w1", "what": "oak", "kind": "root-zone", "station_m": 2, "length_m": length_m, "zone_m": 3.048,
	"crosses": true, "in_ground": true,
}

plan(crossing, limits_in_force) := {"units": "ft", "crossings": [crossing], "limits": limits_in_force}

test_across if {
	found := rule.hits with input as plan(through(4.572), limits)
	count(found) == 1
	some hit in found
	hit.element == "w1"
	hit.field == ["route"]
	hit.case == "oak"
	hit.limit == 3.048
	contains(hit.message, "root zone of oak for 15 ft; a straight way in takes 10 ft")
}

test_from_both_sides if {
	count(rule.hits) == 1 with input as plan(through(3.05), limits)
	count(rule.hits) == 0 with input as plan(through(3.0484), limits)
	count(rule.hits) == 0 with input as plan(through(2), limits)
}

test_silent[name] if {
	some name, case in {
		"on the ground": {"crossing": object.union(through(5), {"in_ground": false}), "limits": limits},
		"roots not known": {"crossing": object.remove(through(5), ["zone_m"]), "limits": limits},
		"not roots": {"crossing": object.union(through(5), {"kind": "deck"}), "limits": limits},
		"no limit": {"crossing": through(5), "limits": []},
	}
	count(rule.hits) == 0 with input as plan(case.crossing, case.limits)
}
