# METADATA
# title: Bare source is in sight
# description: |
#   A bare source in the field of view closes the pupil, so that people see less of the
#   step than with no light at all, and it is what neighbours complain about. Sight lines
#   run from walkers' eyes along each path and stair, from windows, and from the property
#   line, past everything that stands in the way, to each source at its brightest. What
#   its stated shield hides does not count, nor what is right above or below the eye.
# custom:
#   id: light.glare
#   severity: advice
#   basis: practice
#   source: common practice, no source; no published limit exists for garden lamps
#   confidence: practice
#   needs: []
#   limits:
#     - light.glare_cd_per_klm
#     - light.glare_neighbour_lx
#     - light.glare_path_lx
#     - light.glare_window_lx
#     - neighbour.property_lux
#     - neighbour.source_visible_allowed
#     - neighbour.window_lux_post
#     - neighbour.window_lux_pre
#   hint: Turn, lower or shroud {element}, or choose a shaded one
#   since: 0.1.0
package rules.light.glare

import data.lib

hits contains lib.hit(view.id, [], object.union(lib.against(view.lux, limit), {
	"case": sprintf("from %s", [view.from]),
	"message": sprintf("%s shows its bare source %s, %s away: %s at the eye, where %s is enough to blind", [
		view.id, where(view), lib.length(view.distance_m),
		lib.quantity_apart(view.lux, lib.limit(limit), "lx"), lib.quantity_apart(lib.limit(limit), view.lux, "lx"),
	]),
})) if {
	some view in input.sightlines
	view.lux > too_much[view.from_kind]
	limit := limits[view.from_kind]
	not forbidden(view)
	not said[[view.from, view.id]]
}

# Less light, but from a source that throws sideways more than most do. Intensities are
# limited near the horizontal only (EN 13201-2 has classes from 70 degrees up, from memory).
hits contains lib.hit(view.id, [], object.union(lib.against(view.candela_per_klm, "light.glare_cd_per_klm"), {
	"case": sprintf("from %s", [view.from]),
	"message": sprintf("%s throws much of its light straight at the eye %s, %s away: %s for each 1,000 lm, where %s is much", [
		view.id, where(view), lib.length(view.distance_m),
		lib.quantity(view.candela_per_klm, "cd"), lib.quantity(lib.limit("light.glare_cd_per_klm"), "cd"),
	]),
})) if {
	strong := lib.most("light.glare_cd_per_klm")
	blinding := lib.most("light.glare_path_lx")
	least := lib.limit("light.glare_path_lx") / 2
	some view in input.sightlines
	view.candela_per_klm > strong
	view.from_down_deg >= sideways
	view.from_kind in {"path", "stair"}
	view.lux <= blinding
	view.lux > least
}

# sideways is the direction from straight down at which a source begins to throw sideways.
sideways := 70

# A profile under which no source may show beyond the land.
hits contains lib.hit(view.id, [], {
	"case": sprintf("from %s", [view.from]),
	"limit_name": "neighbour.source_visible_allowed",
	"message": sprintf("the bare source of %s is seen %s, %s away; under the profile none may be", [view.id, where(view), lib.length(view.distance_m)]),
}) if {
	none_allowed
	some view in input.sightlines
	view.from_kind in beyond
}

forbidden(view) if {
	none_allowed
	view.from_kind in beyond
}

none_allowed if lib.limit_flag("neighbour.source_visible_allowed") == false

beyond := {"boundary", "neighbour-window"}

# said holds what neighbour.property-line and neighbour.window say already: a lamp
# that gives too much light where it is seen from.
said contains [light.id, lamp] if {
	some light in input.boundary
	light.lux > lib.most(limit_at(light))
	some lamp in light.lamps
}

limit_at(light) := "neighbour.property_lux" if {
	light.kind == "property-line"
} else := "neighbour.window_lux_post" if {
	lib.has_limit("neighbour.window_lux_post")
	late[light.scene]
} else := "neighbour.window_lux_pre"

late contains scene.id if {
	some scene in input.scenes
	scene.after_curfew
}

limits := {
	"path": "light.glare_path_lx",
	"stair": "light.glare_path_lx",
	"window": "light.glare_window_lx",
	"neighbour-window": "light.glare_neighbour_lx",
	"boundary": "light.glare_neighbour_lx",
}

too_much := {kind: lib.most(name) | some kind, name in limits}

where(view) := sprintf(places[view.from_kind], [view.from])

places := {
	"path": "to people on path %s",
	"stair": "to people on stair %s",
	"window": "in window %s",
	"neighbour-window": "in the neighbour's window %s",
	"boundary": "beyond the %s",
}
