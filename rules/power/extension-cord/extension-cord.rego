# METADATA
# title: Extension cord feeds the system
# description: |
#   An extension cord lies in wet grass with its connection open to rain and mowers, and
#   nobody looks after it for years. Cords are for temporary use; a fixed system needs
#   fixed wiring up to its receptacle.
# custom:
#   id: power.extension-cord
#   severity: danger
#   basis: listing
#   source: instructions of listed power units; cords are not a substitute for fixed wiring (NFPA 70, article 400)
#   confidence: single
#   needs:
#     - each: transformers
#       where: {hard_wired: ["false"]}
#       has: [extension_cord]
#   limits: []
#   hint: Have a receptacle fitted within reach of the cord, by a licensed person
#   since: 0.1.0
package rules.power["extension-cord"]

import data.lib

hits contains lib.hit(unit.id, ["extension_cord"], {"message": sprintf("transformer %s is fed through an extension cord: its connection lies in the wet, and a mower or a spade cuts it", [unit.id])}) if {
	some unit in input.transformers
	unit.extension_cord
}

hits contains lib.hit(receptacle.id, ["fed_by"], {"message": sprintf("receptacle %s is fed by an extension cord; a system that stays needs fixed wiring", [receptacle.id])}) if {
	some receptacle in input.receptacles
	receptacle.fed_by == "extension-cord"
}
