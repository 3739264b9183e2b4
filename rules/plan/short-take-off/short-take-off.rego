# METADATA
# title: Less was bought than the plan needs
# description: |
#   Cable that runs out in the trench is joined to the next roll in the ground, or
#   another make is bought that does not fit the hub. Need is counted from the plan:
#   every leg with its slack, every joint, every fixture. Offcuts and second thoughts
#   come on top for cable. Two connectors are counted for a joint, one for each pole,
#   where the kind joins single conductors.
# custom:
#   id: plan.short-take-off
#   severity: advice
#   basis: house
#   source: common practice, no source
#   confidence: practice
#   needs: []
#   limits: [plan.take_off_allowance]
#   hint: Buy what is missing before the trench is opened
#   since: 0.1.0
package rules.plan["short-take-off"]

import data.lib

hits contains lib.hit("take_off", field(line), {
	"case": name(line),
	"value": line.bought,
	"limit": line.needed,
	"unit": line.unit,
	"message": sprintf("%s of %s bought, and the plan needs %s%s: the job stops in the middle", [
		amount(line.bought, line.needed, line.unit), name(line), amount(line.needed, line.bought, line.unit), unmeasured(line),
	]),
}) if {
	some line in input.take_off
	line.bought < line.needed
	short(line)
}

hits contains lib.hit("take_off", field(line), {
	"case": name(line),
	"value": line.bought,
	"limit": wanted,
	"unit": line.unit,
	"limit_name": "plan.take_off_allowance",
	"message": sprintf("%s of %s bought is enough for the routes as drawn, %s with slack; with %s for offcuts and second thoughts it would be %s", [
		amount(line.bought, wanted, line.unit), name(line), amount(line.needed, line.bought, line.unit),
		lib.percent(lib.limit("plan.take_off_allowance")), amount(wanted, line.bought, line.unit),
	]),
}) if {
	share := 1 + lib.limit("plan.take_off_allowance")
	some line in input.take_off
	line.what == "cable"
	wanted := line.needed * share
	line.bought < wanted - lib.tolerances.m
	not short(line)
}

short(line) if line.bought < line.needed - lib.tolerances[line.unit]

name(line) := sprintf("%s %s", [line.what, line.id])

field(line) := [line.index, "bought"] if {
	line.index >= 0
} else := []

amount(value, other, unit) := lib.length_apart(value, other) if {
	unit == "m"
} else := lib.number(value, 0)

unmeasured(line) := sprintf(" and more, for %d legs have no length", [line.unmeasured]) if {
	line.unmeasured > 1
} else := " and more, for one leg has no length" if {
	line.unmeasured == 1
} else := ""
