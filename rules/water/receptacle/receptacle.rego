# METADATA
# title: Receptacle is near a pool
# description: |
#   Near a pool people are wet and barefoot. Receptacles have distances of their own
#   there, and ground-fault protection is asked for farther out, in a garage or a pool
#   house as well. Outdoor receptacles without it are reported by another rule.
# custom:
#   id: water.receptacle
#   severity: danger
#   basis: code
#   source: NFPA 70, 680.22(A)
#   confidence: single
#   needs: []
#   limits: [water.receptacle_min_m, water.receptacle_gfci_m]
#   hint: Have a licensed person move {element} or protect it, as the authority asks
#   since: 0.1.0
package rules.water.receptacle

import data.lib

hits contains lib.hit(near.id, ["at"], object.union(lib.against(near.distance_m, "water.receptacle_min_m"), {
	"case": sprintf("%s, distance", [near.water]),
	"severity": "advice",
	"message": sprintf("receptacle %s is %s from %s; the code keeps receptacles about %s away", [
		near.id, lib.length_apart(near.distance_m, limit), water(near), lib.length_apart(limit, near.distance_m),
	]),
})) if {
	limit := lib.limit("water.receptacle_min_m")
	some near in input.water_distances
	near.thing == "receptacle"
	near.distance_m < limit - lib.tolerances.m
	near.kind in {"pool", "spa", "fountain"}
}

hits contains lib.hit(near.id, ["gfci"], object.union(lib.against(near.distance_m, "water.receptacle_gfci_m"), {
	"case": sprintf("%s, protection", [near.water]),
	"message": sprintf("receptacle %s is %s from %s and has no ground-fault protection; within %s people reach it wet and barefoot", [
		near.id, lib.length_apart(near.distance_m, limit), water(near), lib.length_apart(limit, near.distance_m),
	]),
})) if {
	limit := lib.limit("water.receptacle_gfci_m")
	some near in input.water_distances
	near.thing == "receptacle"
	near.distance_m < limit - lib.tolerances.m
	near.kind in {"pool", "spa", "fountain"}
	receptacle := lib.receptacles_by_id[near.id]
	receptacle.gfci == false
	receptacle.location != "outdoor"
}

# water names the water, and says what it is where its id does not.
water(near) := lib.called(near.kind, near.water)
