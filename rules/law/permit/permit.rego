# METADATA
# title: Permit has not been settled
# description: |
#   Some towns ask for a permit for low-voltage lighting, even when it only plugs in; work
#   without one has to be uncovered for the inspector. The caution goes when the plan says
#   that the permit is granted or not needed.
# custom:
#   id: law.permit
#   severity: caution
#   basis: code
#   source: local building law
#   confidence: practice
#   needs: []
#   limits: []
#   hint: Ask the building office, and write the answer under permissions (permit)
#   footer: true
#   since: 0.1.0
package rules.law.permit

import data.lib

hits contains lib.hit("permissions", ["permit"], {"message": caution.text, "source": caution.source}) if {
	some caution in input.cautions
	caution.rule == "law.permit"
	not settled
}

settled if input.permissions.permit_state in {"granted", "not-needed"}
