# METADATA
# title: Nesting season and shore ordinance come first
# description: |
#   Light draws hatchlings away from the sea and keeps females from nesting. Towns and
#   counties on such shores forbid or limit light in the season, with dates and rules of
#   their own, and no plan can settle that by itself.
# custom:
#   id: law.shore-season
#   severity: caution
#   basis: code
#   source: local shore ordinances
#   confidence: practice
#   needs: []
#   limits: []
#   hint: Ask the town, the county and the wildlife agency for the season and its rules
#   footer: true
#   since: 0.1.0
package rules.law["shore-season"]

import data.lib

hits contains lib.hit("plan", [], {"message": caution.text, "source": caution.source}) if {
	some caution in input.cautions
	caution.rule == "law.shore-season"
}
