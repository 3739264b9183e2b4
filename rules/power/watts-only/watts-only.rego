# METADATA
# title: LED load is given in watts alone
# description: |
#   An LED lamp draws more than its watts: a power factor of one half doubles what
#   cable and transformer carry. Where the plan gives neither volt-amperes nor power
#   factor, a cautious value is assumed, and every volt and ampere of the run rests on it.
# custom:
#   id: power.watts-only
#   severity: advice
#   basis: listing
#   source: the lamp's data sheet; watts divided by power factor are volt-amperes
#   confidence: confirmed
#   needs: []
#   limits: [power.assumed_pf]
#   hint: Look up the volt-amperes or the power factor of {element} and write it into the catalogue
#   since: 0.1.0
package rules.power["watts-only"]

import data.lib

hits contains lib.hit(type, ["watts"], {
	"value": lib.limit("power.assumed_pf"),
	"unit": "1",
	"message": sprintf("type %s gives watts alone, so its %s computed at a power factor of %s, as %s: the true load may be as little as %s, or more than was computed", [
		type, lamps(ids), lib.number(lib.limit("power.assumed_pf"), 2),
		lib.volt_amps(sum([lib.fixtures_by_id[id].va_used | some id in ids])),
		lib.volt_amps(sum([lib.fixtures_by_id[id].watts | some id in ids])),
	]),
}) if {
	some type, ids in assumed
}

# assumed holds the lamps of each type whose load rests on an assumption.
assumed[fixture.type] contains fixture.id if {
	some fixture in input.fixtures
	fixture.va_assumed
}

lamps(ids) := "lamp was" if {
	count(ids) == 1
} else := sprintf("%d lamps were", [count(ids)])
