# METADATA
# title: Lamps of one run get uneven voltage
# description: |
#   Filament lamps show every volt: the last lamp is yellow beside the first, and a tap that
#   cures the last one burns the first one out. LED drivers even it out, so they are left to
#   their windows. A hub evens it out only when its leads are equal.
# custom:
#   id: wire.uneven-run
#   severity: defect
#   basis: practice
#   source: common practice, no source
#   confidence: practice
#   needs: []
#   limits:
#     - wire.equal_leads_m
#     - wire.filament_spread_advice_v
#     - wire.filament_spread_defect_v
#   hint: Feed {element} from its middle or through a hub, use thicker cable, or split it
#   since: 0.1.0
package rules.wire["uneven-run"]

import data.lib

hits contains lib.hit(run.id, ["from"], object.union(lib.against(run.filament_spread_v, found.limit), {
	"case": "spread",
	"severity": found.severity,
	"message": sprintf("run %s gives lamp %s %s more than lamp %s (nominal supply); filament lamps that differ by %s are seen to differ", [
		run.id, run.first_lamp, lib.quantity_apart(run.filament_spread_v, limit, "V"), run.last_lamp,
		lib.quantity_apart(limit, run.filament_spread_v, "V"),
	]),
})) if {
	some run in input.runs
	run.filament_spread_v
	found := spread(run)
	limit := lib.limit(found.limit)
}

spread(run) := {"limit": "wire.filament_spread_defect_v", "severity": "defect"} if {
	run.filament_spread_v > lib.most("wire.filament_spread_defect_v")
} else := {"limit": "wire.filament_spread_advice_v", "severity": "advice"} if {
	run.filament_spread_v > lib.most("wire.filament_spread_advice_v")
}

# Leads that are meant to be equal.
hits contains lib.hit(run.id, ["equal_leads"], object.union(lib.against(run.longest_lead_m - run.shortest_lead_m, "wire.equal_leads_m"), {
	"case": "leads",
	"severity": "advice",
	"message": sprintf("the leads of the hub of run %s are meant to be equal, and run from %s to %s; more than %s apart they are not", [
		run.id, lib.length(run.shortest_lead_m), lib.length(run.longest_lead_m), lib.length(lib.limit("wire.equal_leads_m")),
	]),
	"hint": "Cut all leads of the hub of {element} to one length, or drop the claim that they are equal",
})) if {
	some run in input.runs
	run.equal_leads
	run.longest_lead_m - run.shortest_lead_m > lib.most("wire.equal_leads_m")
}
