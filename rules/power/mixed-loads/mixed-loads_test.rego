package rules.power.mixed_loads_test

import data.rules.power["mixed-loads"] as rule

plan(filament_va, led_va) := {"runs": [{"id": "R1", "filament_va": filament_va, "led_va": led_va}]}

test_mixed if {
	some hit in rule.hits with input as plan(60, 12)
	hit.element == "R1"
	hit.field == ["from"]
	contains(hit.message, "filament lamps (60 VA) and LED lamps (12 VA)")
}

test_one_kind if {
	count(rule.hits) == 0 with input as plan(60, 0)
	count(rule.hits) == 0 with input as plan(0, 12)
}
