package rules.light.unlit_step_test

import data.rules.light["unlit-step"] as rule

common := [
	{"name": "light.near_limit", "value": 0.3, "unit": "1", "source": "house"},
	{"name": "light.step_dark_lx", "value": 1, "unit": "lx", "source": "practice"},
	{"name": "light.step_low_lx", "value": 5, "unit": "lx", "source": "practice"},
]

public := [{"name": "light.step_public_lx", "value": 108, "unit": "lx", "source": "IBC 1008.2.1"}]

code := [{"name": "light.step_code_lx", "value": 11, "unit": "lx", "source": "town code"}]

middle := {
	"id": "lower/2", "stair": "lower", "number": 2, "landing": false, "first": false, "last": false,
	"public": false, "scene": "all", "not_meant_lit": false,
}

plan(tread, limits) := {"treads": [tread], "limits": limits}

lit(lux) := object.union(middle, {"lux_centre": lux})

test_private[name] if {
	some name, case in {
		"dark in the middle": {"tread": lit(0.4), "severity": "defect", "limit": "light.step_dark_lx"},
		"dark at the foot": {"tread": object.union(lit(0.4), {"first": true}), "severity": "danger", "limit": "light.step_dark_lx"},
		"dark at the head": {"tread": object.union(lit(0), {"last": true}), "severity": "danger", "limit": "light.step_dark_lx"},
		"just dark": {"tread": lit(0.99), "severity": "defect", "limit": "light.step_dark_lx"},
		"at the dark limit": {"tread": object.union(lit(1), {"first": true}), "severity": "advice", "limit": "light.step_low_lx"},
		"low": {"tread": lit(4.9), "severity": "advice", "limit": "light.step_low_lx"},
	}
	some hit in rule.hits with input as plan(case.tread, common)
	hit.element == "lower/2"
	hit.case == "all"
	hit.severity == case.severity
	hit.limit_name == case.limit
	hit.value == case.tread.lux_centre
	hit.unit == "lx"
	contains(hit.message, "with everything on")
}

test_bright_enough if {
	count(rule.hits) == 0 with input as plan(lit(5), common)
	count(rule.hits) == 0 with input as plan(lit(60), common)
}

test_levels_of_a_code[name] if {
	some name, case in {
		"below": {"lux": 10.9, "limits": code, "public": false, "severity": "defect", "limit": "light.step_code_lx"},
		"near": {"lux": 14.2, "limits": code, "public": false, "severity": "advice", "limit": "light.step_code_lx"},
		"public": {"lux": 60, "limits": public, "public": true, "severity": "defect", "limit": "light.step_public_lx"},
		"both, public stair": {"lux": 60, "limits": array.concat(public, code), "public": true, "severity": "defect", "limit": "light.step_public_lx"},
		"both, private stair": {"lux": 8, "limits": array.concat(public, code), "public": false, "severity": "defect", "limit": "light.step_code_lx"},
		"dark goes before": {"lux": 0.2, "limits": code, "public": false, "severity": "defect", "limit": "light.step_dark_lx"},
	}
	tread := object.union(lit(case.lux), {"public": case.public})
	some hit in rule.hits with input as plan(tread, array.concat(common, case.limits))
	hit.severity == case.severity
	hit.limit_name == case.limit
}

test_clear_of_a_code if {
	count(rule.hits) == 0 with input as plan(lit(14.4), array.concat(common, code))
	count(rule.hits) == 0 with input as plan(lit(8), array.concat(common, public))
}

test_near_the_dark_limit_alone if {
	limits := [common[0], common[1]]
	some hit in rule.hits with input as plan(lit(1.2), limits)
	hit.severity == "advice"
	hit.limit_name == "light.step_dark_lx"
	count(rule.hits) == 0 with input as plan(lit(1.4), limits)
}

test_each_scene_by_itself if {
	evening := object.union(lit(30), {"scene": "evening"})
	late := object.union(lit(0.1), {"scene": "late"})
	found := rule.hits with input as {"treads": [evening, late], "limits": common}
	[hit.case | some hit in found] == ["late"]
	some hit in found
	contains(hit.message, "in scene late")
}

test_not_judged[name] if {
	some name, tread in {
		"landing": object.union(lit(0), {"landing": true}),
		"not meant to be lit": object.union(lit(0), {"not_meant_lit": true}),
		"light not known": middle,
	}
	count(rule.hits) == 0 with input as plan(tread, common)
}

test_silent_without_limits if {
	count(rule.hits) == 0 with input as plan(lit(0), [])
}

test_survey if {
	facts := object.union(plan(object.union(lit(0), {"first": true}), common), {"stage": "survey", "fixtures": []})
	some hit in rule.hits with input as facts
	hit.severity == "advice"
}
