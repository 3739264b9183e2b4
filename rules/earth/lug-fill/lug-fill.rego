# METADATA
# title: More conductors than the terminal or connector takes
# description: |
#   A lug that holds more wires than it is made for holds none of them well: strands
#   are cut off or left out, the joint heats, and the last wire slips out. Installers
#   join such leads to one thick tail inside the cabinet. At a hub, several
#   connectors can share the work.
# custom:
#   id: earth.lug-fill
#   severity: defect
#   basis: listing
#   source: the most conductors that the maker states
#   confidence: confirmed
#   needs: []
#   limits: []
#   hint: Join fewer cables at {element}, use a connector that takes them, or bring them together on one thicker tail
#   since: 0.1.0
package rules.earth["lug-fill"]

import data.lib

hits contains lib.hit(joint.id, ["connector"], {
	"case": "joint",
	"severity": severity(joint.id),
	"value": joint.conductors,
	"limit": joint.most_conductors,
	"unit": "1",
	"message": sprintf("%d conductors of each pole meet at %s, and connector %s takes %d: what is forced in works loose and heats", [
		joint.conductors, joint.id, joint.connector, joint.most_conductors,
	]),
}) if {
	some joint in input.joints
	joint.conductors > joint.most_conductors
}

hits contains lib.hit(common.transformer, [], {
	"case": sprintf("common %d", [common.number]),
	"value": common.conductors,
	"limit": common.most_conductors,
	"unit": "1",
	"message": sprintf("%d cables land on common %d of %s, and the terminal takes %d: what is forced in works loose and heats", [
		common.conductors, common.number, common.transformer, common.most_conductors,
	]),
}) if {
	some common in input.commons
	common.conductors > common.most_conductors
}

severity(id) := "advice" if {
	lib.nodes_by_id[id].kind == "hub"
} else := "defect"
