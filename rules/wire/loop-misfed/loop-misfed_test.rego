package rules.wire.loop_misfed_test

import data.rules.wire["loop-misfed"] as rule

misfeed(kind) := {"id": "w9", "kind": kind, "runs": ["R1", "R2"], "members": [], "volts": 2}

plan(change) := object.union({"misfeeds": [], "fixtures": [], "runs": [{"id": "R1"}]}, change)

test_dangers[kind] if {
	some kind, words in {
		"joined-taps": "joins two taps (runs R1 and R2): 2.0 V drive a current",
		"joined-commons": "joins two commons (runs R1 and R2)",
		"joined-sources": "joins two transformers (runs R1 and R2)",
		"swapped": "conductors exchanged",
		"on-itself": "begins and ends at one place",
		"something new": "closes a loop where none may be",
	}
	some hit in rule.hits with input as plan({"misfeeds": [misfeed(kind)]})
	hit.element == "w9"
	hit.case == kind
	not hit.severity
	contains(hit.message, words)
}

test_one_run_alone if {
	some hit in rule.hits with input as plan({"misfeeds": [object.union(misfeed("swapped"), {"runs": ["R1"]})]})
	contains(hit.message, "(run R1)")
}

test_island if {
	island := {"id": "h7", "kind": "island", "runs": [], "members": ["h7", "P8"], "volts": 0}
	some hit in rule.hits with input as plan({"misfeeds": [island]})
	hit.element == "h7"
	hit.severity == "defect"
	contains(hit.message, "no transformer feeds h7 and P8")
}

test_large_island if {
	island := {"id": "h7", "kind": "island", "runs": [], "members": ["a", "b", "c", "d", "e"], "volts": 0}
	some hit in rule.hits with input as plan({"misfeeds": [island]})
	contains(hit.message, "a, b, c and 2 more")
}

test_lamp_without_a_cable if {
	some hit in rule.hits with input as plan({"fixtures": [{"id": "P9", "wired": false}, {"id": "P1", "wired": true}]})
	hit.element == "P9"
	hit.case == "no cable"
	hit.severity == "defect"
}

test_silent if {
	count(rule.hits) == 0 with input as plan({"fixtures": [{"id": "P1", "wired": true}]})
	count(rule.hits) == 0 with input as plan({"runs": [], "fixtures": [{"id": "P9", "wired": false}]})
}
