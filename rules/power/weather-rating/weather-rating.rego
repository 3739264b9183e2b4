# METADATA
# title: Receptacle is not made for the weather
# description: |
#   Sun, frost and wet crack the face and corrode the contacts of a receptacle that is
#   made for indoors, and a hood that is not made for heavy duty breaks off and lets the
#   rain in.
# custom:
#   id: power.weather-rating
#   severity: advice
#   basis: code
#   source: NFPA 70 (2020), 406.9(A) and (B)(1)
#   confidence: confirmed
#   needs:
#     - each: receptacles
#       where: {location: [outdoor]}
#       has: [weather_resistant]
#   limits:
#     - power.extra_duty_required
#     - power.weather_resistant_required
#   hint: Have {element} changed for one that is made for the weather
#   since: 0.1.0
package rules.power["weather-rating"]

import data.lib

hits contains lib.hit(receptacle.id, ["weather_resistant"], {
	"case": "receptacle",
	"limit_name": "power.weather_resistant_required",
	"message": sprintf("outdoor receptacle %s is not of the weather-resistant type: its face cracks and its contacts corrode", [receptacle.id]),
}) if {
	lib.limit_flag("power.weather_resistant_required")
	some receptacle in input.receptacles
	receptacle.location == "outdoor"
	receptacle.weather_resistant == false
}

# Other enclosures than hoods need no such mark, so only a stated lack counts.
hits contains lib.hit(receptacle.id, ["extra_duty"], {
	"case": "hood",
	"limit_name": "power.extra_duty_required",
	"message": sprintf("the hood over outdoor receptacle %s is not marked extra duty: it breaks off, and rain gets in", [receptacle.id]),
	"hint": "Have a hood marked extra duty fitted over {element}",
}) if {
	lib.limit_flag("power.extra_duty_required")
	some receptacle in input.receptacles
	receptacle.location == "outdoor"
	receptacle.extra_duty == false
}
