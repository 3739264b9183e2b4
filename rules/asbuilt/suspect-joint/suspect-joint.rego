# METADATA
# title: Readings point to a bad joint
# description: |
#   Joints fail before anything else: water creeps in, copper corrodes, resistance
#   rises and heat follows. All readings of a visit are compared with the model at
#   once; where one joint with too much resistance explains them best, it is named
#   with its size and the power it burns. Enough power in a small wet space chars.
#   An excess so small that a fresh joint may have it is advice.
# custom:
#   id: asbuilt.suspect-joint
#   severity: danger
#   basis: practice
#   source: common practice, no source
#   confidence: practice
#   needs: []
#   limits: [asbuilt.joint_hot_w, asbuilt.suspect_ohm_min]
#   hint: Switch off, open the joint, cut back to bright copper and make it again; then read once more
#   since: 0.1.0
package rules.asbuilt["suspect-joint"]

import data.lib

hits contains lib.hit(suspect.id, [], {
	"case": suspect.set,
	"severity": severity(suspect),
	"value": suspect.watts,
	"limit": lib.limit("asbuilt.joint_hot_w"),
	"unit": "W",
	"message": sprintf("the readings of %s are best explained so: %s%s%s", [suspect.set, suspect.words, rivals(suspect), next(suspect)]),
}) if {
	some suspect in input.suspects
	suspect.latest
	suspect.rank == 1
	suspect.kind in {"joint", "lamp-joint"}
	outcome(suspect) == "suspect"
}

severity(suspect) := "danger" if {
	suspect.watts >= lib.limit("asbuilt.joint_hot_w")
} else := "advice" if {
	suspect.extra_ohm < lib.limit("asbuilt.suspect_ohm_min")
} else := "defect"

outcome(suspect) := d.outcome if {
	some d in input.diagnoses
	same_visit(d, suspect)
}

same_visit(a, b) if {
	a.set == b.set
	a.transformer == b.transformer
}

# rivals names the other places that explain the readings just as well.
rivals(suspect) := sprintf("; %s would show the same readings", [lib.listed(others)]) if {
	others := sort({other.id |
		some other in input.suspects
		same_visit(other, suspect)
		other.group == 1
		other.id != suspect.id
	})
	count(others) > 0
} else := ""

# next names the reading that tells them apart.
next(suspect) := sprintf("; read %s at %s to tell them apart", [d.next_quantity, d.next_at]) if {
	some d in input.diagnoses
	same_visit(d, suspect)
	d.next_at
} else := ""
