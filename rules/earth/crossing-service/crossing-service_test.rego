package rules.earth.crossing_service_test

import data.rules.earth["crossing-service"] as rule

limits := [{"name": "earth.service_separation_m", "value": 0.6096, "unit": "m", "source": "practice"}]

across := {
	"id": "w1", "what": "L", "kind": "service", "service_kind": "gas", "station_m": 4.572, "length_m": 0,
	"crosses": true, "separation_m": 0, "in_ground": true, "located": false,
}

beside := object.union(across, {"crosses": false, "separation_m": 0.3048, "length_m": 3.048})

plan(crossing, limits_in_force) := {"units": "ft", "crossings": [crossing], "limits": limits_in_force}

test_across if {
	found := rule.hits with input as plan(across, limits)
	count(found) == 1
	some hit in found
	hit.element == "w1"
	hit.field == ["route"]
	hit.case == "L"
	not hit.severity
	contains(hit.message, "crosses L (gas), 15 ft along it")
	contains(hit.message, "can kill")
}

test_across_needs_no_limit if count(rule.hits) == 1 with input as plan(across, [])

test_every_kind_has_words[kind] if {
	some kind, words in {
		"drain": "a drain", "irrigation": "irrigation", "mains": "mains power", "other": "a buried line",
		"septic": "a septic line", "telecom": "telecom", "water": "water",
	}
	some hit in rule.hits with input as plan(object.union(across, {"service_kind": kind}), limits)
	contains(hit.message, sprintf("L (%s)", [words]))
}

test_a_line_called_by_its_kind if {
	some hit in rule.hits with input as plan(object.union(across, {"what": "gas"}), limits)
	contains(hit.message, "crosses gas, 15 ft along it")
}

test_water_breaks if {
	some hit in rule.hits with input as plan(object.union(across, {"service_kind": "water"}), limits)
	contains(hit.message, "can break it")
}

test_near_and_not_located if {
	found := rule.hits with input as plan(beside, limits)
	count(found) == 1
	some hit in found
	hit.severity == "advice"
	hit.case == "L"
	hit.value == 0.3048
	hit.limit_name == "earth.service_separation_m"
	contains(hit.message, "within 12 in of L (gas), which has not been located")
}

test_beside_a_marked_line[kind] if {
	some kind in ["gas", "telecom", "water"]
	found := rule.hits with input as plan(object.union(beside, {"located": true, "service_kind": kind}), limits)
	count(found) == 1
	some hit in found
	hit.severity == "advice"
	contains(hit.message, "runs 10 ft beside L")
	contains(hit.message, "12 in away: within 2 ft of a mark")
}

test_separation_from_both_sides if {
	count(rule.hits) == 1 with input as plan(object.union(beside, {"separation_m": 0.6}), limits)
	count(rule.hits) == 0 with input as plan(object.union(beside, {"separation_m": 0.6092}), limits)
}

test_silent[name] if {
	some name, crossing in {
		"located": object.union(across, {"located": true}),
		"located or not is not known": object.remove(across, ["located"]),
		"not in the ground": object.union(across, {"in_ground": false}),
		"not a service": object.union(across, {"kind": "root-zone"}),
		"the way is not known": object.remove(object.union(across, {"crosses": false}), ["separation_m"]),
		"beside a marked irrigation line": object.union(beside, {"located": true, "service_kind": "irrigation"}),
		"beside marked mains": object.union(beside, {"located": true, "service_kind": "mains"}),
		"up to a marked line, not beside it": object.union(beside, {"located": true, "length_m": 0}),
	}
	count(rule.hits) == 0 with input as plan(crossing, limits)
}

test_near_needs_the_limit if count(rule.hits) == 0 with input as plan(beside, [])
