# METADATA
# title: Nothing says that the supply is isolated from the mains
# description: |
#   In a safety isolating transformer no single fault joins mains and garden. In a supply
#   that does not isolate, one fault puts mains volts on a cable in wet earth and on every
#   fixture that people touch. Low-voltage lighting is safe by this separation (SELV) alone.
# custom:
#   id: power.isolation
#   severity: advice
#   basis: code
#   source: NFPA 70 (2020), 411.6(B)
#   confidence: single
#   needs: []
#   limits:
#     - power.isolation_required
#   hint: Look for an isolating, SELV, Class 2 or landscape-lighting listing on the label of {element} and write it into the plan, or use a unit that has one
#   since: 0.1.0
package rules.power.isolation

import data.lib

hits contains lib.hit(unit.id, ["type"], {
	"limit_name": "power.isolation_required",
	"message": sprintf("%s that transformer %s isolates the garden from the mains: in one that does not, a single fault puts mains volts on every fixture", [
		what_says(unit), unit.id,
	]),
}) if {
	lib.limit_flag("power.isolation_required")
	some unit in input.transformers
	not isolates(unit)
	asked_for(unit)
}

# Each of these listings asks for isolation.
isolates(unit) if {
	some listing in unit.listing
	listing in {"isolating", "selv", "class-2", "landscape-system", "pool-spa"}
}

# A plan that is not issued yet may leave out what a unit is listed for.
asked_for(unit) if count(unit.listing) > 0

asked_for(_) if input.stage in {"issued", "as-built"}

what_says(unit) := "no listing in the plan says" if count(unit.listing) == 0

what_says(unit) := sprintf("none of its listings (%s) says", [concat(", ", unit.listing)]) if count(unit.listing) > 0
