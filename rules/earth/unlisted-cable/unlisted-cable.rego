# METADATA
# title: Cable is not marked for where it lies
# description: |
#   The jacket of an indoor or flexible cord goes soft in wet earth, and sunlight
#   makes others brittle; within a few years the copper is bare. The least covers
#   of the code are for cable that is identified for burial.
# custom:
#   id: earth.unlisted-cable
#   severity: defect
#   basis: listing
#   source: the mark on the cable; NFPA 70 (2020), table 300.5, column 5 asks for cable identified for burial
#   confidence: confirmed
#   needs: []
#   limits: []
#   hint: Use cable that is marked for direct burial, or for sunlight, in place of {element}
#   since: 0.1.0
package rules.earth["unlisted-cable"]

import data.lib

# One hit for each type of cable.
hits contains lib.hit(cable, ["direct_burial"], {
	"case": "burial",
	"message": sprintf("cable %s is not marked for burial and lies bare in the ground as %s: wet earth ruins its jacket", [cable, lib.few(legs)]),
}) if {
	some cable, legs in buried
}

hits contains lib.hit(cable, ["sunlight_resistant"], {
	"case": "sunlight",
	"severity": "advice",
	"message": sprintf("cable %s is not marked for sunlight and lies in the open as %s: its jacket grows brittle and cracks", [cable, lib.few(legs)]),
}) if {
	some cable, legs in exposed
}

buried[leg.cable] contains leg.id if {
	some leg in input.legs
	leg.direct_burial == false
	in_ground(leg)
	not leg.sleeve_where == "whole"
}

exposed[leg.cable] contains leg.id if {
	some leg in input.legs
	leg.sunlight_resistant == false
	leg.method in {"surface", "on-tree"}
}

# A leg that does not say how it is laid is taken to be buried.
in_ground(leg) if leg.method == "buried"

in_ground(leg) if not leg.method
