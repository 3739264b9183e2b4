# METADATA
# title: Outdoor receptacle has no cover that closes over a plug
# description: |
#   A landscape transformer stays plugged in for years. A cover that only closes
#   over an empty receptacle then stands open in every rain, and water sits in
#   the plug.
# custom:
#   id: power.in-use-cover
#   severity: defect
#   basis: code
#   source: NFPA 70 (2020), 406.9(B)(1)
#   confidence: confirmed
#   needs:
#     - each: receptacles
#       where: {location: [outdoor]}
#       has: [in_use_cover]
#   limits: [power.in_use_cover_required]
#   hint: Have a cover fitted at {element} that closes over the plug
#   since: 0.1.0
package rules.power["in-use-cover"]

import data.lib

hits contains lib.hit(receptacle.id, ["in_use_cover"], {
	"message": sprintf("outdoor receptacle %s has no cover that closes over a plug, so rain gets into it whenever something is plugged in", [receptacle.id]),
	"limit_name": "power.in_use_cover_required",
}) if {
	lib.limit_flag("power.in_use_cover_required")
	some receptacle in input.receptacles
	receptacle.location == "outdoor"
	receptacle.in_use_cover == false
}
