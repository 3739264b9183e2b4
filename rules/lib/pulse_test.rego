package lib_test

import data.lib

# 10 to 200 Hz: low-voltage contact limit, NFPA 70 (2020), 680.2.
pulse_limits := [
	{"name": "power.wet_pulsed_high_hz", "value": 200, "unit": "Hz", "source": "680.2"},
	{"name": "power.wet_pulsed_low_hz", "value": 10, "unit": "Hz", "source": "680.2"},
]

pulse_run := {"id": "R1", "transformer": "T1", "lamps": ["L1"]}

pulse_plan(unit, controls) := {"transformers": [object.union({"id": "T1", "output": "dc"}, unit)], "controls": controls, "limits": pulse_limits}

dimmer(hz, id) := {"id": "C1", "dim_method": "pwm", "dim_hz": hz, "switches": [id]}

test_pulsed[name] if {
	some name, plan in {
		"slowest of the supply": pulse_plan({"pwm_hz": 10}, []),
		"fastest of the supply": pulse_plan({"pwm_hz": 200}, []),
		"of a dimmer": pulse_plan({}, [dimmer(120, "L1")]),
		"slow dimmer, fast supply": pulse_plan({"pwm_hz": 1000}, [dimmer(120, "L1")]),
	}
	lib.pulsed(pulse_run) with input as plan
}

test_not_pulsed[name] if {
	some name, plan in {
		"steady": pulse_plan({}, []),
		"fast": pulse_plan({"pwm_hz": 201}, []),
		"slower than counts": pulse_plan({"pwm_hz": 9}, []),
		"alternating": pulse_plan({"output": "ac", "pwm_hz": 100}, [dimmer(120, "L1")]),
		"dimmer of other lamps": pulse_plan({}, [dimmer(120, "L2")]),
		"no limits": object.union(pulse_plan({"pwm_hz": 100}, []), {"limits": []}),
	}
	not lib.pulsed(pulse_run) with input as plan
}
