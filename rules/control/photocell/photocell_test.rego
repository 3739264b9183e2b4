package rules.control.photocell_test

import data.rules.control.photocell

limits := [{"name": "control.sensor_lux_max", "value": 5, "unit": "lx", "source": "house"}]

control := {"id": "C1", "has_sensor": true, "sensor_lux": 12, "sensor_worst": "P1"}

plan(change, limits_in_force) := {"controls": [object.union(control, change)], "limits": limits_in_force}

test_sees_its_lamps if {
	some hit in photocell.hits with input as plan({}, limits)
	hit.element == "C1"
	hit.field == ["sensor"]
	hit.value == 12
	contains(hit.message, "gets 12.0 lx from the lamps that it switches, most of it from P1")
}

test_without_a_worst_lamp if {
	some hit in photocell.hits with input as {"controls": [object.remove(control, ["sensor_worst"])], "limits": limits}
	contains(hit.message, "switches; above 5.0 lx")
}

test_silent[name] if {
	some name, change in {"dark": {"sensor_lux": 5}, "shielded": {"shaded": true}}
	count(photocell.hits) == 0 with input as plan(change, limits)
}

test_silent_without_limit_or_light if {
	count(photocell.hits) == 0 with input as plan({}, [])
	count(photocell.hits) == 0 with input as {"controls": [object.remove(control, ["sensor_lux"])], "limits": limits}
}
