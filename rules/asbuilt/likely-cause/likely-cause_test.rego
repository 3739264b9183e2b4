package rules.asbuilt.likely_cause_test

import data.rules.asbuilt["likely-cause"] as rule

suspect(extra) := object.union({"id": "F2", "latest": true, "set": "v", "transformer": "T1", "kind": "dead-lamp", "words": "lamp F2 draws nothing", "rank": 1}, extra)

plan(suspects, diagnosis) := {
	"suspects": suspects,
	"diagnoses": [object.union({"latest": true, "set": "v", "transformer": "T1", "outcome": "suspect"}, diagnosis)],
}

test_dead_lamp if {
	some hit in rule.hits with input as plan([suspect({})], {})
	hit.element == "F2"
	contains(hit.message, "lamp F2 draws nothing")
}

test_not_clear[outcome] if {
	some outcome in ["underdetermined", "unexplained"]
	some hit in rule.hits with input as plan([suspect({})], {"outcome": outcome})
	hit.element == "v"
	hit.severity == "advice"
}

test_next_reading if {
	some hit in rule.hits with input as plan([], {"outcome": "underdetermined", "next_at": "F3", "next_quantity": "volts"})
	contains(hit.message, "read volts at F3 next")
}

test_silent[name] if {
	some name, p in {
		"joint": plan([suspect({"kind": "joint"})], {}),
		"earlier visit": plan([suspect({"latest": false})], {"latest": false, "outcome": "unexplained"}),
		"second in rank": plan([suspect({"rank": 2})], {}),
		"healthy": plan([], {"outcome": "healthy"}),
		"other transformer": plan([suspect({"transformer": "T2"})], {}),
	}
	count(rule.hits) == 0 with input as p
}
