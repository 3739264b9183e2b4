# METADATA
# title: In-ground fixture stands in water
# description: |
#   Water that does not drain away from under a fixture in the ground finds its
#   way in: through the cable entry, past the lens, and with frost through the
#   housing. Gravel below it or a drain leads it away; the IP code says what the
#   housing bears. IP67 is for a while under water, not for standing in it.
# custom:
#   id: earth.drainage
#   severity: advice
#   basis: practice
#   source: common practice, no source
#   confidence: practice
#   needs:
#     - each: fixtures
#       where: {in_earth: ["true"]}
#       has: [ip_water]
#   limits: [earth.gravel_m, earth.in_ground_ip_solid_min, earth.in_ground_ip_water_min]
#   hint: Set {element} on a bed of gravel or lay a drain, and use a fixture of at least IP67 there
#   since: 0.1.0
package rules.earth.drainage

import data.lib

hits contains lib.hit(fixture.id, ["drainage", "gravel"], object.union(lib.against(fixture.gravel_m, "earth.gravel_m"), {
	"case": "gravel",
	"message": sprintf("fixture %s stands in the ground on %s of gravel%s: less than %s does not keep water from it", [
		fixture.id, lib.length_apart(fixture.gravel_m, least), soil(fixture), lib.length_apart(least, fixture.gravel_m),
	]),
})) if {
	least := lib.limit("earth.gravel_m")
	some fixture in undrained
	fixture.gravel_m < lib.least("earth.gravel_m")
}

hits contains lib.hit(fixture.id, ["drainage"], {
	"case": "gravel",
	"limit_name": "earth.gravel_m",
	"message": sprintf("fixture %s stands in the ground%s, and the plan gives it neither gravel nor a drain: water that stays there finds its way in", [
		fixture.id, soil(fixture),
	]),
}) if {
	some fixture in undrained
	not stated(fixture)
}

undrained contains fixture if {
	lib.has_limit("earth.gravel_m")
	some fixture in flush
	not fixture.drain
}

flush contains fixture if {
	some fixture in input.fixtures
	fixture.in_earth
}

# stated is true of a fixture of which the plan states the gravel, none included.
stated(fixture) if fixture.gravel_m >= 0

soil(fixture) := ", in soil that holds water" if {
	fixture.soil_drains == false
} else := ""

hits contains lib.hit(type, ["ip"], object.union(lib.against(numeral, name), {
	"case": words[name].case,
	"message": sprintf("fixture type %s stands in the ground at %s with IP numeral %d against %s; at least %d is asked for there", [
		type, lib.few(ids), numeral, words[name].against, lib.limit(name),
	]),
})) if {
	some [type, name, numeral], ids in weak
}

weak[[fixture.type, "earth.in_ground_ip_solid_min", fixture.ip_solid]] contains fixture.id if {
	least := lib.least("earth.in_ground_ip_solid_min")
	some fixture in flush
	fixture.ip_solid < least
}

weak[[fixture.type, "earth.in_ground_ip_water_min", fixture.ip_water]] contains fixture.id if {
	least := lib.least("earth.in_ground_ip_water_min")
	some fixture in flush
	fixture.ip_water < least
}

words := {
	"earth.in_ground_ip_solid_min": {"case": "solid", "against": "dust"},
	"earth.in_ground_ip_water_min": {"case": "water", "against": "water"},
}
