# METADATA
# title: Short circuit does not trip the breaker
# description: |
#   Long thin cable holds back the current of a short at its far end. Where it stays below what
#   trips the device, nothing opens: if the cable cannot bear that current it overheats in the
#   ground or in the mulch, for hours, with nobody to see it. The short is computed at low supply
#   with a hot cable, the current that heats at high supply with a cold one.
# custom:
#   id: wire.fault-not-cleared
#   severity: danger
#   basis: practice
#   source: Ohm's law, and how far above its rating a device is said to trip
#   confidence: practice
#   needs: []
#   limits:
#     - wire.trip_multiple_breaker
#     - wire.trip_multiple_electronic
#     - wire.trip_multiple_fuse
#   hint: Use thicker cable on run {element}, or a common with a smaller device
#   since: 0.1.0
package rules.wire["fault-not-cleared"]

import data.lib

# Nothing opens, and a cable carries more than it may.
hits contains lib.hit(fault.id, ["from"], {
	"value": fault.heated_amps,
	"limit": fault.heated_ampacity_a,
	"unit": "A",
	"message": sprintf("a short on run %s can load leg %s with as much as %s for hours: its %s %s opens only above %s, and the cable may carry %s", [
		fault.id, fault.heated_leg, lib.quantity_apart(fault.heated_amps, fault.heated_ampacity_a, "A"),
		lib.amps(fault.device_amps), device(fault), lib.amps(fault.needed_amps),
		lib.quantity_apart(fault.heated_ampacity_a, fault.heated_amps, "A"),
	]),
}) if {
	some fault in input.faults
	fault.heated_leg
	fault.device_amps
}

# Nothing opens, and the cable bears it. A supply that reacts to a short by itself shows it.
hits contains lib.hit(fault.id, ["from"], {
	"severity": "advice",
	"value": fault.least_amps,
	"limit": fault.needed_amps,
	"unit": "A",
	"message": sprintf("a short at %s draws only %s, too little to trip the %s %s of run %s, which needs %s: it goes unnoticed", [
		fault.at, lib.quantity_apart(fault.least_amps, fault.needed_amps, "A"), lib.amps(fault.device_amps),
		device(fault), fault.id, lib.quantity_apart(fault.needed_amps, fault.least_amps, "A"),
	]),
}) if {
	some fault in input.faults
	fault.clears == false
	fault.supply_reacts == false
	fault.device_amps
	not fault.heated_leg
}

device(fault) := words[fault.device_kind]

words := {"breaker": "breaker", "fuse": "fuse", "electronic": "electronic limit"}
