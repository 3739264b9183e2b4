package rules.light.unlit_landing_test

import data.rules.light["unlit-landing"] as rule

common := [
	{"name": "light.near_limit", "value": 0.3, "unit": "1", "source": "house", "basis": "house"},
	{"name": "light.landing_dark_lx", "value": 1, "unit": "lx", "source": "practice", "basis": "practice"},
	{"name": "light.landing_low_lx", "value": 5, "unit": "lx", "source": "practice", "basis": "practice"},
	{"name": "light.step_dark_lx", "value": 1, "unit": "lx", "source": "practice", "basis": "practice"},
]

public := [{"name": "light.landing_public_lx", "value": 108, "unit": "lx", "source": "IBC 1008.2.1", "basis": "code"}]

code := [{"name": "light.landing_code_lx", "value": 11, "unit": "lx", "source": "town code", "basis": "code"}]

landing := {
	"id": "rest", "stair": "up", "number": 0, "landing": true, "first": false, "last": false,
	"public": false, "scene": "all", "not_meant_lit": false, "lamps": [],
}

plan(landing_in_force, limits) := {"units": "ft", "treads": [landing_in_force], "stairs": [], "limits": limits}

lit(lux) := object.union(landing, {"lux_centre": lux, "lux_low": lux})

test_levels[name] if {
	some name, case in {
		"none at the top": {"landing": object.union(lit(0), {"end": "top"}), "severity": "danger", "limit": "light.landing_dark_lx"},
		"none at the bottom": {"landing": object.union(lit(0), {"end": "bottom"}), "severity": "defect", "limit": "light.landing_dark_lx"},
		"little at the top": {"landing": object.union(lit(0.3), {"end": "top"}), "severity": "defect", "limit": "light.landing_dark_lx"},
		"dark": {"landing": lit(0.99), "severity": "defect", "limit": "light.landing_dark_lx"},
		"at the dark limit": {"landing": lit(1), "severity": "advice", "limit": "light.landing_low_lx"},
		"low": {"landing": lit(4.9), "severity": "advice", "limit": "light.landing_low_lx"},
	}
	some hit in rule.hits with input as plan(case.landing, common)
	hit.element == "rest"
	hit.case == "all"
	hit.severity == case.severity
	hit.limit_name == case.limit
	hit.value == case.landing.lux_centre
	hit.unit == "lx"
	contains(hit.message, "with everything on")
}

test_dark_at_low_supply if {
	some hit in rule.hits with input as plan(object.union(lit(1.4), {"lux_low": 0.9}), common)
	hit.severity == "advice"
	hit.value == 0.9
	contains(hit.message, "at low supply")
}

test_bright_enough if {
	count(rule.hits) == 0 with input as plan(lit(5), common)
	count(rule.hits) == 0 with input as plan(lit(60), common)
}

test_levels_of_a_code[name] if {
	some name, case in {
		"below": {"lux": 10.9, "limits": code, "public": false, "severity": "defect", "limit": "light.landing_code_lx"},
		"near": {"lux": 14.2, "limits": code, "public": false, "severity": "advice", "limit": "light.landing_code_lx"},
		"public": {"lux": 60, "limits": public, "public": true, "severity": "defect", "limit": "light.landing_public_lx"},
		"both, private": {"lux": 8, "limits": array.concat(public, code), "public": false, "severity": "defect", "limit": "light.landing_code_lx"},
		"dark goes before": {"lux": 0.2, "limits": code, "public": false, "severity": "defect", "limit": "light.landing_dark_lx"},
	}
	some hit in rule.hits with input as plan(object.union(lit(case.lux), {"public": case.public}), array.concat(common, case.limits))
	hit.severity == case.severity
	hit.limit_name == case.limit
}

test_clear_of_a_code if {
	count(rule.hits) == 0 with input as plan(lit(14.4), array.concat(common, code))
	count(rule.hits) == 0 with input as plan(lit(8), array.concat(common, public))
}

test_near_the_dark_limit_alone if {
	some hit in rule.hits with input as plan(lit(1.2), [common[0], common[1]])
	hit.severity == "advice"
	hit.limit_name == "light.landing_dark_lx"
	count(rule.hits) == 0 with input as plan(lit(1.4), [common[0], common[1]])
}

