# METADATA
# title: Meter reading departs from the computed value
# description: |
#   The plan says what each lamp should get and each common should carry. A
#   reading beyond what the meter, the cable and its temperature explain means
#   that something was built otherwise, or has failed. It is the cheapest warning
#   there is: a corroded joint shows in volts long before it shows in light.
# custom:
#   id: asbuilt.off-reading
#   severity: defect
#   basis: practice
#   source: common practice, no source
#   confidence: practice
#   needs: []
#   limits: [asbuilt.amps_tolerance, asbuilt.volts_tolerance_v]
#   hint: Read it again with the same lamps on; then look at what explains all readings together
#   since: 0.1.0
package rules.asbuilt["off-reading"]

import data.lib

hits contains lib.hit(reading.set, ["values", reading.index, reading.quantity], {
	"case": reading.id,
	"severity": severity(reading, off),
	"value": off,
	"limit": reading.tolerance,
	"unit": unit[reading.quantity],
	"message": sprintf("%s reads %s; computed %s, and meter, cable and temperature explain %s at most", [
		reading.at, shown(reading, reading.measured), shown(reading, reading.expected), shown(reading, reading.tolerance),
	]),
}) if {
	some reading in input.readings
	reading.latest
	off := abs(reading.measured - reading.expected)
	off > reading.tolerance
}

unit := {"volts": "V", "amps": "A"}

shown(reading, value) := lib.quantity(value, unit[reading.quantity])

# A reading that is far off is a defect; one that is only just off is advice.
severity(reading, off) := "defect" if {
	off > reading.tolerance + lib.limit("asbuilt.volts_tolerance_v")
	reading.quantity == "volts"
} else := "defect" if {
	off > reading.tolerance + (reading.expected * lib.limit("asbuilt.amps_tolerance"))
	reading.quantity == "amps"
} else := "advice"
