# METADATA
# title: Local code and the authority come first
# description: |
#   Codes are adopted town by town, with editions and amendments of their own.
#   No program knows them all, and the person who inspects the work decides what
#   they mean. This check approves nothing.
# custom:
#   id: law.local-code
#   severity: caution
#   basis: code
#   source: the code that the local authority adopted
#   confidence: practice
#   needs: []
#   limits: []
#   hint: Ask the local authority which edition and amendments hold
#   footer: true
#   since: 0.1.0
package rules.law["local-code"]

import data.lib

hits contains lib.hit("plan", [], {"message": caution.text, "source": caution.source}) if {
	some caution in input.cautions
	caution.rule == "law.local-code"
}
