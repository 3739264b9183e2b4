package rules.power.in_use_cover_test

import data.rules.power["in-use-cover"] as rule

required := [{"name": "power.in_use_cover_required", "flag": true, "unit": "", "source": "code"}]

outdoor := {"id": "RC1", "location": "outdoor", "in_use_cover": false}

plan(receptacle, limits) := {"receptacles": [receptacle], "limits": limits}

test_uncovered if {
	some hit in rule.hits with input as plan(outdoor, required)
	hit.element == "RC1"
	hit.field == ["in_use_cover"]
	contains(hit.message, "RC1")
}

test_silent[name] if {
	some name, receptacle in {
		"covered": object.union(outdoor, {"in_use_cover": true}),
		"not stated": object.remove(outdoor, ["in_use_cover"]),
		"indoor": object.union(outdoor, {"location": "indoor"}),
	}
	count(rule.hits) == 0 with input as plan(receptacle, required)
}

test_silent_without_limit if {
	count(rule.hits) == 0 with input as plan(outdoor, [])
	count(rule.hits) == 0 with input as plan(outdoor, [object.union(required[0], {"flag": false})])
}
