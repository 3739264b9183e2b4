# METADATA
# title: Fixture gives more light, or stands higher, than the zone allows
# description: |
#   Ordinances for dark skies allow each low-voltage fixture only so much light: more when
#   it is fully shielded, less or none when its lamp shows. On shores fixtures stay low, so
#   that dunes and plants hide them.
# custom:
#   id: neighbour.lumens
#   severity: advice
#   basis: standard
#   source: Model Lighting Ordinance (2011), section VII and table G, from memory; guidance on shores
#   confidence: single
#   needs:
#     - each: fixtures
#       has: [emitted_lm]
#   limits:
#     - neighbour.lumens_max
#     - neighbour.lumens_shielded_max
#     - neighbour.lumens_unshielded_max
#     - neighbour.mount_height_max_m
#   hint: Choose a weaker lamp or a fully shielded fixture for {element}
#   since: 0.1.0
package rules.neighbour.lumens

import data.lib

hits contains lib.hit(fixture.id, [], object.union(lib.against(fixture.emitted_lm, row.limit), {
	"case": "lumens",
	"message": sprintf("%s gives %s; the profile allows %s", [
		fixture.id, lib.quantity_apart(fixture.emitted_lm, row.most, "lm"),
		sprintf(row.words, [lib.quantity_apart(row.most, fixture.emitted_lm, "lm")]),
	]),
})) if {
	some kind, row in rows
	some fixture in input.fixtures
	fixture.emitted_lm > row.too_much
	shielding(fixture) == kind
}

# rows hold the most generous row of the ordinance for fixtures with and without
# a full shield; a fixture that satisfies one of its rows is in order.
rows[kind] := row if {
	some kind, names in rows_of
	offered := {[lib.limit(name), name] | some name in names; lib.has_limit(name)}
	[most, name] := max(offered)
	row := {"limit": name, "most": most, "too_much": lib.most(name), "words": words(name, most)}
}

rows_of := {
	"shielded": ["neighbour.lumens_max", "neighbour.lumens_shielded_max", "neighbour.lumens_unshielded_max"],
	"open": ["neighbour.lumens_max", "neighbour.lumens_unshielded_max"],
}

words(_, 0) := "none without a full shield (%s)"

words(name, most) := "%s for a fully shielded fixture" if {
	most > 0
	name == "neighbour.lumens_shielded_max"
}

words(name, most) := "%s for one that is not fully shielded" if {
	most > 0
	name == "neighbour.lumens_unshielded_max"
}

words(name, most) := "%s for each low-voltage fixture" if {
	most > 0
	name == "neighbour.lumens_max"
}

# shielding is shielded for a fixture that is stated to be so and sends nothing up.
shielding(fixture) := "shielded" if {
	fixture.shield == "full-cutoff"
	object.get(fixture, "up_share", 0) == 0
} else := "open"

hits contains lib.hit(fixture.id, ["height"], object.union(lib.against(fixture.height_m, "neighbour.mount_height_max_m"), {
	"case": "height",
	"message": sprintf("%s stands %s high; the profile allows %s, so that it stays hidden", [
		fixture.id, lib.length_apart(fixture.height_m, most), lib.length_apart(most, fixture.height_m),
	]),
	"hint": "Lower {element}",
})) if {
	most := lib.limit("neighbour.mount_height_max_m")
	too_high := lib.most("neighbour.mount_height_max_m")
	some fixture in input.fixtures
	fixture.height_m > too_high
}
