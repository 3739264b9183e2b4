package rules.earth.lug_fill_test

import data.rules.earth["lug-fill"] as rule

joint(conductors) := {"id": "n", "connector": "lug", "conductors": conductors, "most_conductors": 4}

common(conductors) := {"id": "T1/2", "transformer": "T1", "number": 2, "conductors": conductors, "most_conductors": 3}

plan(joints, commons, kind) := {"joints": joints, "commons": commons, "nodes": [{"id": "n", "kind": kind}]}

test_joint if {
	found := rule.hits with input as plan([joint(5)], [], "tee")
	count(found) == 1
	some hit in found
	hit.element == "n"
	hit.field == ["connector"]
	hit.severity == "defect"
	hit.value == 5
	hit.limit == 4
	contains(hit.message, "5 conductors of each pole meet at n, and connector lug takes 4")
}

test_fixture if {
	some hit in rule.hits with input as plan([object.union(joint(5), {"id": "P1"})], [], "hub")
	hit.severity == "defect"
}

test_hub_is_advice if {
	some hit in rule.hits with input as plan([joint(5)], [], "hub")
	hit.severity == "advice"
}

test_common if {
	found := rule.hits with input as plan([], [common(4)], "tee")
	count(found) == 1
	some hit in found
	hit.element == "T1"
	hit.case == "common 2"
	not hit.severity
	contains(hit.message, "4 cables land on common 2 of T1, and the terminal takes 3")
}

test_full_is_not_too_full if {
	count(rule.hits) == 0 with input as plan([joint(4)], [common(3)], "tee")
}

test_not_stated if {
	joints := [object.remove(joint(9), ["most_conductors"])]
	commons := [object.remove(common(9), ["most_conductors"])]
	count(rule.hits) == 0 with input as plan(joints, commons, "tee")
}
