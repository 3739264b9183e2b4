package lib

# pulsed is true of a run whose direct current comes in pulses so slow that the limit
# of pulses for wet contact holds, not that of steady direct current.
pulsed(run) if {
	unit := transformers_by_id[run.transformer]
	unit.output == "dc"
	slow_pulses(unit.pwm_hz)
}

pulsed(run) if {
	transformers_by_id[run.transformer].output == "dc"
	some control in input.controls
	control.dim_method == "pwm"
	slow_pulses(control.dim_hz)
	some id in control.switches
	id in run.lamps
}

# slow_pulses is true of a frequency between the two of the limit of pulses.
slow_pulses(hz) if {
	hz >= limit("power.wet_pulsed_low_hz")
	hz <= limit("power.wet_pulsed_high_hz")
}
