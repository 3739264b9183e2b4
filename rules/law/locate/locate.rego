# METADATA
# title: Public lines have not been marked
# description: |
#   A spade, a trencher or a stake through a gas or mains line hurts people, at
#   any depth. Public lines, up to the meter, are marked by their owners on
#   request, and the marks hold for some weeks. The caution goes when the plan
#   gives the ticket and its last valid day. What lies beyond the meter is
#   law.private-lines.
# custom:
#   id: law.locate
#   severity: caution
#   basis: code
#   source: law on digging near buried lines
#   confidence: practice
#   needs: []
#   limits: []
#   hint: Have the public lines marked, and write ticket and last valid day under permissions (locate)
#   footer: true
#   since: 0.1.0
package rules.law.locate

import data.lib

hits contains lib.hit("permissions", ["locate"], {
	"message": sprintf("%s %s", [caution.text, lack]),
	"source": caution.source,
}) if {
	some caution in input.cautions
	caution.rule == "law.locate"
}

# lack says what keeps the caution standing; it is undefined when nothing does.
lack := "The plan gives no locate ticket." if {
	not input.permissions.locate_ticket
} else := sprintf("The plan does not say how long ticket %s holds.", [input.permissions.locate_ticket]) if {
	not input.permissions.locate_expires
} else := sprintf("Ticket %s held until %s.", [input.permissions.locate_ticket, input.permissions.locate_expires]) if {
	lib.expired(input.permissions.locate_expires)
}
