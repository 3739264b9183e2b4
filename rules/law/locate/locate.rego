# METADATA
# title: Buried lines have not been located
# description: |
#   A spade, a trencher or a stake through a gas or mains line hurts people, at
#   any depth. Public lines are marked on request, for some weeks. Private lines
#   are marked by nobody. The caution goes when the plan gives the ticket, its
#   last valid day, and says that private lines are mapped.
# custom:
#   id: law.locate
#   severity: caution
#   basis: code
#   source: law on digging near buried lines
#   confidence: practice
#   needs: []
#   limits: []
#   hint: Have the lines marked, map the private ones, and write ticket and last valid day under permissions
#   footer: true
#   since: 0.1.0
package rules.law.locate

import data.lib

hits contains lib.hit("permissions", ["locate"], {
	"message": sprintf("%s %s", [caution.text, concat(" ", lacks)]),
	"source": caution.source,
}) if {
	some caution in input.cautions
	caution.rule == "law.locate"
	count(lacks) > 0
}

# lacks says what keeps the caution standing.
lacks := array.concat(ticket, private_lines)

ticket := ["The plan gives no locate ticket."] if {
	not input.permissions.locate_ticket
} else := [sprintf("The plan does not say how long ticket %s holds.", [input.permissions.locate_ticket])] if {
	not input.permissions.locate_expires
} else := [sprintf("Ticket %s held until %s.", [input.permissions.locate_ticket, input.permissions.locate_expires])] if {
	lib.expired(input.permissions.locate_expires)
} else := []

private_lines := [] if {
	input.permissions.private_lines_mapped
} else := ["The plan does not say that private lines are mapped."]
