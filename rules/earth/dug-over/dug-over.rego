# METADATA
# title: Cable lies where the ground is dug over
# description: |
#   Gardeners who plant annuals cut more cable than anyone else, and a core aerator
#   reaches two to four inches. In a bed that is dug every year no usual depth is
#   safe; a sleeve turns the spade. Under a lawn that is aerated the cable has to lie
#   below the tines.
# custom:
#   id: earth.dug-over
#   severity: advice
#   basis: practice
#   source: common practice, no source
#   confidence: practice
#   needs: []
#   limits: [earth.cover_advice_m]
#   hint: Lead {element} round {case}, sleeve it there, or lay it below what the tools reach
#   since: 0.1.0
package rules.earth["dug-over"]

import data.lib

hits contains lib.hit(crossing.id, ["route"], {
	"case": crossing.what,
	"value": crossing.length_m,
	"limit": 0,
	"unit": "m",
	"message": sprintf("leg %s lies in %s for %s without a sleeve, and that bed is dug over every year: a spade cuts it", [
		crossing.id, lib.called("bed", crossing.what), lib.length(crossing.length_m),
	]),
}) if {
	some crossing in input.crossings
	crossing.kind == "annual-bed"
	crossing.in_ground
	crossing.sleeved == false
}

hits contains lib.hit(leg.id, ["cover"], object.union(lib.against(leg.cover_m, "earth.cover_advice_m"), {
	"case": crossing.what,
	"message": sprintf("leg %s has %s of cover under %s, which is aerated: tines reach what lies above %s", [
		leg.id, lib.length_apart(leg.cover_m, enough), lib.called("lawn", crossing.what), lib.length_apart(enough, leg.cover_m),
	]),
})) if {
	enough := lib.limit("earth.cover_advice_m")
	some crossing in input.crossings
	crossing.kind == "aerated-lawn"
	crossing.in_ground
	crossing.sleeved == false
	leg := lib.legs_by_id[crossing.id]
	leg.cover_m < lib.least("earth.cover_advice_m")
}
