package rules.site.gate_swing_test

import data.rules.site["gate-swing"] as rule

limits := [{"name": "site.leaf_clearance_m", "value": 0.3048, "unit": "m", "source": "practice"}]

plan(clearance, limits_in_force) := {"units": "ft", "leaf_clearances": [clearance], "limits": limits_in_force}

at(clearance_m) := {"id": "P1", "leaf": "side-gate", "door": false, "clearance_m": clearance_m, "clears": false}

test_in_the_way[name] if {
	some name, clearance_m in {"inside": -0.254, "touching": 0, "hardly apart": 0.0004}
	some hit in rule.hits with input as plan(at(clearance_m), limits)
	hit.element == "P1"
	hit.field == ["at"]
	hit.case == "side-gate"
	not hit.severity
	hit.value == clearance_m
	hit.limit == 0
	contains(hit.message, "swing of gate side-gate")
}

test_says_how_far_inside if {
	some hit in rule.hits with input as plan(at(-0.254), limits)
	contains(hit.message, "10 in inside")
}

test_touching_is_not_inside if {
	some hit in rule.hits with input as plan(at(0), limits)
	not contains(hit.message, "inside")
}

test_door if {
	some hit in rule.hits with input as plan(object.union(at(-0.1), {"door": true}), limits)
	contains(hit.message, "swing of door side-gate")
}

test_sliding[name] if {
	some name, clearance_m in {"inside": -0.1, "too near": 0.2}
	some hit in rule.hits with input as plan(object.union(at(clearance_m), {"slides": true}), limits)
	contains(hit.message, "the path of gate side-gate")
}

test_too_near if {
	some hit in rule.hits with input as plan(at(0.2032), limits)
	hit.severity == "advice"
	hit.case == "side-gate"
	hit.limit_name == "site.leaf_clearance_m"
	contains(hit.message, "8 in from the swing")
	contains(hit.message, "12 in is room enough")
}

test_far_enough if {
	count(rule.hits) == 0 with input as plan(at(0.3048), limits)
	count(rule.hits) == 0 with input as plan(at(0.9), limits)
}

test_leaf_passes_over if {
	count(rule.hits) == 0 with input as plan(object.union(at(-0.5), {"clears": true}), limits)
	count(rule.hits) == 0 with input as plan(object.union(at(0.1), {"clears": true}), limits)
}

test_contact_needs_no_limit if {
	count(rule.hits) == 1 with input as plan(at(-0.1), [])
	count(rule.hits) == 0 with input as plan(at(0.1), [])
}
