# METADATA
# title: Trench meets a buried service
# description: |
#   A spade or a trencher in a gas or mains line kills; in a water or telecom line
#   it floods and costs. Lines that have not been marked on site may lie a yard
#   from where a plan shows them. Within two feet of a marked line people dig by
#   hand. Private lines, such as irrigation and shed power, are marked by nobody.
# custom:
#   id: earth.crossing-service
#   severity: danger
#   basis: code
#   source: law on digging near buried lines
#   confidence: practice
#   needs:
#     - each: services
#       where: {met: ["true"]}
#       has: [located]
#     - each: crossings
#       where: {kind: [service], in_ground: ["true"]}
#       has: [separation_m]
#   limits: [earth.service_separation_m]
#   hint: Have {case} located and marked before anyone digs for {element}, then dig by hand there or route it elsewhere
#   since: 0.1.0
package rules.earth["crossing-service"]

import data.lib

# Across a line of which nobody knows where it lies.
hits contains lib.hit(crossing.id, ["route"], {
	"case": crossing.what,
	"message": sprintf("leg %s crosses %s, %s along it, and that has not been located: a spade there can %s", [
		crossing.id, line(crossing), lib.length(crossing.station_m), harm(crossing.service_kind),
	]),
}) if {
	some crossing in input.crossings
	crossing.kind == "service"
	crossing.in_ground
	crossing.crosses
	crossing.located == false
}

# Near such a line.
hits contains lib.hit(crossing.id, ["route"], object.union(lib.against(crossing.separation_m, "earth.service_separation_m"), {
	"case": crossing.what,
	"severity": "advice",
	"message": sprintf("leg %s comes within %s of %s, which has not been located: it may lie in the trench, and a spade there can %s", [
		crossing.id, lib.length(crossing.separation_m), line(crossing), harm(crossing.service_kind),
	]),
})) if {
	some crossing in near
	crossing.located == false
}

# Along a marked line of a utility. Mains have a rule of their own.
hits contains lib.hit(crossing.id, ["route"], object.union(lib.against(crossing.separation_m, "earth.service_separation_m"), {
	"case": crossing.what,
	"severity": "advice",
	"hint": "Keep {element} {limit} away from {case}, or dig by hand along it",
	"message": sprintf("leg %s runs %s beside %s, %s away: within %s of a mark people dig by hand, not with a machine", [
		crossing.id, lib.length(crossing.length_m), line(crossing),
		lib.length_apart(crossing.separation_m, zone), lib.length_apart(zone, crossing.separation_m),
	]),
})) if {
	some crossing in near
	crossing.located
	crossing.service_kind in {"gas", "telecom", "water"}
	crossing.length_m > 0
	zone := lib.limit("earth.service_separation_m")
}

near contains crossing if {
	some crossing in input.crossings
	crossing.kind == "service"
	crossing.in_ground
	crossing.crosses == false
	crossing.separation_m < lib.least("earth.service_separation_m")
}

line(crossing) := crossing.what if {
	crossing.what == crossing.service_kind
} else := sprintf("%s (%s)", [crossing.what, words[crossing.service_kind]])

words := {
	"drain": "a drain",
	"gas": "gas",
	"irrigation": "irrigation",
	"mains": "mains power",
	"other": "a buried line",
	"septic": "a septic line",
	"telecom": "telecom",
	"water": "water",
}

harm(kind) := "kill" if {
	kind in {"gas", "mains"}
} else := "break it"
