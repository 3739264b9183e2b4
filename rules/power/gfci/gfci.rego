# METADATA
# title: Outdoor receptacle lacks ground-fault protection
# description: |
#   A wet plug, a nicked cord or a failing power unit can put mains voltage on
#   metal that people touch with wet feet. Ground-fault (residual-current)
#   protection cuts it off before it kills. It is the cheapest protection on the
#   whole site.
# custom:
#   id: power.gfci
#   severity: danger
#   basis: code
#   source: NFPA 70 (2020), 210.8(A)(3)
#   confidence: confirmed
#   needs:
#     - each: receptacles
#       where: {location: [outdoor]}
#       has: [gfci]
#     - each: transformers
#       where: {hard_wired: ["false"], location: [outdoor]}
#       has: [receptacle]
#   limits: [power.gfci_required]
#   hint: Have a licensed person fit ground-fault protection at {element} or at the start of its branch circuit
#   since: 0.1.0
package rules.power.gfci

import data.lib

hits contains lib.hit(receptacle.id, ["gfci"], {
	"message": sprintf("outdoor receptacle %s has no ground-fault protection%s: a wet plug or a nicked cord there can kill", [receptacle.id, feeds(receptacle)]),
	"limit_name": "power.gfci_required",
}) if {
	lib.limit_flag("power.gfci_required")
	some receptacle in input.receptacles
	receptacle.location == "outdoor"
	receptacle.gfci == false
}

# Codes differ on outdoor units that are wired in without a receptacle.
hits contains lib.hit(unit.id, ["wired_to"], {
	"message": sprintf("outdoor transformer %s is wired to circuit %s, which has no ground-fault protection: ask the authority whether it needs it", [unit.id, branch.id]),
	"case": "wired in",
	"severity": "caution",
	"basis": "practice",
	"source": "codes differ on outdoor units that are wired in; the authority decides",
	"hint": "Ask the authority, and write the answer into the notes of the plan",
}) if {
	lib.limit_flag("power.gfci_required")
	some unit in input.transformers
	unit.hard_wired
	unit.location == "outdoor"
	branch := lib.branches_by_id[unit.branch]
	branch.gfci == false
}

feeds(receptacle) := sprintf(", and %s hangs on it", [lib.listed(receptacle.transformers)]) if {
	count(receptacle.transformers) == 1
} else := sprintf(", and %s hang on it", [lib.listed(receptacle.transformers)]) if {
	count(receptacle.transformers) > 1
} else := ""
