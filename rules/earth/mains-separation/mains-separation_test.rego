package rules.earth.mains_separation_test

import data.rules.earth["mains-separation"] as rule

limits := [{"name": "earth.mains_separation_m", "value": 0.3048, "unit": "m", "source": "practice"}]

beside := {
	"id": "w1", "what": "feed", "kind": "service", "service_kind": "mains", "crosses": false,
	"beside_m": 0.1524, "length_m": 6.096, "in_ground": true,
}

plan(crossing, limits_in_force) := {"units": "ft", "crossings": [crossing], "limits": limits_in_force}

test_beside if {
	found := rule.hits with input as plan(beside, limits)
	count(found) == 1
	some hit in found
	hit.element == "w1"
	hit.case == "feed"
	hit.field == ["route"]
	hit.value == 0.1524
	hit.limit_name == "earth.mains_separation_m"
	contains(hit.message, "for 20 ft, 6 in away")
}

test_from_both_sides if {
	count(rule.hits) == 1 with input as plan(object.union(beside, {"beside_m": 0.304}), limits)
	count(rule.hits) == 0 with input as plan(object.union(beside, {"beside_m": 0.3045}), limits)
}

test_silent[name] if {
	some name, crossing in {
		"crossed square": object.remove(object.union(beside, {"length_m": 0, "crosses": true}), ["beside_m"]),
		"crossed": object.union(beside, {"beside_m": 0, "length_m": 0.3, "crosses": true}),
		"telecom": object.union(beside, {"service_kind": "telecom"}),
		"not in the ground": object.union(beside, {"in_ground": false}),
	}
	count(rule.hits) == 0 with input as plan(crossing, limits)
}

test_silent_without_limit if count(rule.hits) == 0 with input as plan(beside, [])
