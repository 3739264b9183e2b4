package rules.power.wet_contact_limit_test

import data.rules.power["wet-contact-limit"] as rule

# Values: NFPA 70 (2020), 411.1, and the low-voltage contact limit of 680.2.
limits := [
	{"name": "power.ac_max_v", "value": 30, "unit": "V", "source": "411.1"},
	{"name": "power.dc_max_v", "value": 60, "unit": "V", "source": "411.1"},
	{"name": "power.wet_ac_max_v", "value": 15, "unit": "V", "source": "411.1"},
	{"name": "power.wet_dc_max_v", "value": 30, "unit": "V", "source": "411.1"},
	{"name": "power.wet_pulsed_high_hz", "value": 200, "unit": "Hz", "source": "680.2"},
	{"name": "power.wet_pulsed_low_hz", "value": 10, "unit": "Hz", "source": "680.2"},
	{"name": "power.wet_pulsed_max_v", "value": 12.4, "unit": "V", "source": "680.2"},
]

plan(output, tap_volts, unit, limits_in_force) := {
	"runs": [{"id": "R1", "transformer": "T1", "tap_volts": tap_volts, "lamps": ["L1"]}],
	"transformers": [object.union({"id": "T1", "output": output}, unit)],
	"controls": [],
	"limits": limits_in_force,
}

# 12 V AC passes, 24 V AC does not, 24 V DC does.
test_published_cases if {
	count(rule.hits) == 0 with input as plan("ac", 12, {}, limits)
	count(rule.hits) == 0 with input as plan("ac", 15, {}, limits)
	count(rule.hits) == 1 with input as plan("ac", 24, {}, limits)
	count(rule.hits) == 1 with input as plan("hf-ac", 24, {}, limits)
	count(rule.hits) == 0 with input as plan("dc", 24, {}, limits)
	count(rule.hits) == 0 with input as plan("dc", 30, {}, limits)
}

test_wet_contact_says_to_ask if {
	some hit in rule.hits with input as plan("ac", 24, {}, limits)
	hit.element == "R1"
	hit.case == "wet contact"
	hit.field == ["from", "tap"]
	hit.limit == 15
	contains(hit.message, "24.0 V of alternating current")
	contains(hit.message, "ask the authority")
}

test_direct_current_above if {
	some hit in rule.hits with input as plan("dc", 48, {}, limits)
	hit.limit_name == "power.wet_dc_max_v"
}

test_slow_pulses_of_the_supply[name] if {
	some name, case in {
		"slow": {"hz": 100, "hits": 1},
		"slowest": {"hz": 10, "hits": 1},
		"fast": {"hz": 1000, "hits": 0},
	}
	count(rule.hits) == case.hits with input as plan("dc", 24, {"pwm_hz": case.hz}, limits)
}

test_slow_pulses_of_a_dimmer if {
	dimmed := object.union(plan("dc", 24, {}, limits), {"controls": [{"id": "C1", "dim_method": "pwm", "dim_hz": 120, "switches": ["L1"]}]})
	some hit in rule.hits with input as dimmed
	hit.limit_name == "power.wet_pulsed_max_v"
	elsewhere := object.union(plan("dc", 24, {}, limits), {"controls": [{"id": "C1", "dim_method": "pwm", "dim_hz": 120, "switches": ["L9"]}]})
	count(rule.hits) == 0 with input as elsewhere
}

test_above_the_system_limit_is_said_once if {
	found := rule.hits with input as plan("ac", 48, {}, limits)
	{hit.case | some hit in found} == {"system"}
	{hit.case | some hit in rule.hits} == {"system"} with input as plan("dc", 72, {}, limits)
}

test_silent_without_limits if {
	count(rule.hits) == 0 with input as plan("ac", 48, {}, [])
	count(rule.hits) == 0 with input as plan("", 48, {}, limits)
}
