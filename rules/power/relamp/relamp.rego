# METADATA
# title: Larger lamps would overload the transformer
# description: |
#   Sooner or later somebody puts the largest lamp that fits into each fixture: twenty
#   watts become fifty, and a transformer that was well within its rating trips every
#   evening. Room for it, or a label that says which lamp to use, prevents it.
# custom:
#   id: power.relamp
#   severity: advice
#   basis: practice
#   source: common practice, no source
#   confidence: practice
#   needs: []
#   limits: []
#   hint: Fit a larger transformer for {element}, or label the fixtures with the lamp to use
#   since: 0.1.0
package rules.power.relamp

import data.lib

hits contains lib.hit(unit.id, ["type"], {
	"value": unit.largest_lamp_va,
	"limit": unit.rating_va,
	"unit": "VA",
	"message": sprintf("with the largest lamp in every fixture transformer %s would carry %s; it is rated %s (cable losses not counted)", [
		unit.id, lib.quantity_apart(unit.largest_lamp_va, unit.rating_va, "VA"),
		lib.quantity_apart(unit.rating_va, unit.largest_lamp_va, "VA"),
	]),
}) if {
	some unit in input.transformers
	unit.largest_lamp_va > unit.rating_va + lib.tolerances.VA
	unit.load_va <= unit.rating_va + lib.tolerances.VA
}
