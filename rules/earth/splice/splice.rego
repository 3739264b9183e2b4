# METADATA
# title: Joint is not fit for the ground, or out of reach
# description: |
#   Joints are the first thing to fail. Water creeps into one that is not made for
#   burial, corrodes the copper and wicks along the strands, sometimes for yards.
#   The code asks for connectors that are listed for direct burial. A joint under
#   paving, a drive, a deck or a house cannot be reached when it does fail.
# custom:
#   id: earth.splice
#   severity: defect
#   basis: code
#   source: NFPA 70 (2020), 110.14(B) and 300.5(E)
#   confidence: confirmed
#   needs:
#     - each: joints
#       where: {buried: ["true"]}
#       has: [listing]
#   limits: [earth.splice_listing_required]
#   hint: Use a connector that is listed for direct burial, or lift the joint into a box above the ground
#   since: 0.1.0
package rules.earth.splice

import data.lib

# Not listed for the ground: once for each type of connector.
hits contains lib.hit(connector, ["listing"], {
	"case": "not listed",
	"limit_name": "earth.splice_listing_required",
	"message": sprintf("connector %s is used in the ground at %s and is not listed for direct burial: water creeps in and the joint corrodes", [
		connector, lib.few(ids),
	]),
}) if {
	lib.limit_flag("earth.splice_listing_required")
	some connector, ids in unlisted
}

unlisted[joint.connector] contains joint.id if {
	some joint in input.joints
	joint.buried
	listing := joint.listing
	not "direct-burial" in listing
}

unlisted[joint.connector] contains joint.id if {
	some joint in input.joints
	joint.kind == "tape"
	joint.buried
}

# Listed, and known to be a poor joint all the same.
hits contains lib.hit(connector, ["kind"], {
	"case": "piercing",
	"severity": "advice",
	"basis": "practice",
	"source": "common practice, no source",
	"hint": "Use a gel-filled or heat-shrunk connector in the ground in place of {element}",
	"message": sprintf("connector %s, in the ground at %s, pierces the jacket: the contact is small, and the holes stay and let water in", [connector, lib.few(ids)]),
}) if {
	some connector, ids in piercing
}

piercing[joint.connector] contains joint.id if {
	some joint in input.joints
	joint.kind == "piercing"
	joint.buried
	"direct-burial" in joint.listing
}

# Out of reach.
hits contains lib.hit(joint.id, ["at"], {
	"case": "out of reach",
	"severity": "advice",
	"basis": "practice",
	"source": "common practice, no source",
	"hint": "Move {element} to where it can be reached, or say that it is accessible",
	"message": sprintf("joint %s lies under %s: when it fails, as joints do, that has to be broken up", [joint.id, lib.listed(joint.under)]),
}) if {
	some joint in input.joints
	joint.under[0]
	not joint.accessible
}

hits contains lib.hit(joint.id, ["accessible"], {
	"case": "out of reach",
	"severity": "advice",
	"basis": "practice",
	"source": "common practice, no source",
	"hint": "Move {element} to where it can be reached",
	"message": sprintf("joint %s cannot be reached again without breaking something up, and joints are the first thing to fail", [joint.id]),
}) if {
	some joint in input.joints
	joint.accessible == false
	count(joint.under) == 0
}
