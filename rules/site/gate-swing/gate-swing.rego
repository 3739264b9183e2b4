# METADATA
# title: Fixture stands in the swing of a gate or door
# description: |
#   A gate that hits a fixture breaks the lamp, bends the stem and tears its
#   cable, and does so every day. The leaf's gap above the ground and the height
#   of the fixture are counted, so what lies flush passes. A little room beyond the
#   swing keeps posts, latches and hands clear.
# custom:
#   id: site.gate-swing
#   severity: defect
#   basis: practice
#   source: common practice, no source
#   confidence: practice
#   needs: []
#   limits: [site.leaf_clearance_m]
#   hint: Move {element} out of the swing, or use a fixture that lies flush
#   since: 0.1.0
package rules.site["gate-swing"]

import data.lib

# In the way: the leaf and the fixture touch.
hits contains lib.hit(near.id, ["at"], {
	"case": near.leaf,
	"value": near.clearance_m,
	"limit": 0,
	"unit": "m",
	"message": sprintf("fixture %s stands in the %s of %s %s%s: the leaf hits it every time it opens", [near.id, motion(near), kind(near), near.leaf, depth(near)]),
}) if {
	some near in input.leaf_clearances
	near.clearance_m <= touching
	near.clears == false
}

# Too near: they do not touch, but little room is left.
hits contains lib.hit(near.id, ["at"], object.union(lib.against(near.clearance_m, "site.leaf_clearance_m"), {
	"case": near.leaf,
	"severity": "advice",
	"message": sprintf("fixture %s stands %s from the %s of %s %s; %s is room enough for feet, latches and a leaf that sags", [
		near.id, lib.length_apart(near.clearance_m, room), motion(near), kind(near), near.leaf, lib.length_apart(room, near.clearance_m),
	]),
})) if {
	room := lib.limit("site.leaf_clearance_m")
	some near in input.leaf_clearances
	near.clearance_m < room
	near.clears == false
	near.clearance_m > touching
	near.clearance_m < room - touching
}

# touching is a gap too small to measure.
touching := lib.tolerances.m

kind(near) := "door" if {
	near.door
} else := "gate"

motion(near) := "path" if {
	near.slides
} else := "swing"

# depth says how far inside the fixture stands.
depth(near) := sprintf(" (%s inside)", [lib.length(0 - near.clearance_m)]) if {
	near.clearance_m < 0 - touching
} else := ""
