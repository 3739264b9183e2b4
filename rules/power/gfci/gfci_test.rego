package rules.power.gfci_test

import data.rules.power.gfci

required := [{"name": "power.gfci_required", "flag": true, "unit": "", "source": "code"}]

outdoor := {"id": "RC1", "location": "outdoor", "transformers": ["T1"]}

unit := {"id": "T1", "location": "outdoor", "hard_wired": true, "branch": "B1"}

plan(receptacles, limits) := {"receptacles": receptacles, "transformers": [], "branches": [], "limits": limits}

wired(transformer, branch) := {"receptacles": [], "transformers": [transformer], "branches": [branch], "limits": required}

test_unprotected if {
	some hit in gfci.hits with input as plan([object.union(outdoor, {"gfci": false})], required)
	hit.element == "RC1"
	hit.field == ["gfci"]
	contains(hit.message, "T1 hangs on it")
	not hit.severity
}

test_two_units_on_it if {
	some hit in gfci.hits with input as plan([object.union(outdoor, {"gfci": false, "transformers": ["T1", "T2"]})], required)
	contains(hit.message, "T1 and T2 hang on it")
}

test_nothing_on_it if {
	some hit in gfci.hits with input as plan([object.union(outdoor, {"gfci": false, "transformers": []})], required)
	contains(hit.message, "protection: a wet plug")
}

test_silent[name] if {
	some name, receptacle in {
		"protected": object.union(outdoor, {"gfci": true}),
		"not stated": outdoor,
		"indoor": object.union(outdoor, {"gfci": false, "location": "indoor"}),
		"garage": object.union(outdoor, {"gfci": false, "location": "garage"}),
	}
	count(gfci.hits) == 0 with input as plan([receptacle], required)
}

test_silent_without_limit if {
	count(gfci.hits) == 0 with input as plan([object.union(outdoor, {"gfci": false})], [])
	count(gfci.hits) == 0 with input as plan([object.union(outdoor, {"gfci": false})], [object.union(required[0], {"flag": false})])
}

test_wired_in_asks if {
	some hit in gfci.hits with input as wired(unit, {"id": "B1", "gfci": false})
	hit.element == "T1"
	hit.severity == "caution"
	hit.case == "wired in"
}

test_wired_in_silent[name] if {
	some name, pair in {
		"protected": [unit, {"id": "B1", "gfci": true}],
		"not stated": [unit, {"id": "B1"}],
		"indoor": [object.union(unit, {"location": "indoor"}), {"id": "B1", "gfci": false}],
		"plugged in": [object.union(unit, {"hard_wired": false}), {"id": "B1", "gfci": false}],
	}
	count(gfci.hits) == 0 with input as wired(pair[0], pair[1])
}
