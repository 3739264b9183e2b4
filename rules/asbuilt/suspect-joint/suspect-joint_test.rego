package rules.asbuilt.suspect_joint_test

import data.rules.asbuilt["suspect-joint"] as rule

limits := [{"name": "asbuilt.joint_hot_w", "value": 2, "unit": "W"}, {"name": "asbuilt.suspect_ohm_min", "value": 0.02, "unit": "ohm"}]

suspect(extra) := object.union({"id": "w2", "latest": true, "set": "v", "transformer": "T1", "kind": "joint", "words": "leg w2 has 0.20 ohm too much", "extra_ohm": 0.2, "watts": 1, "group": 1, "rank": 1}, extra)

plan(suspects, diagnosis) := {
	"units": "ft",
	"limits": limits,
	"suspects": suspects,
	"diagnoses": [object.union({"latest": true, "set": "v", "transformer": "T1", "outcome": "suspect"}, diagnosis)],
}

test_warm_joint if {
	some hit in rule.hits with input as plan([suspect({})], {})
	hit.severity == "defect"
	hit.element == "w2"
	hit.case == "v"
}

test_charring_joint if {
	some hit in rule.hits with input as plan([suspect({"watts": 2})], {})
	hit.severity == "danger"
}

test_small_excess if {
	some hit in rule.hits with input as plan([suspect({"extra_ohm": 0.019, "watts": 0.4})], {})
	hit.severity == "advice"
}

test_small_excess_that_chars if {
	some hit in rule.hits with input as plan([suspect({"extra_ohm": 0.019, "watts": 2.1})], {})
	hit.severity == "danger"
}

test_rivals_and_next_reading if {
	two := [suspect({}), suspect({"id": "w3", "rank": 2}), suspect({"id": "w4", "rank": 3, "group": 2})]
	some hit in rule.hits with input as plan(two, {"next_at": "F3", "next_quantity": "volts"})
	contains(hit.message, "w3 would show the same readings")
	not contains(hit.message, "w4")
	contains(hit.message, "read volts at F3 to tell them apart")
}

test_silent[name] if {
	some name, p in {
		"dead lamp": plan([suspect({"kind": "dead-lamp"})], {}),
		"earlier visit": plan([suspect({"latest": false})], {}),
		"second in rank": plan([suspect({"rank": 2})], {}),
		"not clear": plan([suspect({})], {"outcome": "underdetermined"}),
		"another visit": plan([suspect({"set": "other"})], {}),
	}
	count(rule.hits) == 0 with input as p
}
