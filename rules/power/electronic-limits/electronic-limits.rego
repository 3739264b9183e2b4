# METADATA
# title: Electronic supply is outside what its maker allows
# description: |
#   Many electronic supplies need a least load, and flicker, buzz or go out below it. A
#   high-frequency output loses its volts within a few metres of cable and disturbs radios
#   beyond what its maker allows.
# custom:
#   id: power.electronic-limits
#   severity: advice
#   basis: listing
#   source: instructions of the electronic supply
#   confidence: single
#   needs: []
#   limits: [power.electronic_max_m]
#   hint: Use a magnetic transformer in place of {element}, or keep to its maker's limits
#   since: 0.1.0
package rules.power["electronic-limits"]

import data.lib

# Too little load in the lightest scene in use.
hits contains lib.hit(unit.id, ["type"], {
	"case": "load",
	"value": unit.least_load_va,
	"limit": unit.minimum_load_va,
	"unit": "VA",
	"message": sprintf("electronic supply %s carries %s in its lightest scene; its maker asks for at least %s, below which it flickers or goes out", [
		unit.id, lib.quantity_apart(unit.least_load_va, unit.minimum_load_va, "VA"),
		lib.quantity_apart(unit.minimum_load_va, unit.least_load_va, "VA"),
	]),
}) if {
	some unit in input.transformers
	unit.kind == "electronic"
	unit.least_load_va < unit.minimum_load_va - lib.tolerances.VA
}

# Too long a cable by the maker's word.
hits contains lib.hit(unit.id, ["type"], {
	"case": "length",
	"value": unit.farthest_m,
	"limit": unit.largest_distance_m,
	"unit": "m",
	"message": sprintf("the farthest lamp of %s is %s of cable away; its maker allows %s", [
		unit.id, lib.length_apart(unit.farthest_m, unit.largest_distance_m),
		lib.length_apart(unit.largest_distance_m, unit.farthest_m),
	]),
}) if {
	some unit in input.transformers
	unit.farthest_m > unit.largest_distance_m + lib.tolerances.m
}

# Too long a cable for a high-frequency output whose maker says nothing.
hits contains lib.hit(unit.id, ["type"], object.union(lib.against(unit.farthest_m, "power.electronic_max_m"), {
	"case": "length",
	"message": sprintf("the farthest lamp of %s is %s of cable away; its output is of high frequency, and without its maker's word common practice allows %s", [
		unit.id, lib.length_apart(unit.farthest_m, limit), lib.length_apart(limit, unit.farthest_m),
	]),
})) if {
	limit := lib.limit("power.electronic_max_m")
	some unit in input.transformers
	unit.output == "hf-ac"
	not unit.largest_distance_m
	unit.farthest_m > limit + lib.tolerances.m
}
