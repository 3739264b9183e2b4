# METADATA
# title: Dimmer does not suit what it dims
# description: |
#   Dimmer, transformer and lamp must be made for each other. A dimmer before a
#   transformer that does not allow it overheats its winding; LED drivers that are not made
#   for it flicker, buzz and fail early.
# custom:
#   id: power.dimmer
#   severity: advice
#   basis: listing
#   source: instructions of dimmer, transformer and lamp
#   confidence: single
#   needs:
#     - each: controls
#       where: {dim_method: [leading-edge, trailing-edge, pwm, digital]}
#       has: [dim_matched]
#   limits: []
#   hint: Use a dimmer, transformer and lamps whose makers state that they work together
#   since: 0.1.0
package rules.power.dimmer

import data.lib

# The plan says that nobody vouches for the set.
hits contains lib.hit(control.id, ["dimmer", "matched"], {
	"case": "matched",
	"message": sprintf("no maker states that dimmer %s works with the transformers and lamps behind it: they may flicker, buzz or fail early", [control.id]),
}) if {
	some control in input.controls
	control.dim_matched == false
}

# A lamp type whose maker does not allow it, once for each control and type.
hits contains lib.hit(control, ["dimmer"], {
	"case": sprintf("type %s", [type]),
	"message": sprintf("dimmer %s acts on lamps of type %s (%s), whose maker does not allow dimming", [control, type, lib.listed(sort(ids))]),
}) if {
	some [control, type], ids in refused
}

refused[[control.id, fixture.type]] contains fixture.id if {
	some control in input.controls
	dims(control)
	some id in control.switches
	fixture := lib.fixtures_by_id[id]
	fixture.dimmable == false
}

# A transformer whose maker does not allow a dimmer before it.
hits contains lib.hit(control.id, ["dimmer"], {
	"case": sprintf("transformer %s", [unit.id]),
	"message": sprintf("dimmer %s cuts the mains of transformer %s, whose maker does not allow it: its winding overheats", [control.id, unit.id]),
}) if {
	some control in input.controls
	control.dim_method in {"leading-edge", "trailing-edge"}
	some unit in input.transformers
	unit.dimmable == false
	feeds(unit, control)
}

dims(control) if control.dim_method

dims(control) if control.kind == "dimmer"

feeds(unit, control) if {
	some id in control.switches
	lib.fixtures_by_id[id].transformer == unit.id
}
