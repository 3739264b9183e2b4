# METADATA
# title: Too much light at the property line
# description: |
#   Light that crosses the line is the neighbour's business, and towns measure it there: on
#   an upright surface at about eye height, facing the lights. Numbers differ by a factor of
#   ten from town to town, so a profile of your own town is worth having. Lamps are
#   taken new and clean.
# custom:
#   id: neighbour.property-line
#   severity: advice
#   basis: practice
#   source: common practice, no source; the most lenient of the town codes that were read
#   confidence: practice
#   needs:
#     - each: fixtures
#       where: {near_line: ["true"]}
#       has: [x_m, height_m, light, emitted_lm, aim]
#   limits: [neighbour.property_height_m, neighbour.property_lux]
#   hint: Move, turn, shade or dim the lights that reach the line
#   since: 0.1.0
package rules.neighbour["property-line"]

import data.lib

hits contains lib.hit("site", ["property_line"], object.union(lib.against(light.lux, "neighbour.property_lux"), {
	"case": sprintf("side %d, %s", [light.edge, light.scene]),
	"message": sprintf("side %d of the property line gets %s%s %s, most of it from %s; the profile allows %s", [
		light.edge, lib.quantity_apart(light.lux, most, "lx"), height, scene_words(light.scene),
		light.worst, lib.quantity_apart(most, light.lux, "lx"),
	]),
	"hint": sprintf("Move, turn, shade or dim %s", [some_of(light.lamps)]),
})) if {
	most := lib.limit("neighbour.property_lux")
	too_much := lib.most("neighbour.property_lux")
	some light in input.boundary
	light.kind == "property-line"
	light.lux > too_much
}

height := sprintf(" at %s", [lib.length(lib.limit("neighbour.property_height_m"))]) if {
	lib.has_limit("neighbour.property_height_m")
} else := ""

# A profile with a limit of its own, and no line to hold it against.
hits contains lib.hit("site", [], {
	"case": "no line",
	"limit_name": "neighbour.property_lux",
	"message": sprintf("profile %s limits the light at the property line, and the plan draws none, so that cannot be judged", [limit.profile]),
	"hint": "Draw the property line",
}) if {
	input.has_site
	input.has_property_line == false
	limit := lib.limits_by_name["neighbour.property_lux"]
	limit.profile != "common"
	some fixture in input.fixtures
	fixture.has_light
}

# some_of names the first of a list and counts the rest.
some_of(ids) := lib.listed(ids) if {
	count(ids) <= 3
} else := sprintf("%s and %d more", [concat(", ", array.slice(ids, 0, 2)), count(ids) - 2])

scene_words(scene) := "with everything on" if {
	scene == "all"
} else := sprintf("in scene %s", [scene])
