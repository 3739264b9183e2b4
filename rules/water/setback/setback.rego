# METADATA
# title: Lighting is too near to water
# description: |
#   Wet skin conducts far better than dry, people in a pool cannot let go and walk
#   away, and ground-fault protection on the mains side sees nothing of a fault on the
#   lamp's side. The code keeps low-voltage lighting 10 ft from pools, spas and
#   fountains, unless fixture and power unit are listed for it and the voltage stays
#   within the limit for wet contact. At ponds and streams the distance is one of the
#   products' instructions.
# custom:
#   id: water.setback
#   severity: danger
#   basis: code
#   source: NFPA 70 (2020), 411.5(B) and 680.22(B)(6)
#   confidence: confirmed
#   needs:
#     - each: water_distances
#       where: {thing: [fixture, leg, transformer], kind: [pool, spa, fountain]}
#       has: [distance_m]
#   limits: [water.setback_m, water.natural_setback_m, water.listed_exception, power.wet_ac_max_v, power.wet_dc_max_v, power.wet_pulsed_high_hz, power.wet_pulsed_low_hz, power.wet_pulsed_max_v]
#   hint: Move {element} at least {limit} from {case}, or ask the authority which listed products may be nearer
#   since: 0.1.0
package rules.water.setback

import data.lib

# Pools, spas and fountains.
hits contains lib.hit(near.id, fields[near.thing], object.union(lib.against(near.distance_m, "water.setback_m"), {
	"case": near.water,
	"severity": severity,
	"message": sprintf("%s %s %s %s: within %s only what is listed for it may be, on a supply listed for pools", [
		words[near.thing], near.id, verb(near), water(near), lib.length_apart(limit, near.distance_m),
	]),
})) if {
	limit := lib.limit("water.setback_m")
	least := lib.least("water.setback_m")
	some near in input.water_distances
	near.distance_m < least
	near.kind in {"pool", "spa", "fountain"}
	words[near.thing]
	not permitted(near)
}

# Ponds, streams and the sea: what the instructions of fixtures say.
hits contains lib.hit(near.id, ["at"], object.union(lib.against(near.distance_m, "water.natural_setback_m"), {
	"case": near.water,
	"severity": "advice",
	"hint": "Move {element} back from {case}, or use a fixture whose instructions allow it",
	"message": sprintf("fixture %s %s %s: makers' instructions ask for about %s from open water", [
		near.id, verb(near), water(near), lib.length_apart(limit, near.distance_m),
	]),
})) if {
	limit := lib.limit("water.natural_setback_m")
	least := lib.least("water.natural_setback_m")
	some near in input.water_distances
	near.thing == "fixture"
	near.distance_m < least
	near.kind in {"pond", "stream", "sea"}
	not fit_for_water(near)
}

# A code makes it a danger. Where only common practice gives the distance, other
# rules may hold, and the authority knows them.
severity := "danger" if {
	lib.limits_by_name["water.setback_m"].basis == "code"
} else := "defect"

fields := {"fixture": ["at"], "leg": ["route"], "transformer": ["at"]}

words := {"fixture": "fixture", "leg": "cable", "transformer": "transformer"}

verb(near) := "is in" if {
	near.distance_m < lib.tolerances.m
} else := sprintf("is %s from", [lib.length(near.distance_m)])

# permitted is true of what the code lets nearer: a fixture with a listing for it,
# or the cable of one, on a supply that is listed for pools and within the limit
# for wet contact.
permitted(near) if {
	lib.limit_flag("water.listed_exception")
	fit(near)
	"pool-spa" in near.supply_listing
	not above_contact_limit(near)
}

fit(near) if near.thing == "leg"

fit(near) if fit_for_water(near)

fit_for_water(near) if "near-pool" in near.listing

fit_for_water(near) if "underwater" in near.listing

above_contact_limit(near) if {
	near.output == "dc"
	near.tap_volts > lib.most("power.wet_dc_max_v")
}

# Direct current in slow pulses has a limit of its own.
above_contact_limit(near) if {
	near.tap_volts > lib.most("power.wet_pulsed_max_v")
	lib.pulsed(run_of(near))
}

run_of(near) := lib.runs_by_id[lib.fixtures_by_id[near.id].run] if near.thing == "fixture"

run_of(near) := lib.runs_by_id[lib.legs_by_id[near.id].run] if near.thing == "leg"

above_contact_limit(near) if {
	not near.output == "dc"
	near.tap_volts > lib.most("power.wet_ac_max_v")
}

# water names the water, and says what it is where its id does not.
water(near) := lib.called(near.kind, near.water)
