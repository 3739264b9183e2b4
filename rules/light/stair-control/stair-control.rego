# METADATA
# title: Lights of a stair cannot be switched where they are needed
# description: |
#   A stair that is lit only when somebody walks to the far end of the garden is dark when
#   it is used. Its lights come on by themselves, or can be switched on the stair, on its
#   landings, where a path reaches it, or indoors.
# custom:
#   id: light.stair-control
#   severity: advice
#   basis: practice
#   source: common practice, no source; town codes ask for a control indoors unless the light is automatic
#   confidence: practice
#   needs: []
#   limits: [light.stair_control_required]
#   hint: Let the lights of {element} come on by themselves, or put a switch at the stair or indoors and write where it can be reached
#   since: 0.1.0
package rules.light["stair-control"]

import data.lib

hits contains lib.hit(stair.id, [], {
	"limit_name": "light.stair_control_required",
	"message": sprintf("the lights of stair %s are switched by hand (%s), and the plan names no place at the stair or indoors where that can be done", [
		stair.id, lib.listed(stair.controls),
	]),
}) if {
	lib.limit_flag("light.stair_control_required")
	some stair in input.stairs
	stair.not_meant_lit == false
	count(stair.controls) > 0
	stair.automatic == false
	stair.reachable == false
}
