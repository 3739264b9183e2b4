package rules.wire.uneven_run_test

import data.rules.wire["uneven-run"] as rule

# Values: 1 to 2 V, makers and contractors; common practice.
limits := [
	{"name": "wire.equal_leads_m", "value": 0.9144, "unit": "m", "source": "house"},
	{"name": "wire.filament_spread_advice_v", "value": 1, "unit": "V", "source": "practice"},
	{"name": "wire.filament_spread_defect_v", "value": 1.5, "unit": "V", "source": "practice"},
]

run := {"id": "R1", "first_lamp": "L1", "last_lamp": "L6", "equal_leads": false}

plan(change, limits_in_force) := {"units": "ft", "runs": [object.union(run, change)], "limits": limits_in_force}

test_spread[name] if {
	some name, case in {
		"some": {"volts": 1.2, "severity": "advice", "limit": "wire.filament_spread_advice_v"},
		"much": {"volts": 1.6, "severity": "defect", "limit": "wire.filament_spread_defect_v"},
		"at the upper limit": {"volts": 1.5, "severity": "advice", "limit": "wire.filament_spread_advice_v"},
	}
	some hit in rule.hits with input as plan({"filament_spread_v": case.volts}, limits)
	hit.element == "R1"
	hit.case == "spread"
	hit.severity == case.severity
	hit.limit_name == case.limit
	contains(hit.message, "gives lamp L1")
	contains(hit.message, "more than lamp L6")
}

test_leads if {
	some hit in rule.hits with input as plan({"equal_leads": true, "longest_lead_m": 7.62, "shortest_lead_m": 3.048}, limits)
	hit.case == "leads"
	hit.severity == "advice"
	contains(hit.message, "run from 10 ft to 25 ft")
}

test_silent[name] if {
	some name, change in {
		"even": {"filament_spread_v": 1},
		"no filament lamps": {},
		"leads equal enough": {"equal_leads": true, "longest_lead_m": 3.9, "shortest_lead_m": 3},
		"no claim": {"longest_lead_m": 9, "shortest_lead_m": 3},
		"no leads known": {"equal_leads": true},
	}
	count(rule.hits) == 0 with input as plan(change, limits)
}

test_silent_without_limits if {
	count(rule.hits) == 0 with input as plan({"filament_spread_v": 3, "equal_leads": true, "longest_lead_m": 9, "shortest_lead_m": 3}, [])
}
