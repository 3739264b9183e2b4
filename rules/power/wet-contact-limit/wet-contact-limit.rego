# METADATA
# title: Output is too high where wet skin touches it
# description: |
#   Wet skin lets far more current through than dry skin. Below about fifteen volts of
#   alternating or thirty of direct current a shock through wet skin does no harm; above, a
#   garden lamp that is touched with wet hands or feet can hurt. Slow pulses count as
#   alternating. The rated tap is judged, never a corner of the mains.
# custom:
#   id: power.wet-contact-limit
#   severity: defect
#   basis: code
#   source: NFPA 70 (2020), 411.1 and the low-voltage contact limit of 680.2
#   confidence: single
#   needs: []
#   limits:
#     - power.ac_max_v
#     - power.dc_max_v
#     - power.wet_ac_max_v
#     - power.wet_dc_max_v
#     - power.wet_pulsed_high_hz
#     - power.wet_pulsed_low_hz
#     - power.wet_pulsed_max_v
#   hint: Use a supply of at most {limit} for run {element}, or ask the authority whether wet contact is likely there
#   since: 0.1.0
package rules.power["wet-contact-limit"]

import data.lib

# More than a low-voltage lighting system may have at all.
hits contains lib.hit(run.id, ["from", "tap"], object.union(lib.against(run.tap_volts, limit_name), {
	"case": "system",
	"message": sprintf("run %s has %s; a low-voltage lighting system may have %s", [
		run.id, lib.quantity_apart(run.tap_volts, limit, "V"), lib.quantity_apart(limit, run.tap_volts, "V"),
	]),
	"hint": "Use a supply of at most {limit} for run {element}",
})) if {
	some run in live
	limit_name := system_limit[lib.transformers_by_id[run.transformer].output]
	limit := lib.limit(limit_name)
	run.tap_volts > limit + lib.tolerances.V
}

# live are the runs of which a limit may have something to say.
live := [run |
	some run in input.runs
	run.tap_volts > harmless
]

# harmless is the volts that no limit in force minds; slow pulses are rare.
harmless := min([lib.limit(name) | some name in names])

names := ["power.ac_max_v", "power.dc_max_v", "power.wet_ac_max_v", "power.wet_dc_max_v", "power.wet_pulsed_max_v"] if {
	some_pulses
} else := ["power.ac_max_v", "power.dc_max_v", "power.wet_ac_max_v", "power.wet_dc_max_v"]

some_pulses if {
	some unit in input.transformers
	unit.pwm_hz
}

some_pulses if {
	some control in input.controls
	control.dim_method == "pwm"
}

system_limit := {"ac": "power.ac_max_v", "hf-ac": "power.ac_max_v", "dc": "power.dc_max_v"}

# More than wet skin may touch.
hits contains lib.hit(run.id, ["from", "tap"], object.union(lib.against(run.tap_volts, limit_name), {
	"case": "wet contact",
	"message": sprintf("run %s has %s of %s; where wet hands or feet may touch it %s is the most: ask the authority whether they may here", [
		run.id, lib.quantity_apart(run.tap_volts, limit, "V"), kinds[limit_name],
		lib.quantity_apart(limit, run.tap_volts, "V"),
	]),
})) if {
	some run in live
	unit := lib.transformers_by_id[run.transformer]
	limit_name := wet_limit(run, unit)
	limit := lib.limit(limit_name)
	run.tap_volts > limit + lib.tolerances.V
	not above_system(run, unit)
}

above_system(run, unit) if run.tap_volts > lib.limit(system_limit[unit.output]) + lib.tolerances.V

kinds := {
	"power.wet_ac_max_v": "alternating current",
	"power.wet_dc_max_v": "direct current",
	"power.wet_pulsed_max_v": "direct current in slow pulses",
}

wet_limit(run, unit) := "power.wet_ac_max_v" if {
	unit.output in {"ac", "hf-ac"}
} else := "power.wet_pulsed_max_v" if {
	lib.pulsed(run)
} else := "power.wet_dc_max_v" if {
	unit.output == "dc"
}
