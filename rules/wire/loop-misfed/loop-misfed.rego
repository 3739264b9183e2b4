# METADATA
# title: Network is connected where it must not be
# description: |
#   Two taps, two commons or two transformers that are joined through the cables drive a current
#   round a loop that no lamp needs, and a transformer that is unplugged shows mains on its plug.
#   Two conductors tied together are a short. Lamps that no run reaches stay dark.
# custom:
#   id: wire.loop-misfed
#   severity: danger
#   basis: listing
#   source: instructions of power units; Kirchhoff's laws
#   confidence: single
#   needs: []
#   limits: []
#   hint: Land both ends of a loop on the same tap, common and conductor, and keep runs apart
#   since: 0.1.0
package rules.wire["loop-misfed"]

import data.lib

hits contains lib.hit(misfeed.id, [], {"case": misfeed.kind, "message": message(misfeed)}) if {
	some misfeed in input.misfeeds
	misfeed.kind != "island"
}

message(misfeed) := sprintf("leg %s joins two taps (%s): %s drive a current round that loop, and only the cable limits it", [
	misfeed.id, joined(misfeed), lib.volts(misfeed.volts),
]) if {
	misfeed.kind == "joined-taps"
} else := sprintf("leg %s joins two commons (%s): each device then feeds through the other, and neither protects the cable", [misfeed.id, joined(misfeed)]) if {
	misfeed.kind == "joined-commons"
} else := sprintf("leg %s joins two transformers (%s): when one is unplugged the other puts mains on its plug", [misfeed.id, joined(misfeed)]) if {
	misfeed.kind == "joined-sources"
} else := sprintf("leg %s comes back with its conductors exchanged (%s): a dead short", [misfeed.id, joined(misfeed)]) if {
	misfeed.kind == "swapped"
} else := sprintf("leg %s begins and ends at one place: its conductors meet themselves", [misfeed.id]) if {
	misfeed.kind == "on-itself"
} else := sprintf("leg %s closes a loop where none may be (%s)", [misfeed.id, joined(misfeed)])

joined(misfeed) := sprintf("run %s", [misfeed.runs[0]]) if {
	count(misfeed.runs) == 1
} else := sprintf("runs %s", [lib.listed(misfeed.runs)])

# Cable that no transformer feeds.
hits contains lib.hit(misfeed.id, [], {
	"case": "island",
	"severity": "defect",
	"message": sprintf("no transformer feeds %s: what hangs there stays dark", [some_of(misfeed.members)]),
	"hint": "Connect {element} to a run",
}) if {
	some misfeed in input.misfeeds
	misfeed.kind == "island"
}

# A lamp that no cable reaches, in a plan that has cables.
hits contains lib.hit(fixture.id, [], {
	"case": "no cable",
	"severity": "defect",
	"message": sprintf("no cable leads to fixture %s: it stays dark", [fixture.id]),
	"hint": "Add a leg to {element}",
}) if {
	count(input.runs) > 0
	some fixture in input.fixtures
	fixture.wired == false
}

# some_of names the first of a list and counts the rest.
some_of(ids) := lib.listed(ids) if {
	count(ids) <= 4
} else := sprintf("%s and %d more", [concat(", ", array.slice(ids, 0, 3)), count(ids) - 3])
