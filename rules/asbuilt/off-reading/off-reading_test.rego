package rules.asbuilt.off_reading_test

import data.rules.asbuilt["off-reading"] as rule

limits := [
	{"name": "asbuilt.volts_tolerance_v", "value": 0.3, "unit": "V"},
	{"name": "asbuilt.amps_tolerance", "value": 0.1, "unit": "1"},
]

plan(reading) := {"units": "ft", "limits": limits, "readings": [object.union({"id": "v/F1", "latest": true, "set": "v", "index": 2, "at": "F1"}, reading)]}

volts(measured) := plan({"quantity": "volts", "measured": measured, "expected": 11.5, "tolerance": 0.2})

amps(measured) := plan({"quantity": "amps", "measured": measured, "expected": 8, "tolerance": 0.3})

test_grades[name] if {
	some name, c in {
		"volts far off": {"plan": volts(10.9), "severity": "defect"},
		"volts just off": {"plan": volts(11.25), "severity": "advice"},
		"volts too high": {"plan": volts(12.2), "severity": "defect"},
		"amps far off": {"plan": amps(9.5), "severity": "defect"},
		"amps just off": {"plan": amps(7.6), "severity": "advice"},
	}
	some hit in rule.hits with input as c.plan
	hit.severity == c.severity
	hit.element == "v"
	hit.case == "v/F1"
}

test_within if count(rule.hits) == 0 with input as volts(11.35)

test_refused_reading_is_silent if count(rule.hits) == 0 with input as plan({"quantity": "volts", "measured": 3, "refused": "why"})

test_place if {
	some hit in rule.hits with input as volts(10)
	hit.field == ["values", 2, "volts"]
}

test_earlier_visit_is_history if count(rule.hits) == 0 with input as plan({"latest": false, "quantity": "volts", "measured": 10, "expected": 11.5, "tolerance": 0.2})
