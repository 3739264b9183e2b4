# METADATA
# title: Too much light on a neighbour's window
# description: |
#   Light on a bedroom window at night costs sleep and good neighbours. The published
#   limits for obtrusive light hold on the pane, and become stricter after the curfew; a
#   single source may not shine straight into the window too strongly either. Lamps are
#   taken new and clean.
# custom:
#   id: neighbour.window
#   severity: advice
#   basis: standard
#   source: CIE 150 and EN 12193, limits of obtrusive light, by the zone that the profile names
#   confidence: confirmed
#   needs:
#     - each: fixtures
#       where: {near_window: ["true"]}
#       has: [x_m, height_m, light, emitted_lm, aim]
#   limits:
#     - neighbour.intensity_post_cd
#     - neighbour.intensity_pre_cd
#     - neighbour.window_lux_post
#     - neighbour.window_lux_pre
#   hint: Move, turn, shade or dim the lights that reach {element}, or put them out earlier
#   since: 0.1.0
package rules.neighbour.window

import data.lib

# On the pane.
hits contains lib.hit(light.id, [], object.union(lib.against(light.lux, limit), {
	"case": light.scene,
	"message": sprintf("the neighbour's window %s gets %s %s, most of it from %s; the zone allows %s%s", [
		light.id, lib.quantity_apart(light.lux, lib.limit(limit), "lx"), scene_words(light.scene), light.worst,
		lib.quantity_apart(lib.limit(limit), light.lux, "lx"), hours(limit, light.scene),
	]),
})) if {
	some light in input.boundary
	light.kind == "neighbour-window"
	limit := limit_in(light.scene)
	light.lux > lib.most(limit)
}

# From one source.
hits contains lib.hit(view.from, [], object.union(lib.against(view.candela, limit), {
	"case": sprintf("source %s", [view.id]),
	"message": sprintf("%s sends %s into the neighbour's window %s; the zone allows %s%s", [
		view.id, lib.quantity_apart(view.candela, lib.limit(limit), "cd"), view.from,
		lib.quantity_apart(lib.limit(limit), view.candela, "cd"), late_words(limit, view.id),
	]),
	"hint": sprintf("Turn, shade or dim %s, or put it out earlier", [view.id]),
})) if {
	some view in input.sightlines
	view.from_kind == "neighbour-window"
	limit := limit_for(view.id)
	view.candela > lib.most(limit)
}

# limit_in names the limit that holds in a scene: the one after the curfew for a
# scene that burns past it.
limit_in(scene) := "neighbour.window_lux_post" if {
	lib.has_limit("neighbour.window_lux_post")
	scenes[scene].after_curfew
} else := "neighbour.window_lux_pre"

limit_for(lamp) := "neighbour.intensity_post_cd" if {
	lib.has_limit("neighbour.intensity_post_cd")
	burns_late[lamp]
} else := "neighbour.intensity_pre_cd"

scenes := {scene.id: scene | some scene in input.scenes}

# burns_late holds the curfew for each lamp that is on after it.
burns_late[lamp] := scene.curfew if {
	some scene in input.scenes
	scene.after_curfew
	some lamp in scene.lamps
}

hours(limit, scene) := sprintf(" from %s on, and %s", [scenes[scene].curfew, ending(scenes[scene])]) if {
	endswith(limit, "_post")
} else := ""

late_words(limit, lamp) := sprintf(" from %s on, when %s still burns", [burns_late[lamp], lamp]) if {
	endswith(limit, "_post_cd")
} else := ""

ending(scene) := sprintf("the scene ends at %s", [scene.ends]) if {
	scene.ends
} else := "the plan does not say when the scene ends"

scene_words(scene) := "with everything on" if {
	scene == "all"
} else := sprintf("in scene %s", [scene])
