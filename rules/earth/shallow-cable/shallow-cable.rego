# METADATA
# title: Cable is not buried deep enough
# description: |
#   A spade, an aerator or a wheel reaches a cable that lies too shallow, and
#   nobody sees the nick until it corrodes. How deep is deep enough depends on
#   what lies above: under a drive it is far more than under a bed. Mulch is not
#   cover. The short rise to a fixture, hub or transformer is exempt.
# custom:
#   id: earth.shallow-cable
#   severity: defect
#   basis: code
#   source: NFPA 70 (2020), table 300.5, column 5; other profiles their own
#   confidence: confirmed
#   needs:
#     - each: pieces
#       where: {exempt: ["false"]}
#       has: [cover_m]
#   limits: [earth.cover, earth.cover_advice_m, earth.listed_depth_allowed]
#   hint: Lay {element} with at least {limit} of earth above it there, or route it elsewhere
#   since: 0.1.0
package rules.earth["shallow-cable"]

import data.lib

# Below the profile's table, once for each leg and row of the table.
hits contains lib.hit(leg, ["cover"], {
	"case": words[row],
	"value": found.cover_m,
	"limit": found.required_m,
	"unit": "m",
	"limit_name": "earth.cover",
	"message": sprintf("leg %s has %s of cover %s; at least %s is asked for there, and a spade or a wheel reaches what lies higher", [
		leg, lib.length_apart(found.cover_m, found.required_m), words[row],
		lib.length_apart(found.required_m, found.cover_m),
	]),
}) if {
	some [leg, row], pieces in shallow
	found := worst(pieces)
}

shallow[[piece.id, piece.row]] contains {"cover_m": piece.cover_m, "required_m": piece.required_m} if {
	some piece in input.pieces
	piece.exempt == false
	piece.cover_m < piece.required_m
	piece.cover_m < piece.required_m - lib.tolerances.m
}

# worst is the piece of one leg and row that lacks most: a row asks for less in a
# sleeve, and a sleeve may cover a part of the leg.
worst(pieces) := found if {
	some found in pieces
	found.required_m == max({piece.required_m | some piece in pieces})
}

# words say what lies above, by the row of the table that governs.
words := {
	"all": "in open ground",
	"home-drive": "under the drive",
	"runway": "under a runway",
	"street": "under a street, parking or shared drive",
	"under-building": "under a building",
	"under-slab": "under a slab",
	"under-thin-concrete": "under thin concrete",
}

# Advice where no table of a code applies.
hits contains lib.hit(leg, ["cover"], object.union(lib.against(cover_m, "earth.cover_advice_m"), {
	"case": "spade",
	"severity": "advice",
	"message": sprintf("leg %s has %s of cover; spades and aerators reach a cable that has less than %s", [
		leg, lib.length_apart(cover_m, enough), lib.length_apart(enough, cover_m),
	]),
})) if {
	enough := lib.limit("earth.cover_advice_m")
	some leg, covers in untabled
	cover_m := min(covers)
}

untabled[piece.id] contains piece.cover_m if {
	enough := lib.limit("earth.cover_advice_m")
	some piece in input.pieces
	piece.cover_m < enough
	piece.exempt == false
	not piece.required_m
	piece.row != "under-building"
	piece.cover_m < enough - lib.tolerances.m
	not listed(piece)
}

# listed is true when the instructions of a listed system allow the depth.
listed(piece) if {
	lib.limit_flag("earth.listed_depth_allowed")
	piece.cover_m >= lib.legs_by_id[piece.id].listed_cover_m - lib.tolerances.m
}
