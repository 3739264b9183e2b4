# METADATA
# title: Landing or head of a stair is not lit
# description: |
#   Going down begins on the landing, with a step into what cannot be seen. Each landing
#   is judged in its middle, in every scene in which people walk, and the head of each
#   flight for a light that stands near it. Residential codes that are adopted ask for
#   such a light and give no level. Only direct light is counted. While a site is
#   measured and no light is drawn yet, it is advice.
# custom:
#   id: light.unlit-landing
#   severity: danger
#   basis: practice
#   source: common practice, no source; the residential code and local and public-egress profiles bring their own
#   confidence: practice
#   needs:
#     - each: treads
#       where: {landing: ["true"], not_meant_lit: ["false"]}
#       has: [lux_centre]
#   limits:
#     - light.landing_code_lx
#     - light.landing_dark_lx
#     - light.landing_low_lx
#     - light.landing_public_lx
#     - light.near_limit
#     - light.step_dark_lx
#     - light.top_source_m
#     - light.top_source_required
#   hint: Add or move a light so that {element} gets at least {limit}
#   since: 0.1.0
package rules.light["unlit-landing"]

import data.lib

hits contains lib.hit(landing.id, [], object.union(
	{"case": landing.scene, "severity": severity(found), "message": message(landing, found)},
	lib.against(measure(landing, found), found.limit),
)) if {
	some landing in input.treads
	landing.landing
	landing.not_meant_lit == false
	landing.lux_centre < enough
	found := breach(landing)
}

# enough is the light from which no landing draws a word.
enough := max({level |
	some name, factor in factors
	level := lib.limit(name) * factor
})

# factors say how far above each limit advice is given.
factors := {
	"light.landing_dark_lx": 1 + near,
	"light.landing_low_lx": 1,
	"light.landing_code_lx": 1 + near,
	"light.landing_public_lx": 1 + near,
}

default near := 0

near := lib.limit("light.near_limit")

# no_light is less than a lamp is named for: nothing lights the place.
no_light := 0.05

# severity is that of what was found, except while the site is still being measured.
severity(found) := "advice" if {
	lib.surveying
} else := found.severity

# breach finds the gravest thing that is wrong with a landing.
breach(landing) := {"limit": "light.landing_dark_lx", "severity": "danger", "kind": "brink"} if {
	lib.has_limit("light.landing_dark_lx")
	landing.lux_centre < no_light
	landing.end == "top"
} else := {"limit": "light.landing_dark_lx", "severity": "defect", "kind": "dark"} if {
	landing.lux_centre < lib.least("light.landing_dark_lx")
} else := {"limit": name, "severity": "defect", "kind": "code"} if {
	name := strictest(landing)
	landing.lux_centre < lib.least(name)
} else := {"limit": "light.landing_dark_lx", "severity": "advice", "kind": "supply"} if {
	landing.lux_low < lib.least("light.landing_dark_lx")
} else := {"limit": "light.landing_low_lx", "severity": "advice", "kind": "low"} if {
	landing.lux_centre < lib.least("light.landing_low_lx")
} else := {"limit": name, "severity": "advice", "kind": "near"} if {
	name := strictest(landing)
	landing.lux_centre < lib.limit(name) * (1 + near)
} else := {"limit": "light.landing_dark_lx", "severity": "advice", "kind": "near"} if {
	landing.lux_centre < lib.limit("light.landing_dark_lx") * (1 + near)
}

# measure is the light that the finding is about.
measure(landing, found) := landing.lux_low if {
	found.kind == "supply"
} else := landing.lux_centre

# strictest names the higher of the levels of a code that hold for a landing.
strictest(landing) := "light.landing_public_lx" if {
	landing.public
	lib.limit("light.landing_public_lx") >= code_level
} else := "light.landing_code_lx" if {
	lib.has_limit("light.landing_code_lx")
}

default code_level := 0

code_level := lib.limit("light.landing_code_lx")

message(landing, found) := sprintf("landing %s gets %s %s%s", [landing.id, lux, scene_words(landing.scene), so]) if {
	limit := lib.limit(found.limit)
	lux := lib.quantity_apart(landing.lux_centre, limit, "lx")
	so := sprintf(endings[found.kind], [lib.quantity_apart(limit, landing.lux_centre, "lx")])
}

endings := {
	"brink": ", no light at all; below %s nobody sees where the first step down is",
	"dark": "; below %s its edges cannot be seen, and people fall",
	"code": "; the profile asks for %s on every landing",
	"supply": ", but at low supply its lamps dim to less than the limit of %s",
	"low": "; below %s an edge is hard to see for older eyes",
	"near": "; that is hardly above the limit of %s, and a leaf or some dirt before the lamp takes it away",
}

# The head of a flight, where a light has to stand near it when a code asks for it.
# Else it is advice, and none where the level there is lit well, or where the last
# step is dark, which light.unlit-step says.
hits contains lib.hit(stair.id, ["head"], object.union(
	{
		"case": sprintf("head, %s", [top.scene]),
		"severity": severity({"severity": grade}),
		"limit_name": "light.top_source_required",
		"message": sprintf("%s %s: who comes down steps into the dark", [nothing_near(stair, top), scene_words(top.scene)]),
		"hint": "Put a light near the head of {element}",
	},
	distance(top),
)) if {
	lib.limit_flag("light.top_source_required")
	some stair in input.stairs
	stair.not_meant_lit == false
	some top in stair.tops
	top.unknown == false
	not [stair.id, top.scene] in near_heads
	grade := head_severity(stair, top)
}

# near_heads holds the scenes in which a light stands near enough to a head.
near_heads := {[stair.id, top.scene] |
	reach := lib.most("light.top_source_m")
	some stair in input.stairs
	some top in stair.tops
	top.source_m <= reach
}

head_severity(_, _) := "defect" if {
	lib.limits_by_name["light.top_source_required"].basis == "code"
}

head_severity(stair, top) := "advice" if {
	lib.limits_by_name["light.top_source_required"].basis != "code"
	not well_lit(top)
	not dark_ends[stair.id][top.scene]
}

# dark_ends holds the scenes in which the last step of a flight is dark.
dark_ends[tread.stair] contains tread.scene if {
	some tread in input.treads
	tread.last
	tread.lux_centre < lib.least("light.step_dark_lx")
}

well_lit(top) if top.lux >= lib.limit("light.landing_low_lx")

nothing_near(stair, top) := sprintf("the nearest light at the head of stair %s, %s, stands %s away (%s counts as near)", [
	stair.id, top.source, lib.length(top.source_m), lib.length(lib.limit("light.top_source_m")),
]) if {
	top.source_m
} else := sprintf("no light stands near the head of stair %s", [stair.id])

distance(top) := {"value": top.source_m, "limit": lib.limit("light.top_source_m"), "unit": "m"} if {
	top.source_m
} else := {}

scene_words(scene) := "with everything on" if {
	scene == "all"
} else := sprintf("in scene %s", [scene])
