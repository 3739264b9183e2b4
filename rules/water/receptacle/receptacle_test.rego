package rules.water.receptacle_test

import data.rules.water.receptacle

# 6 ft from memory; 20 ft: NFPA 70-2023, 680.22(A)(4).
limits := [
	{"name": "water.receptacle_min_m", "value": 1.8288, "unit": "m", "source": "680.22(A)"},
	{"name": "water.receptacle_gfci_m", "value": 6.096, "unit": "m", "source": "680.22(A)(4)"},
]

near(distance_m) := {"id": "RC1", "thing": "receptacle", "water": "W", "kind": "pool", "distance_m": distance_m}

plan(distance, change, limits_in_force) := {
	"units": "ft",
	"water_distances": [distance],
	"receptacles": [object.union({"id": "RC1", "gfci": true, "location": "garage"}, change)],
	"limits": limits_in_force,
}

test_distance if {
	found := receptacle.hits with input as plan(near(1.524), {}, limits)
	count(found) == 1
	some hit in found
	hit.element == "RC1"
	hit.case == "W, distance"
	hit.field == ["at"]
	hit.severity == "advice"
	contains(hit.message, "5 ft from pool W")
}

test_water_called_by_its_kind if {
	some hit in receptacle.hits with input as plan(object.union(near(1), {"water": "pool"}), {}, limits)
	contains(hit.message, "from the pool; the code")
}

test_distance_from_both_sides if {
	count(receptacle.hits) == 1 with input as plan(near(1.82), {}, limits)
	count(receptacle.hits) == 0 with input as plan(near(1.8284), {}, limits)
}

test_protection[kind] if {
	some kind in ["pool", "spa", "fountain"]
	found := receptacle.hits with input as plan(object.union(near(4.572), {"kind": kind}), {"gfci": false}, limits)
	count(found) == 1
	some hit in found
	hit.case == "W, protection"
	hit.field == ["gfci"]
	not hit.severity
	contains(hit.message, "15 ft from")
}

test_protection_from_both_sides if {
	count(receptacle.hits) == 1 with input as plan(near(6.095), {"gfci": false}, limits)
	count(receptacle.hits) == 0 with input as plan(near(6.0956), {"gfci": false}, limits)
}

test_silent[name] if {
	some name, facts in {
		"far and protected": plan(near(4.572), {}, limits),
		"outdoor is another rule": plan(near(4.572), {"gfci": false, "location": "outdoor"}, limits),
		"a pond": plan(object.union(near(1), {"kind": "pond"}), {"gfci": false}, limits),
		"a fixture": plan(object.union(near(1), {"thing": "fixture"}), {"gfci": false}, limits),
		"no limits": plan(near(1), {"gfci": false}, []),
	}
	count(receptacle.hits) == 0 with input as facts
}
