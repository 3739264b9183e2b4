# METADATA
# title: Light along a path is uneven
# description: |
#   Bright pools with dark between them blind the eye that should see the ground. Lights
#   in close pairs on both sides look like a runway. Average over least light is taken
#   over the whole width of the path, in every scene in which people walk; where the light
#   of a fixture is not known, the gaps between the lights are judged instead.
# custom:
#   id: light.uneven-path
#   severity: advice
#   basis: practice
#   source: common practice, no source; the ratio is the widest that a published table gives, for rural paths
#   confidence: practice
#   needs:
#     - each: paths
#       where: {kind: [path]}
#       has: [lux_min]
#   limits:
#     - light.dark_gap_m
#     - light.fixture_gap_m
#     - light.opposite_pairs_most
#     - light.path_avg_to_min
#   hint: Space the lights of {element} more closely or evenly, on alternate sides, or choose ones that throw wider
#   since: 0.1.0
package rules.light["uneven-path"]

import data.lib

# Uneven, where light.dark-gap has nothing to say.
hits contains lib.hit(path.id, ["centreline"], object.union(lib.against(path.avg_to_min, "light.path_avg_to_min"), {
	"case": path.scene,
	"message": sprintf("path %s gets %s on average but %s at its darkest spot, %s: a ratio of %s, where %s is uneven enough to trip people", [
		path.id, lib.lux(path.lux_avg), lib.quantity(path.lux_min, "lx"), scene_words(path.scene),
		lib.apart(path.avg_to_min, lib.limit("light.path_avg_to_min"), 0),
		lib.apart(lib.limit("light.path_avg_to_min"), path.avg_to_min, 0),
	]),
})) if {
	most := lib.most("light.path_avg_to_min")
	some path in input.paths
	path.kind == "path"
	path.avg_to_min > most
	path.dark_m <= longest
}

# Some of it gets nothing at all, which is no ratio.
hits contains lib.hit(path.id, ["centreline"], {
	"case": path.scene,
	"limit_name": "light.path_avg_to_min",
	"message": sprintf("path %s gets %s on average but nothing at its darkest spot, %s", [path.id, lib.lux(path.lux_avg), scene_words(path.scene)]),
}) if {
	lib.has_limit("light.path_avg_to_min")
	some path in input.paths
	path.kind == "path"
	path.lux_min == 0
	path.lux_avg > 0
	path.dark_m <= longest
}

# longest is how long a stretch may be dark.
longest := lib.most("light.dark_gap_m")

# Wide gaps between the lights, where their light is not known.
hits contains lib.hit(path.id, ["centreline"], object.union(lib.against(path.widest_gap_m, "light.fixture_gap_m"), {
	"case": "spacing",
	"message": sprintf("the lights along path %s leave %s between %s and %s; beyond %s there is mostly a dark gap", [
		path.id, lib.length_apart(path.widest_gap_m, widest), path.gap_from, path.gap_to, lib.length_apart(widest, path.widest_gap_m),
	]),
})) if {
	widest := lib.limit("light.fixture_gap_m")
	most := lib.most("light.fixture_gap_m")
	some path in input.paths
	path.widest_gap_m > most
	path.known == false
}

# A runway.
hits contains lib.hit(path.id, ["centreline"], object.union(lib.against(path.opposite_pairs, "light.opposite_pairs_most"), {
	"case": "facing pairs",
	"message": sprintf("%d pairs of lights face each other across path %s, which looks like a runway", [path.opposite_pairs, path.id]),
	"hint": "Stagger the lights of {element} from side to side",
})) if {
	most := lib.most("light.opposite_pairs_most")
	some path in input.paths
	path.opposite_pairs > most
}

scene_words(scene) := "with everything on" if {
	scene == "all"
} else := sprintf("in scene %s", [scene])
