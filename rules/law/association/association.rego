# METADATA
# title: Owners' association or covenant has not been asked
# description: |
#   Associations, landlords and covenants can limit heights, colours, shields and where a
#   light may show, and can have what was built without them taken out. The caution goes
#   when the plan says that they agreed or need not be asked.
# custom:
#   id: law.association
#   severity: caution
#   basis: practice
#   source: covenants
#   confidence: practice
#   needs: []
#   limits: []
#   hint: Submit the plan, and write the answer under permissions (association)
#   footer: true
#   since: 0.1.0
package rules.law.association

import data.lib

hits contains lib.hit("permissions", ["association"], {"message": caution.text, "source": caution.source}) if {
	some caution in input.cautions
	caution.rule == "law.association"
	not settled
}

settled if input.permissions.association_state in {"granted", "not-needed"}
