package rules.power.branch_circuit_test

import data.rules.power["branch-circuit"] as rule

# Values: NFPA 70 (2020), 210.20(A) (80 %) and 411.7 (20 A); the multiple of inrush is from memory.
limits := [
	{"name": "power.branch_continuous", "value": 0.8, "unit": "1", "source": "210.20(A)"},
	{"name": "power.branch_max_a", "value": 20, "unit": "A", "source": "411.7"},
	{"name": "power.inrush_breaker", "value": 5, "unit": "1", "source": "memory"},
]

branch(breaker_amps, total_amps) := {"id": "B3", "breaker_amps": breaker_amps, "total_amps": total_amps, "transformers": ["T1"]}

plan(circuit, limits_in_force) := {"branches": [circuit], "limits": limits_in_force}

cases(found) := {[hit.case, object.get(hit, "severity", "defect")] | some hit in found}

test_over_the_breaker if {
	found := rule.hits with input as plan(branch(15, 15.2), limits)
	cases(found) == {["load", "defect"]}
	some hit in found
	hit.element == "B3"
	hit.field == ["breaker"]
	hit.limit == 15
	contains(hit.message, "15.2 A with transformer T1 and its other load;")
}

test_names_the_corner if {
	some amps in [15.2, 14]
	some hit in rule.hits with input as plan(object.union(branch(15, amps), {"primary_corner": "low supply, hot cable"}), limits)
	contains(hit.message, "its other load (low supply, hot cable)")
}

# Published pairs of breaker and continuous load: 15 A and 12 A, 20 A and 16 A.
test_continuous_share_from_both_sides if {
	cases(rule.hits) == {["load", "advice"]} with input as plan(branch(20, 16.1), limits)
	count(rule.hits) == 0 with input as plan(branch(20, 16), limits)
	cases(rule.hits) == {["load", "advice"]} with input as plan(branch(15, 12.1), limits)
	count(rule.hits) == 0 with input as plan(branch(15, 12), limits)
}

test_share_message if {
	some hit in rule.hits with input as plan(object.union(branch(20, 17), {"transformers": ["T1", "T2"]}), limits)
	contains(hit.message, "transformers T1 and T2")
	contains(hit.message, "85.0 % of its 20.0 A breaker")
	hit.limit_name == "power.branch_continuous"
}

test_large_circuit if {
	found := rule.hits with input as plan(branch(30, 5), limits)
	cases(found) == {["size", "advice"]}
	some hit in found
	contains(hit.message, "breaker of 30.0 A")
}

test_circuit_without_transformers if {
	idle := object.union(branch(30, 29), {"transformers": []})
	count(rule.hits) == 0 with input as plan(idle, limits)
	some hit in rule.hits with input as plan(object.union(branch(30, 31), {"transformers": []}), limits)
	contains(hit.message, "no transformer")
}

test_inrush if {
	found := rule.hits with input as plan(object.union(branch(20, 5), {"inrush_amps": 120}), limits)
	cases(found) == {["inrush", "advice"]}
	some hit in found
	contains(hit.message, "6.0 times its rating")
	count(rule.hits) == 0 with input as plan(object.union(branch(20, 5), {"inrush_amps": 100}), limits)
}

test_silent[name] if {
	some name, case in {
		"no limits": {"branch": object.union(branch(30, 29), {"inrush_amps": 900}), "limits": []},
		"no breaker": {"branch": object.remove(branch(20, 19), ["breaker_amps"]), "limits": limits},
		"no load": {"branch": object.remove(branch(20, 19), ["total_amps"]), "limits": limits},
	}
	count(rule.hits) == 0 with input as plan(case.branch, case.limits)
}
