# METADATA
# title: Cable is hidden in a building without a wiring method for it
# description: |
#   Lighting cable is made for the ground. In a wall, a floor or a ceiling, and
#   under a building, nobody sees it grow hot or get gnawed, and it cannot be drawn
#   out. There the code asks for a recognised wiring method, and under a building
#   for a raceway.
# custom:
#   id: earth.concealed
#   severity: defect
#   basis: code
#   source: NFPA 70 (2020), 411.5(A) and table 300.5
#   confidence: confirmed
#   needs:
#     - each: legs
#       where: {method: [in-wall, under-building]}
#       has: [cable]
#   limits: [earth.concealed_method_required]
#   hint: Draw {element} in a raceway there, use cable that is listed for it, or lead it round outside
#   since: 0.1.0
package rules.earth.concealed

import data.lib

hits contains lib.hit(leg.id, ["method"], {
	"case": "in a wall",
	"severity": severity(leg),
	"limit_name": "earth.concealed_method_required",
	"message": sprintf("leg %s is hidden in a wall, and cable %s is not listed for that: nobody sees it grow hot%s", [leg.id, leg.cable, ask(leg)]),
}) if {
	lib.limit_flag("earth.concealed_method_required")
	some leg in input.legs
	leg.method == "in-wall"
	not leg.sleeve_where == "whole"
	not "in-wall" in leg.cable_listing
}

hits contains lib.hit(leg.id, ["method"], {
	"case": "under a building",
	"severity": severity(leg),
	"limit_name": "earth.concealed_method_required",
	"message": sprintf("leg %s lies under a building without a raceway, and cable %s is not listed for that: it can never be drawn out%s", [
		leg.id, leg.cable, ask(leg),
	]),
}) if {
	lib.limit_flag("earth.concealed_method_required")
	some leg in input.legs
	leg.method == "under-building"
	not leg.sleeve_where
	not "under-building" in leg.cable_listing
}

hits contains lib.hit(leg.id, ["route"], {
	"case": crossing.what,
	"severity": severity(leg),
	"limit_name": "earth.concealed_method_required",
	"message": sprintf("leg %s passes under %s for %s without a raceway, and cable %s is not listed for that: it can never be drawn out%s", [
		leg.id, crossing.what, lib.length(crossing.length_m), leg.cable, ask(leg),
	]),
}) if {
	lib.limit_flag("earth.concealed_method_required")
	some crossing in input.crossings
	crossing.kind == "building"
	crossing.in_ground
	crossing.sleeved == false
	leg := lib.legs_by_id[crossing.id]
	not "under-building" in leg.cable_listing
}

# Only a code makes a defect of it, and a class 2 source has an article of its
# own.
severity(leg) := "advice" if {
	class_2(leg)
} else := "defect" if {
	lib.limits_by_name["earth.concealed_method_required"].basis == "code"
} else := "advice"

ask(leg) := "; its source is class 2, so ask whether another article holds" if {
	class_2(leg)
} else := ""

class_2(leg) if {
	unit := lib.transformers_by_id[lib.runs_by_id[leg.run].transformer]
	"class-2" in unit.listing
}
