package rules.light.stair_control_test

import data.rules.light["stair-control"] as rule

required := [{"name": "light.stair_control_required", "flag": true, "unit": "1", "source": "practice"}]

stair := {"id": "up", "not_meant_lit": false, "controls": ["C1"], "automatic": false, "reachable": false}

plan(change, limits) := {"stairs": [object.union(stair, change)], "limits": limits}

test_out_of_reach if {
	some hit in rule.hits with input as plan({"controls": ["C1", "C2"]}, required)
	hit.element == "up"
	contains(hit.message, "stair up are switched by hand (C1 and C2)")
}

test_silent[name] if {
	some name, case in {
		"automatic": [{"automatic": true}, required],
		"within reach": [{"reachable": true}, required],
		"always on": [{"controls": []}, required],
		"not meant to be lit": [{"not_meant_lit": true}, required],
		"not asked for": [{}, []],
		"withdrawn": [{}, [object.union(required[0], {"flag": false})]],
	}
	count(rule.hits) == 0 with input as plan(case[0], case[1])
}
