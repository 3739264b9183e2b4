# METADATA
# title: Readings point to something other than a joint
# description: |
#   A dead lamp, a lamp of another wattage, a run on the wrong tap, a cable that was
#   swapped, a leak: each bends the readings in its own way. The best single
#   explanation is named. Where too many places explain the readings, the one
#   reading that would tell most is named instead of a guess.
# custom:
#   id: asbuilt.likely-cause
#   severity: defect
#   basis: practice
#   source: common practice, no source
#   confidence: practice
#   needs: []
#   limits: []
#   hint: Look there first, before anyone digs
#   since: 0.1.0
package rules.asbuilt["likely-cause"]

import data.lib

# One cause leads, and it is no joint.
hits contains lib.hit(suspect.id, [], {
	"case": suspect.set,
	"message": sprintf("the readings of %s are best explained so: %s", [suspect.set, suspect.words]),
}) if {
	some suspect in input.suspects
	suspect.latest
	suspect.rank == 1
	not suspect.kind in {"joint", "lamp-joint"}
	some d in input.diagnoses
	d.set == suspect.set
	d.transformer == suspect.transformer
	d.outcome == "suspect"
}

# Something is wrong, and the readings do not say where.
hits contains lib.hit(d.set, [], {
	"case": d.transformer,
	"severity": "advice",
	"message": sprintf("the readings of %s at %s are off, and %s%s", [d.set, d.transformer, why[d.outcome], next(d)]),
	"hint": "Take more readings before anyone digs",
}) if {
	some d in input.diagnoses
	d.latest
	d.outcome in {"underdetermined", "unexplained"}
}

why := {
	"underdetermined": "too many places would explain them to name one",
	"unexplained": "no single cause explains them",
}

next(d) := sprintf("; read %s at %s next", [d.next_quantity, d.next_at]) if {
	d.next_at
} else := ""
