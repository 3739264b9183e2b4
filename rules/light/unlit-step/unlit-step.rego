# METADATA
# title: Step is not lit
# description: |
#   People fall on steps they cannot see, most of all on the first and the last
#   one, where the ground changes level without notice. Each tread is judged at
#   the centre of its walking strip, in every scene in which people walk. Only
#   direct light is counted. While a site is measured and no light is drawn yet, it
#   is advice.
# custom:
#   id: light.unlit-step
#   severity: danger
#   basis: practice
#   source: common practice, no source; local and public-egress profiles bring levels of a code
#   confidence: practice
#   needs:
#     - each: treads
#       where: {landing: ["false"], not_meant_lit: ["false"]}
#       has: [lux_centre]
#   limits:
#     - light.near_limit
#     - light.step_code_lx
#     - light.step_dark_lx
#     - light.step_low_lx
#     - light.step_public_lx
#   hint: Add or move a light so that {element} gets at least {limit}
#   since: 0.1.0
package rules.light["unlit-step"]

import data.lib

hits contains lib.hit(tread.id, [], object.union(
	{"case": tread.scene, "severity": severity(found), "message": message(tread, found)},
	lib.against(tread.lux_centre, found.limit),
)) if {
	some tread in input.treads
	tread.lux_centre < enough
	tread.landing == false
	tread.not_meant_lit == false
	found := breach(tread)
}

# enough is light from which no tread draws a word.
enough := max([lib.limit(name) | some name in levels]) * (1 + near)

levels := ["light.step_dark_lx", "light.step_low_lx", "light.step_code_lx", "light.step_public_lx"]

default near := 0

near := lib.limit("light.near_limit")

# severity is that of what was found, except while the site is still being measured.
severity(found) := "advice" if {
	lib.surveying
} else := found.severity

# breach finds the gravest thing that is wrong with a tread.
breach(tread) := {"limit": "light.step_dark_lx", "severity": "danger", "kind": "end"} if {
	tread.lux_centre < lib.least("light.step_dark_lx")
	at_end(tread)
} else := {"limit": "light.step_dark_lx", "severity": "defect", "kind": "dark"} if {
	tread.lux_centre < lib.least("light.step_dark_lx")
} else := {"limit": name, "severity": "defect", "kind": "code"} if {
	name := strictest(tread)
	tread.lux_centre < lib.least(name)
} else := {"limit": "light.step_low_lx", "severity": "advice", "kind": "low"} if {
	tread.lux_centre < lib.least("light.step_low_lx")
} else := {"limit": name, "severity": "advice", "kind": "near"} if {
	name := strictest(tread)
	tread.lux_centre < lib.limit(name) * (1 + near)
} else := {"limit": "light.step_dark_lx", "severity": "advice", "kind": "near"} if {
	tread.lux_centre < lib.limit("light.step_dark_lx") * (1 + near)
}

at_end(tread) if tread.first

at_end(tread) if tread.last

# strictest names the higher of the levels of a code that hold for a tread.
strictest(tread) := "light.step_public_lx" if {
	tread.public
	lib.limit("light.step_public_lx") >= code_level
} else := "light.step_code_lx" if {
	lib.has_limit("light.step_code_lx")
}

default code_level := 0

code_level := lib.limit("light.step_code_lx")

message(tread, found) := sprintf("tread %s gets %s %s%s", [tread.id, lux, scene_words(tread.scene), so]) if {
	limit := lib.limit(found.limit)
	lux := lib.quantity_apart(tread.lux_centre, limit, "lx")
	so := sprintf(endings[found.kind], [lib.quantity_apart(limit, tread.lux_centre, "lx")])
}

endings := {
	"end": "; below %s the first and the last step of a flight cannot be seen, and people fall there",
	"dark": "; below %s its edge cannot be seen, and people fall",
	"code": "; the profile asks for %s on every tread",
	"low": "; below %s a step is hard to see for older eyes",
	"near": "; that is hardly above the limit of %s, and a leaf or some dirt before the lamp takes it away",
}

scene_words(scene) := "with everything on" if {
	scene == "all"
} else := sprintf("in scene %s", [scene])
