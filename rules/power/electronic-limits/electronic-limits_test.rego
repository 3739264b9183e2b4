package rules.power.electronic_limits_test

import data.rules.power["electronic-limits"] as rule

# Value: 5 to 10 ft, from one maker; common practice.
limits := [{"name": "power.electronic_max_m", "value": 3.048, "unit": "m", "source": "practice"}]

unit := {"id": "T1", "kind": "electronic", "output": "hf-ac", "least_load_va": 20, "farthest_m": 2}

plan(changes, limits_in_force) := {"units": "ft", "transformers": [object.union(unit, changes)], "limits": limits_in_force}

test_least_load if {
	some hit in rule.hits with input as plan({"minimum_load_va": 30}, limits)
	hit.case == "load"
	hit.element == "T1"
	hit.limit == 30
	contains(hit.message, "20 VA in its lightest scene")
	count(rule.hits) == 0 with input as plan({"minimum_load_va": 20}, limits)
	count(rule.hits) == 0 with input as plan({"minimum_load_va": 30, "kind": "magnetic", "output": "ac"}, limits)
}

test_makers_length if {
	some hit in rule.hits with input as plan({"farthest_m": 4, "largest_distance_m": 3.5, "output": "dc"}, limits)
	hit.case == "length"
	hit.limit == 3.5
	not hit.limit_name
	count(rule.hits) == 0 with input as plan({"farthest_m": 20, "largest_distance_m": 20}, limits)
}

test_customary_length if {
	some hit in rule.hits with input as plan({"farthest_m": 4}, limits)
	hit.case == "length"
	hit.limit_name == "power.electronic_max_m"
	contains(hit.message, "10 ft")
	count(rule.hits) == 0 with input as plan({"farthest_m": 3.048}, limits)
	count(rule.hits) == 0 with input as plan({"farthest_m": 40, "output": "dc"}, limits)
	count(rule.hits) == 0 with input as plan({"farthest_m": 40}, [])
}
