package rules.earth.dug_over_test

import data.rules.earth["dug-over"] as rule

limits := [{"name": "earth.cover_advice_m", "value": 0.1524, "unit": "m", "source": "practice"}]

bed := {"id": "w1", "what": "bed", "kind": "annual-bed", "length_m": 3.048, "in_ground": true, "sleeved": false}

lawn := object.union(bed, {"what": "lawn", "kind": "aerated-lawn"})

plan(crossing, cover_m, limits_in_force) := {
	"units": "ft",
	"crossings": [crossing],
	"legs": [{"id": "w1", "cover_m": cover_m}],
	"limits": limits_in_force,
}

test_bed if {
	found := rule.hits with input as plan(bed, 0.1524, limits)
	count(found) == 1
	some hit in found
	hit.element == "w1"
	hit.case == "bed"
	hit.field == ["route"]
	contains(hit.message, "in the bed for 10 ft")
}

test_bed_needs_no_limit if count(rule.hits) == 1 with input as plan(bed, 0.1524, [])

test_lawn if {
	found := rule.hits with input as plan(lawn, 0.1016, limits)
	count(found) == 1
	some hit in found
	hit.element == "w1"
	hit.case == "lawn"
	hit.field == ["cover"]
	hit.limit_name == "earth.cover_advice_m"
	contains(hit.message, "4 in of cover under the lawn")
}

test_lawn_from_both_sides if {
	count(rule.hits) == 1 with input as plan(lawn, 0.1518, limits)
	count(rule.hits) == 0 with input as plan(lawn, 0.152, limits)
}

test_silent[name] if {
	some name, crossing in {
		"bed, sleeved": object.union(bed, {"sleeved": true}),
		"bed, on the surface": object.union(bed, {"in_ground": false}),
		"lawn, sleeved": object.union(lawn, {"sleeved": true}),
		"lawn, on the surface": object.union(lawn, {"in_ground": false}),
		"a deck": object.union(bed, {"kind": "deck"}),
	}
	count(rule.hits) == 0 with input as plan(crossing, 0.05, limits)
}

test_lawn_needs_cover_and_limit if {
	count(rule.hits) == 0 with input as plan(lawn, 0.05, [])
	facts := {"units": "ft", "crossings": [lawn], "legs": [{"id": "w1"}], "limits": limits}
	count(rule.hits) == 0 with input as facts
}
