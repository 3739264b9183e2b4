# METADATA
# title: Path, deck or terrace has a dark stretch
# description: |
#   A few paces in the dark between two pools of light are worse than no light, since the
#   eye has grown used to the pool: a root, a kerb or a hose lies unseen. The centreline
#   of each path is followed in every scene in which people walk. Only direct light is
#   counted, and a path that is not meant to be lit says so in the plan.
# custom:
#   id: light.dark-gap
#   severity: advice
#   basis: practice
#   source: common practice, no source; the level is the least minimum that any published class of footpath has
#   confidence: practice
#   needs:
#     - each: paths
#       has: [lux_min]
#   limits:
#     - light.dark_gap_m
#     - light.path_dark_lx
#     - light.path_public_lx
#   hint: Put a light into the dark stretch of {element}, or move its neighbours together
#   since: 0.1.0
package rules.light["dark-gap"]

import data.lib

# A dark stretch of a path.
hits contains lib.hit(path.id, ["centreline"], object.union(lib.against(path.dark_m, "light.dark_gap_m"), {
	"case": path.scene,
	"message": sprintf("path %s is dark (below %s) for %s, from %s to %s along it, %s; %s in the dark is far enough to lose the way", [
		path.id, lib.lux(lib.limit("light.path_dark_lx")), lib.length_apart(path.dark_m, longest),
		lib.length(path.dark_from_m), lib.length(path.dark_to_m), scene_words(path.scene), lib.length_apart(longest, path.dark_m),
	]),
})) if {
	longest := lib.limit("light.dark_gap_m")
	most := lib.most("light.dark_gap_m")
	some path in input.paths
	path.kind == "path"
	path.dark_m > most
}

# A deck or terrace that nothing lights in any scene. It need not be lit in all.
hits contains lib.hit(id, [], object.union(lib.against(lux, "light.path_dark_lx"), {
	"message": sprintf("%s %s gets %s at its brightest, in any scene: it is dark from edge to edge", [
		kind, id, lib.quantity_apart(lux, lib.limit("light.path_dark_lx"), "lx"),
	]),
	"hint": "Light {element}, or say in the plan that it is not meant to be lit",
})) if {
	some id, kind in dark_areas
	lux := max({area.lux_max | some area in input.paths; area.id == id})
}

dark_areas[area.id] := area.kind if {
	least := lib.least("light.path_dark_lx")
	some area in input.paths
	area.kind != "path"
	area.lux_max < least
	not lit_areas[area.id]
}

lit_areas contains area.id if {
	least := lib.least("light.path_dark_lx")
	some area in input.paths
	area.kind != "path"
	area.lux_max >= least
}

lit_areas contains area.id if {
	some area in input.paths
	area.known == false
}

# A way out for the public, under a profile that gives a level for it.
hits contains lib.hit(path.id, ["centreline"], object.union(lib.against(path.lux_min, "light.path_public_lx"), {
	"case": sprintf("public, %s", [path.scene]),
	"message": sprintf("path %s falls to %s at its darkest spot, %s; where it is a way out for the public it needs %s", [
		path.id, lib.quantity_apart(path.lux_min, level, "lx"), scene_words(path.scene), lib.quantity_apart(level, path.lux_min, "lx"),
	]),
	"hint": "Add light along {element}, or say in the plan that it is not meant to be lit",
})) if {
	level := lib.limit("light.path_public_lx")
	least := lib.least("light.path_public_lx")
	some path in input.paths
	path.kind == "path"
	path.lux_min < least
}

scene_words(scene) := "with everything on" if {
	scene == "all"
} else := sprintf("in scene %s", [scene])
