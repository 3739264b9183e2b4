# METADATA
# title: Mains work is for a licensed person
# description: |
#   Receptacles, branch circuits and transformers that are wired in carry mains
#   voltage. Who may work on them is a matter of licensing law, and in places the
#   low-voltage side is licensed as well. The caution goes when the plan says that
#   a licensed person does the mains work.
# custom:
#   id: law.licensed-supply
#   severity: caution
#   basis: code
#   source: licensing law
#   confidence: practice
#   needs: []
#   limits: []
#   hint: Give the mains work to a licensed person, and say so under supply (installed_by)
#   footer: true
#   since: 0.1.0
package rules.law["licensed-supply"]

import data.lib

hits contains lib.hit("supply", ["installed_by"], {"message": caution.text, "source": caution.source}) if {
	some caution in input.cautions
	caution.rule == "law.licensed-supply"
	not licensed
}

licensed if input.supply.installed_by == "licensed"
