# METADATA
# title: Private lines have not been mapped
# description: |
#   Those who mark public lines stop at the meter, so a locate ticket says nothing of what
#   lies beyond it. Irrigation, shed power, grill gas, drains and old lighting cable belong to
#   the owner, and nobody marks them. The caution goes when the plan says that private lines
#   are mapped, whatever becomes of the ticket, which is law.locate.
# custom:
#   id: law.private-lines
#   severity: caution
#   basis: code
#   source: law on digging near buried lines, which does not cover private ones
#   confidence: practice
#   needs: []
#   limits: []
#   hint: Find the private lines, draw them under site (services), and say so under permissions (locate)
#   footer: true
#   since: 0.1.0
package rules.law["private-lines"]

import data.lib

hits contains lib.hit("permissions", ["locate", "private_lines_mapped"], {"message": caution.text, "source": caution.source}) if {
	some caution in input.cautions
	caution.rule == "law.private-lines"
	not mapped
}

mapped if input.permissions.private_lines_mapped
