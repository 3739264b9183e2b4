# METADATA
# title: Transformer is in the wrong place
# description: |
#   A power unit near the ground stands in splash, snow or flood; one that is made for
#   indoors corrodes outdoors until mains reaches its case; one without air, or on vinyl
#   siding, gets too hot; one out of reach of its receptacle ends on an extension cord.
# custom:
#   id: power.transformer-place
#   severity: defect
#   basis: listing
#   source: instructions of listed power units
#   confidence: confirmed
#   needs:
#     - each: transformers
#       where: {location: [outdoor]}
#       has: [height_m, outdoor]
#   limits:
#     - power.cord_max_m
#     - power.transformer_height_min_m
#     - power.transformer_water_min_m
#   hint: Mount {element} higher, on a wall that bears heat, in free air and within reach of its receptacle
#   since: 0.1.0
package rules.power["transformer-place"]

import data.lib

# Made for indoors, mounted outdoors.
hits contains lib.hit(unit.id, ["location"], {
	"case": "enclosure",
	"message": sprintf("transformer %s stands outdoors, and its enclosure is not made for it: rain reaches its mains side", [unit.id]),
	"hint": "Use a transformer that is made for outdoors, or mount {element} indoors",
}) if {
	some unit in outdoors
	unit.outdoor == false
}

# Too low.
hits contains lib.hit(unit.id, ["height"], object.union(lib.against(unit.height_m, "power.transformer_height_min_m"), {
	"case": "height",
	"severity": "advice",
	"message": sprintf("transformer %s hangs %s above the ground; its instructions ask for %s, out of splash and leaves", [
		unit.id, lib.length_apart(unit.height_m, limit), lib.length_apart(limit, unit.height_m),
	]),
})) if {
	limit := lib.limit("power.transformer_height_min_m")
	some unit in outdoors
	unit.height_m < limit
	unit.height_m < limit - lib.tolerances.m
}

# In the snow, or under water.
hits contains lib.hit(unit.id, ["height"], {
	"case": what,
	"severity": "advice",
	"value": unit.height_m,
	"limit": level,
	"unit": "m",
	"message": sprintf("transformer %s hangs %s above the ground, where %s reaches %s", [
		unit.id, lib.length_apart(unit.height_m, level), what, lib.length_apart(level, unit.height_m),
	]),
	"hint": "Mount {element} above {limit}",
}) if {
	some unit in outdoors
	some what, field in waters
	level := unit[field]
	unit.height_m < level
	unit.height_m < level - lib.tolerances.m
}

# waters are what may rise to a unit, with the facts that say how high.
waters := {"snow": "snow_m", "flood water": "flood_m"}

# Too near a pond, a stream or the sea; water.setback judges the others.
hits contains lib.hit(unit.id, ["at"], object.union(lib.against(unit.water_m, "power.transformer_water_min_m"), {
	"case": "water",
	"severity": "advice",
	"message": sprintf("transformer %s is %s from the %s; keep mains equipment %s away from open water", [
		unit.id, lib.length_apart(unit.water_m, limit), unit.water_kind, lib.length_apart(limit, unit.water_m),
	]),
	"hint": "Move {element} away from the water",
})) if {
	limit := lib.limit("power.transformer_water_min_m")
	some unit in input.transformers
	unit.water_kind in {"pond", "stream", "sea"}
	unit.water_m < limit
	unit.water_m < limit - lib.tolerances.m
}

# Its own cord does not reach.
hits contains lib.hit(unit.id, ["cord"], {
	"case": "cord",
	"severity": "advice",
	"value": unit.cord_m,
	"limit": unit.cord_needed_m,
	"unit": "m",
	"message": sprintf("the cord of transformer %s is %s long, and the way to receptacle %s is %s: an extension cord would follow", [
		unit.id, lib.length_apart(unit.cord_m, unit.cord_needed_m), unit.receptacle,
		lib.length_apart(unit.cord_needed_m, unit.cord_m),
	]),
}) if {
	some unit in input.transformers
	unit.cord_m < unit.cord_needed_m
	unit.cord_m < unit.cord_needed_m - lib.tolerances.m
}

# Farther from its receptacle than a cord goes.
hits contains lib.hit(unit.id, ["plugged_into"], object.union(lib.against(unit.cord_needed_m, "power.cord_max_m"), {
	"case": "reach",
	"severity": "advice",
	"message": sprintf("transformer %s is %s from receptacle %s; cords of power units are at most %s long", [
		unit.id, lib.length_apart(unit.cord_needed_m, limit), unit.receptacle, lib.length_apart(limit, unit.cord_needed_m),
	]),
})) if {
	limit := lib.limit("power.cord_max_m")
	some unit in input.transformers
	unit.cord_needed_m > limit
	unit.cord_needed_m > limit + lib.tolerances.m
	not short_cord(unit)
}

short_cord(unit) if unit.cord_m < unit.cord_needed_m - lib.tolerances.m

# Without air.
hits contains lib.hit(unit.id, ["enclosed"], {
	"case": "air",
	"severity": "advice",
	"message": sprintf("transformer %s is shut in without the air that its maker asks for: it runs hot and trips", [unit.id]),
	"hint": "Give {element} the free space that its maker asks for",
}) if {
	some unit in input.transformers
	unit.enclosed
}

# On a wall that softens.
hits contains lib.hit(unit.id, ["mounted_on"], {
	"case": "wall",
	"severity": "advice",
	"basis": "practice",
	"source": "common practice, no source",
	"message": sprintf("transformer %s is fixed to vinyl siding, which softens behind a warm power unit", [unit.id]),
	"hint": "Fix {element} to a post or a board that bears heat",
}) if {
	some unit in input.transformers
	unit.mounted_on == "vinyl"
}

outdoors := [unit |
	some unit in input.transformers
	unit.location == "outdoor"
]
