# METADATA
# title: Filament and LED lamps share a run
# description: |
#   Filament lamps have a narrow window and pull the volts down, LED lamps have a wide
#   one. The tap that suits the last filament lamp can be too high for an LED, and when
#   a filament lamp burns out the volts rise at all the others, which then burn out one
#   after another.
# custom:
#   id: power.mixed-loads
#   severity: advice
#   basis: practice
#   source: common practice, no source
#   confidence: practice
#   needs: []
#   limits: []
#   hint: Give the filament lamps of {element} a run of their own
#   since: 0.1.0
package rules.power["mixed-loads"]

import data.lib

hits contains lib.hit(run.id, ["from"], {"message": sprintf("run %s feeds filament lamps (%s) and LED lamps (%s) from one tap: what suits one kind is wrong for the other, and a burnt-out filament raises the volts for all", [
	run.id, lib.volt_amps(run.filament_va), lib.volt_amps(run.led_va),
])}) if {
	some run in input.runs
	run.filament_va > 0
	run.filament_va > lib.tolerances.VA
	run.led_va > lib.tolerances.VA
}
