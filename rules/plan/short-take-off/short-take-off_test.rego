package rules.plan.short_take_off_test

import data.rules.plan["short-take-off"] as rule

limits := [{"name": "plan.take_off_allowance", "value": 0.1, "unit": "1", "source": "practice"}]

cable(bought) := {"id": "12/2", "what": "cable", "index": 2, "unit": "m", "needed": 30.48, "unmeasured": 0, "bought": bought}

lugs(bought) := {"id": "lug", "what": "connector", "index": -1, "unit": "1", "needed": 12, "unmeasured": 0, "bought": bought}

plan(line, limits_in_force) := {"units": "ft", "take_off": [line], "limits": limits_in_force}

test_too_little_cable if {
	found := rule.hits with input as plan(cable(24.384), limits)
	count(found) == 1
	some hit in found
	hit.element == "take_off"
	hit.field == [2, "bought"]
	hit.case == "cable 12/2"
	hit.value == 24.384
	hit.limit == 30.48
	contains(hit.message, "80 ft of cable 12/2 bought, and the plan needs 100 ft: ")
}

test_unmeasured[words] if {
	some words, n in {"for one leg has no length": 1, "for 3 legs have no length": 3}
	some hit in rule.hits with input as plan(object.union(cable(24), {"unmeasured": n}), limits)
	contains(hit.message, words)
}

test_no_allowance_left if {
	found := rule.hits with input as plan(cable(32.004), limits)
	count(found) == 1
	some hit in found
	hit.case == "cable 12/2"
	hit.limit_name == "plan.take_off_allowance"
	contains(hit.message, "105 ft of cable 12/2 bought is enough")
	contains(hit.message, "with 10.0 % for offcuts and second thoughts it would be 110 ft")
}

test_cable_from_both_sides if {
	some hit in rule.hits with input as plan(cable(30.4799), limits)
	hit.limit_name == "plan.take_off_allowance"
	count(rule.hits) == 1 with input as plan(cable(33.52), limits)
	count(rule.hits) == 0 with input as plan(cable(33.528), limits)
}

test_counted if {
	found := rule.hits with input as plan(lugs(11), limits)
	count(found) == 1
	some hit in found
	hit.field == []
	hit.case == "connector lug"
	contains(hit.message, "11 of connector lug bought, and the plan needs 12: ")
	count(rule.hits) == 0 with input as plan(lugs(12), limits)
}

test_silent[name] if {
	some name, case in {
		"nothing listed": {"line": object.remove(cable(0), ["bought"]), "limits": limits},
		"enough": {"line": cable(60), "limits": limits},
		"enough without an allowance": {"line": cable(31), "limits": []},
		"no allowance on sleeve": {"line": object.union(cable(31), {"what": "sleeve"}), "limits": limits},
	}
	count(rule.hits) == 0 with input as plan(case.line, case.limits)
}
