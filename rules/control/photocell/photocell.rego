# METADATA
# title: Photocell sees the light that it switches
# description: |
#   A photocell that sees its own lamps switches them off when they come on, and on again
#   when they go out, all night long.
# custom:
#   id: control.photocell
#   severity: advice
#   basis: practice
#   source: common practice, no source
#   confidence: practice
#   needs:
#     - each: controls
#       where: {has_sensor: ["true"]}
#       has: [sensor_lux]
#   limits: [control.sensor_lux_max]
#   hint: Turn the sensor of {element} away from the lamps, shield it, or move it
#   since: 0.1.0
package rules.control.photocell

import data.lib

hits contains lib.hit(control.id, ["sensor"], object.union(lib.against(control.sensor_lux, "control.sensor_lux_max"), {"message": sprintf("the sensor of %s gets %s from the lamps that it switches%s; above %s it can take them for daylight and switch all night", [
	control.id, lib.quantity_apart(control.sensor_lux, limit, "lx"), most_of_it(control),
	lib.quantity_apart(limit, control.sensor_lux, "lx"),
])})) if {
	limit := lib.limit("control.sensor_lux_max")
	some control in input.controls
	control.sensor_lux > limit
	control.sensor_lux > limit + lib.tolerances.lx
	not shielded(control)
}

shielded(control) if control.shaded

most_of_it(control) := sprintf(", most of it from %s", [control.sensor_worst]) if {
	control.sensor_worst
} else := ""
