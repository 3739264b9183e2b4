# METADATA
# title: Gate or door throws a step or path into shadow
# description: |
#   A solid leaf between a lamp and a step takes its light: where the leaf rests, closed
#   or left open, and on a step also while it swings, which is when somebody passes.
#   Paths and landings are judged with the leaf at rest only.
# custom:
#   id: light.leaf-shadow
#   severity: advice
#   basis: practice
#   source: common practice, no source
#   confidence: practice
#   needs:
#     - each: leaves
#       where: {may_shade: ["true"]}
#       has: [height_m]
#   limits: [light.landing_dark_lx, light.path_dark_lx, light.step_dark_lx]
#   hint: Move the lamp, or add one on the other side of the leaf, so that {element} is lit in every position
#   since: 0.1.0
package rules.light["leaf-shadow"]

import data.lib

# At rest.
hits contains found(shadow, limit) if {
	some shadow in input.leaf_shadows
	shadow.position != "swing"
	limit := limit_of(shadow)
	shadow.lux_with < lib.least(limit)
}

# While it swings, for a step that is lit as long as the leaf rests.
hits contains found(shadow, limit) if {
	some shadow in input.leaf_shadows
	shadow.position == "swing"
	shadow.tread
	limit := limit_of(shadow)
	shadow.lux_with < lib.least(limit)
	not dark_at_rest[[shadow.id, shadow.leaf, shadow.scene]]
}

dark_at_rest contains [shadow.id, shadow.leaf, shadow.scene] if {
	some shadow in input.leaf_shadows
	shadow.position != "swing"
	shadow.lux_with < lib.least(limit_of(shadow))
}

found(shadow, limit) := lib.hit(shadow.id, [], object.union(lib.against(shadow.lux_with, limit), {
	"case": sprintf("%s %s, %s", [shadow.leaf, shadow.position, shadow.scene]),
	"message": sprintf("%s %s, %s, leaves %s in the dark %s: %s instead of %s, where %s is needed to see", [
		kind(shadow), shadow.leaf, position(shadow), shadow.id, scene_words(shadow.scene),
		lib.quantity_apart(shadow.lux_with, lib.limit(limit), "lx"), lib.lux(shadow.lux_without), lib.lux(lib.limit(limit)),
	]),
}))

limit_of(shadow) := "light.step_dark_lx" if {
	shadow.tread
} else := "light.landing_dark_lx" if {
	landings[shadow.id]
} else := "light.path_dark_lx"

landings := {place.id | some place in input.treads; place.landing}

kind(shadow) := "door" if {
	lib.leaves_by_id[shadow.leaf].door
} else := "gate"

position(shadow) := "closed" if {
	shadow.position == "closed"
} else := "left open" if {
	shadow.position == "open"
} else := sprintf("when it is %s open", [lib.degrees(shadow.open_deg)])

scene_words(scene) := "with everything on" if {
	scene == "all"
} else := sprintf("in scene %s", [scene])
