# METADATA
# title: Branch circuit is loaded too much, or too large
# description: |
#   Garden lights burn for hours, so the breaker of their circuit may only be
#   loaded to a share of its rating. Beyond it the breaker trips on warm evenings,
#   with everything else that hangs on the circuit. Transformers draw a surge when
#   they are switched on; several at once can trip a breaker that is large enough.
# custom:
#   id: power.branch-circuit
#   severity: defect
#   basis: code
#   source: NFPA 70 (2020), 210.19(A)(1), 210.20(A) and 411.7
#   confidence: confirmed
#   needs:
#     - each: branches
#       has: [breaker_amps, total_amps]
#   limits:
#     - power.branch_continuous
#     - power.branch_max_a
#     - power.inrush_breaker
#   hint: Feed a transformer or the other load from another circuit than {element}
#   since: 0.1.0
package rules.power["branch-circuit"]

import data.lib

# More than the breaker: it opens.
hits contains lib.hit(branch.id, ["breaker"], {
	"case": "load",
	"value": branch.total_amps,
	"limit": branch.breaker_amps,
	"unit": "A",
	"message": sprintf("branch circuit %s carries %s with %s and its other load%s; its breaker is %s and will open", [
		branch.id, lib.quantity_apart(branch.total_amps, branch.breaker_amps, "A"), units(branch), corner(branch),
		lib.quantity_apart(branch.breaker_amps, branch.total_amps, "A"),
	]),
}) if {
	some branch in input.branches
	branch.total_amps > branch.breaker_amps
	branch.total_amps > branch.breaker_amps + lib.tolerances.A
}

# More than the share for continuous loads.
hits contains lib.hit(branch.id, ["breaker"], object.union(lib.against(branch.total_amps / branch.breaker_amps, "power.branch_continuous"), {
	"case": "load",
	"severity": "advice",
	"message": sprintf("branch circuit %s carries %s with %s and its other load%s for hours, %s of its %s breaker; a continuous load may take %s", [
		branch.id, lib.amps(branch.total_amps), units(branch), corner(branch), lib.percent_apart(branch.total_amps / branch.breaker_amps, share),
		lib.amps(branch.breaker_amps), lib.percent_apart(share, branch.total_amps / branch.breaker_amps),
	]),
})) if {
	share := lib.limit("power.branch_continuous")
	some branch in input.branches
	count(branch.transformers) > 0
	branch.total_amps > branch.breaker_amps * share
	branch.total_amps > (branch.breaker_amps * share) + lib.tolerances.A
	branch.total_amps <= branch.breaker_amps + lib.tolerances.A
}

# A larger circuit than may supply the lighting.
hits contains lib.hit(branch.id, ["breaker"], object.union(lib.against(branch.breaker_amps, "power.branch_max_a"), {
	"case": "size",
	"severity": "advice",
	"message": sprintf("branch circuit %s has a breaker of %s; low-voltage lighting may be supplied from a circuit of at most %s", [
		branch.id, lib.quantity_apart(branch.breaker_amps, limit, "A"), lib.quantity_apart(limit, branch.breaker_amps, "A"),
	]),
	"hint": "Supply the transformers from a circuit of at most {limit}",
})) if {
	limit := lib.limit("power.branch_max_a")
	most := lib.most("power.branch_max_a")
	some branch in input.branches
	count(branch.transformers) > 0
	branch.breaker_amps > most
}

# The surge of all transformers that are switched on together.
hits contains lib.hit(branch.id, ["breaker"], object.union(lib.against(branch.inrush_amps / branch.breaker_amps, "power.inrush_breaker"), {
	"case": "inrush",
	"severity": "advice",
	"message": sprintf("switching on %s together draws a surge of %s through the %s breaker of %s, %s times its rating; small breakers can open at %s times", [
		units(branch), lib.amps(branch.inrush_amps), lib.amps(branch.breaker_amps), branch.id,
		lib.apart(branch.inrush_amps / branch.breaker_amps, multiple, 1), lib.apart(multiple, branch.inrush_amps / branch.breaker_amps, 1),
	]),
	"hint": "Switch the transformers on {element} one after another, or feed them from several circuits",
})) if {
	multiple := lib.limit("power.inrush_breaker")
	some branch in input.branches
	branch.inrush_amps > branch.breaker_amps * multiple
	branch.inrush_amps > (branch.breaker_amps * multiple) + lib.tolerances.A
}

units(branch) := sprintf("transformer %s", [branch.transformers[0]]) if {
	count(branch.transformers) == 1
} else := sprintf("transformers %s", [lib.listed(branch.transformers)]) if {
	count(branch.transformers) > 1
} else := "no transformer"

corner(branch) := sprintf(" (%s)", [branch.primary_corner]) if branch.primary_corner

default corner(_) := ""