test_each_scene_by_itself if {
	evening := object.union(lit(30), {"scene": "evening"})
	late := object.union(lit(0.1), {"scene": "late"})
	found := rule.hits with input as {"treads": [evening, late], "stairs": [], "limits": common}
	[hit.case | some hit in found] == ["late"]
	some hit in found
	contains(hit.message, "in scene late")
}

test_not_judged[name] if {
	some name, place in {
		"a tread": object.union(lit(0), {"landing": false}),
		"not meant to be lit": object.union(lit(0), {"not_meant_lit": true}),
		"light not known": landing,
	}
	count(rule.hits) == 0 with input as plan(place, common)
}

test_silent_without_limits if {
	count(rule.hits) == 0 with input as plan(lit(0), [])
	count(rule.hits) == 0 with input as plan(object.union(lit(0), {"end": "top"}), [])
	count(rule.hits) == 0 with input as flight({"unknown": false, "lux": 0}, [])
}

# The head of a flight.

practice := array.concat(common, [
	{"name": "light.top_source_required", "flag": true, "unit": "1", "source": "practice", "basis": "practice"},
	{"name": "light.top_source_m", "value": 2, "unit": "m", "source": "house", "basis": "house"},
])

residential := array.concat(common, [
	{"name": "light.top_source_required", "flag": true, "unit": "1", "source": "IRC R303.6", "basis": "code"},
	{"name": "light.top_source_m", "value": 2, "unit": "m", "source": "house", "basis": "house"},
])

last := {
	"id": "up/3", "stair": "up", "number": 3, "landing": false, "first": false, "last": true,
	"public": false, "scene": "all", "not_meant_lit": false, "lux_centre": 3,
}

flight(top, limits) := {
	"units": "m",
	"treads": [last],
	"stairs": [{"id": "up", "not_meant_lit": false, "tops": [object.union({"scene": "all"}, top)]}],
	"limits": limits,
}

test_no_light_at_the_head if {
	some hit in rule.hits with input as flight({"unknown": false, "lux": 0.4}, practice)
	hit.element == "up"
	hit.field == ["head"]
	hit.case == "head, all"
	hit.severity == "advice"
	not hit.value
	contains(hit.message, "no light stands near the head of stair up")
}

test_light_too_far_from_the_head if {
	some hit in rule.hits with input as flight({"unknown": false, "lux": 0.4, "source": "L1", "source_m": 2.6}, practice)
	hit.severity == "advice"
	hit.value == 2.6
	hit.limit == 2
	contains(hit.message, "L1, stands 2.60 m away")
}

test_code_asks_for_a_source if {
	some hit in rule.hits with input as flight({"unknown": false, "lux": 50}, residential)
	hit.severity == "defect"
	hit.limit_name == "light.top_source_required"
}

test_head_in_order[name] if {
	some name, facts in {
		"near enough": flight({"unknown": false, "lux": 0.4, "source": "L1", "source_m": 2}, residential),
		"lit well from afar": flight({"unknown": false, "lux": 5}, practice),
		"a light that may stand anywhere": flight({"unknown": true}, residential),
		"not meant to be lit": object.union(
			flight({"unknown": false, "lux": 0}, residential),
			{"stairs": [{"id": "up", "not_meant_lit": true, "tops": [{"scene": "all", "unknown": false}]}]},
		),
		"not asked for": flight({"unknown": false, "lux": 0}, array.concat(common, [{"name": "light.top_source_required", "flag": false, "unit": "1", "source": "house", "basis": "house"}])),
		"the last step is dark": object.union(flight({"unknown": false, "lux": 0}, practice), {"treads": [object.union(last, {"lux_centre": 0.2})]}),
	}
	count(rule.hits) == 0 with input as facts
}

test_survey if {
	facts := object.union(plan(object.union(lit(0), {"end": "top"}), common), {"stage": "survey", "fixtures": []})
	some hit in rule.hits with input as facts
	hit.severity == "advice"
}
