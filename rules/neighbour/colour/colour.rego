# METADATA
# title: Colour of the light does not suit the place
# description: |
#   Blue in the light draws insects, scatters in the air, and turns hatchling turtles from
#   the sea; where bats or turtles live, guidance asks for long waves and nothing else, and
#   towns limit the colour temperature. A phosphor leaves some blue in what looks amber.
# custom:
#   id: neighbour.colour
#   severity: advice
#   basis: standard
#   source: guidance on wildlife and on dark skies, by the profile
#   confidence: confirmed
#   needs:
#     - each: fixtures
#       has: [colour]
#   limits:
#     - neighbour.cct_max_k
#     - neighbour.peak_nm_min
#     - neighbour.phosphor_allowed
#     - neighbour.shortest_nm_min
#     - neighbour.tunable_allowed
#   hint: Choose a lamp for {element} whose data sheet states the colour that the profile asks for
#   since: 0.1.0
package rules.neighbour.colour

import data.lib

# One finding for each type: the colour is the type's.
hits contains lib.hit(type, ["colour"], object.union(
	{"case": found.case, "message": sprintf("%s: %s", [fixtures(type), found.words])},
	found.against,
)) if {
	some type, all in found_by_type
	some found in all
}

fixtures(type) := sprintf("type %s (%s)", [type, some_of(sort(ids[type]))])

ids[fixture.type] contains fixture.id if some fixture in input.fixtures

# White light above the colour temperature.
found_by_type[fixture.type] contains {
	"case": "colour temperature",
	"words": sprintf("its light has %s, the profile allows %s", [
		lib.quantity_apart(fixture.cct_k, most, "K"), lib.quantity_apart(most, fixture.cct_k, "K"),
	]),
	"against": lib.against(fixture.cct_k, "neighbour.cct_max_k"),
} if {
	most := lib.limit("neighbour.cct_max_k")
	too_much := lib.most("neighbour.cct_max_k")
	some fixture in input.fixtures
	fixture.colour == "white"
	fixture.cct_k > too_much
}

# A peak that is too short.
found_by_type[fixture.type] contains {
	"case": "peak",
	"words": sprintf("its light is strongest at %s, the profile asks for %s or more", [
		lib.quantity_apart(fixture.peak_nm, least, "nm"), lib.quantity_apart(least, fixture.peak_nm, "nm"),
	]),
	"against": lib.against(fixture.peak_nm, "neighbour.peak_nm_min"),
} if {
	least := lib.limit("neighbour.peak_nm_min")
	too_little := lib.least("neighbour.peak_nm_min")
	some fixture in input.fixtures
	fixture.colour == "coloured"
	fixture.peak_nm < too_little
}

# Any light below the shortest wavelength; white light has it always.
found_by_type[fixture.type] contains {
	"case": "shortest",
	"words": sprintf("it gives light down to %s, the profile allows none below %s", [
		lib.quantity_apart(fixture.shortest_nm, least, "nm"), lib.quantity_apart(least, fixture.shortest_nm, "nm"),
	]),
	"against": lib.against(fixture.shortest_nm, "neighbour.shortest_nm_min"),
} if {
	least := lib.limit("neighbour.shortest_nm_min")
	too_little := lib.least("neighbour.shortest_nm_min")
	some fixture in input.fixtures
	fixture.shortest_nm < too_little
}

found_by_type[fixture.type] contains {
	"case": "shortest",
	"words": sprintf("white light has blue in it, the profile allows none below %s", [lib.quantity(lib.limit("neighbour.shortest_nm_min"), "nm")]),
	"against": {"limit_name": "neighbour.shortest_nm_min"},
} if {
	lib.has_limit("neighbour.shortest_nm_min")
	some fixture in input.fixtures
	fixture.colour == "white"
	unstated(fixture, "shortest_nm")
}

# Coloured light whose data sheet does not say how far it reaches.
found_by_type[fixture.type] contains {
	"case": "shortest",
	"words": sprintf("the plan does not give the shortest wavelength of its light, so nobody can say that there is none below %s", [
		lib.quantity(lib.limit("neighbour.shortest_nm_min"), "nm"),
	]),
	"against": {"limit_name": "neighbour.shortest_nm_min"},
} if {
	lib.has_limit("neighbour.shortest_nm_min")
	some fixture in input.fixtures
	fixture.colour == "coloured"
	unstated(fixture, "shortest_nm")
}

unstated(fixture, field) if object.get(fixture, field, null) == null

found_by_type[fixture.type] contains {
	"case": "phosphor",
	"words": "a phosphor makes its colour, which the profile does not accept: some blue remains",
	"against": {"limit_name": "neighbour.phosphor_allowed"},
} if {
	lib.limit_flag("neighbour.phosphor_allowed") == false
	some fixture in input.fixtures
	fixture.colour == "coloured"
	fixture.phosphor_converted
}

found_by_type[fixture.type] contains {
	"case": "tunable",
	"words": "its colour can be changed in use, which the profile does not accept",
	"against": {"limit_name": "neighbour.tunable_allowed"},
} if {
	lib.limit_flag("neighbour.tunable_allowed") == false
	some fixture in input.fixtures
	fixture.tunable
}

# some_of names the first of a list and counts the rest.
some_of(names) := lib.listed(names) if {
	count(names) <= 3
} else := sprintf("%s and %d more", [concat(", ", array.slice(names, 0, 2)), count(names) - 2])
