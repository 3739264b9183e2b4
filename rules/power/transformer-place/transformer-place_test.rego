package rules.power.transformer_place_test

import data.rules.power["transformer-place"] as rule

# Values: 12 in above the ground, instructions of listed power units; 10 ft from water, a trade
# association; 8 ft of cord, one maker.
limits := [
	{"name": "power.cord_max_m", "value": 2.4384, "unit": "m", "source": "practice"},
	{"name": "power.transformer_height_min_m", "value": 0.3048, "unit": "m", "source": "instructions"},
	{"name": "power.transformer_water_min_m", "value": 3.048, "unit": "m", "source": "instructions"},
]

unit := {"id": "T1", "location": "outdoor", "outdoor": true, "height_m": 0.3556, "receptacle": "RC1", "water_kind": "pond"}

plan(changes, limits_in_force) := {"units": "ft", "transformers": [object.union(unit, changes)], "limits": limits_in_force}

found(changes) := {hit.case: hit | some hit in hits} if {
	hits := rule.hits with input as plan(changes, limits)
}

test_good_place if {
	count(found({})) == 0
	count(found({"water_m": 3.048, "cord_m": 1.2, "cord_needed_m": 1.1, "snow_m": 0.2, "flood_m": -0.5, "enclosed": false, "mounted_on": "masonry"})) == 0
}

test_cases[name] if {
	some name, case in {
		"indoor unit": {"change": {"outdoor": false}, "case": "enclosure", "field": ["location"], "words": "its enclosure is not made for it"},
		"low": {"change": {"height_m": 0.2032}, "case": "height", "field": ["height"], "words": "8 in above the ground"},
		"snow": {"change": {"snow_m": 0.5}, "case": "snow", "field": ["height"], "words": "where snow reaches 19.7 in"},
		"flood": {"change": {"flood_m": 0.6}, "case": "flood water", "field": ["height"], "words": "where flood water reaches"},
		"water": {"change": {"water_m": 2}, "case": "water", "field": ["at"], "words": "from the pond"},
		"short cord": {"change": {"cord_m": 1.2192, "cord_needed_m": 1.8288}, "case": "cord", "field": ["cord"], "words": "the way to receptacle RC1 is 6 ft"},
		"far away": {"change": {"cord_needed_m": 3}, "case": "reach", "field": ["plugged_into"], "words": "at most 8 ft"},
		"shut in": {"change": {"enclosed": true}, "case": "air", "field": ["enclosed"], "words": "without the air"},
		"on vinyl": {"change": {"mounted_on": "vinyl"}, "case": "wall", "field": ["mounted_on"], "words": "vinyl siding"},
	}
	hits := found(case.change)
	object.keys(hits) == {case.case}
	hits[case.case].element == "T1"
	hits[case.case].field == case.field
	contains(hits[case.case].message, case.words)
}

test_only_the_enclosure_is_a_defect if {
	not found({"outdoor": false}).enclosure.severity
	found({"height_m": 0.1}).height.severity == "advice"
}

test_a_cord_that_is_too_short_is_said_once if {
	object.keys(found({"cord_m": 1, "cord_needed_m": 5})) == {"cord"}
}

test_pools_are_left_to_the_setback if {
	count(found({"water_m": 2, "water_kind": "pool"})) == 0
}

test_indoors if {
	count(found({"location": "garage", "outdoor": false, "height_m": 0, "snow_m": 1})) == 0
}

test_silent_without_limits if {
	count(rule.hits) == 0 with input as plan({"height_m": 0.1, "water_m": 1, "cord_needed_m": 9}, [])
}
