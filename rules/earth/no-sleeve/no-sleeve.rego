# METADATA
# title: Cable passes under paving, a drive or a wall without a sleeve
# description: |
#   A cable that fails under paving means breaking the paving: the dearest repair
#   of all. A length of pipe costs little while the ground is open, and lets a new
#   cable be drawn through. It is practice, not code; the depth is another rule.
# custom:
#   id: earth.no-sleeve
#   severity: advice
#   basis: practice
#   source: common practice, no source
#   confidence: practice
#   needs:
#     - each: pieces
#       where: {exempt: ["false"], sleeved: ["false"]}
#       has: [paved]
#   limits: [earth.sleeve_paving_required]
#   hint: Draw {element} through a sleeve there that reaches a little beyond both edges
#   since: 0.1.0
package rules.earth["no-sleeve"]

import data.lib

hits contains lib.hit(leg, ["sleeve"], {
	"case": surface,
	"value": length,
	"limit": 0,
	"unit": "m",
	"limit_name": "earth.sleeve_paving_required",
	"message": sprintf("leg %s passes under %s for %s without a sleeve: a new cable there means breaking it up", [leg, surface, lib.length(length)]),
}) if {
	lib.limit_flag("earth.sleeve_paving_required")
	some [leg, surface], stretches in bare
	length := sum([stretch |
		some [from, to] in stretches
		stretch := to - from
	])
}

bare[[piece.id, surface]] contains [piece.from_m, piece.to_m] if {
	some piece in input.pieces
	some surface in piece.hard
	piece.sleeved == false
	piece.exempt == false
}

hits contains lib.hit(crossing.id, ["sleeve"], {
	"case": crossing.what,
	"limit_name": "earth.sleeve_paving_required",
	"message": sprintf("leg %s passes under or through %s, %s along it, without a sleeve: stone settles on it and saws through the jacket", [
		crossing.id, lib.called("wall", crossing.what), lib.length(crossing.station_m),
	]),
}) if {
	lib.limit_flag("earth.sleeve_paving_required")
	some crossing in input.crossings
	crossing.kind == "wall"
	crossing.in_ground
	crossing.sleeved == false
}
