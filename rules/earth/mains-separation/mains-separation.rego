# METADATA
# title: Cable runs beside buried mains
# description: |
#   Low-voltage cable beside mains cable is dug up for it and taken for it, and a
#   fault of the one can reach the other. The trade keeps about a foot between
#   them and crosses square. It is a habit; no clause was found.
# custom:
#   id: earth.mains-separation
#   severity: advice
#   basis: practice
#   source: common practice, no source
#   confidence: practice
#   needs: []
#   limits: [earth.mains_separation_m]
#   hint: Keep {element} {limit} from {case}, and cross it square
#   since: 0.1.0
package rules.earth["mains-separation"]

import data.lib

hits contains lib.hit(crossing.id, ["route"], object.union(lib.against(crossing.beside_m, "earth.mains_separation_m"), {
	"case": crossing.what,
	"message": sprintf("leg %s runs beside mains line %s for %s, %s away; the trade keeps %s, so that nobody takes one for the other", [
		crossing.id, crossing.what, lib.length(crossing.length_m),
		lib.length_apart(crossing.beside_m, apart), lib.length_apart(apart, crossing.beside_m),
	]),
})) if {
	apart := lib.limit("earth.mains_separation_m")
	some crossing in input.crossings
	crossing.service_kind == "mains"
	crossing.in_ground
	crossing.beside_m < lib.least("earth.mains_separation_m")
	crossing.length_m > apart # shorter is a crossing
}
