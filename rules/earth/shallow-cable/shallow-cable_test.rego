package rules.earth.shallow_cable_test

import data.rules.earth["shallow-cable"] as rule

limits := [
	{"name": "earth.cover", "unit": "m", "source": "table 300.5", "table": [{"key": "all", "value": 0.1524}]},
	{"name": "earth.cover_advice_m", "value": 0.1524, "unit": "m", "source": "practice"},
]

# Values of the table: NFPA 70-2020, table 300.5, column 5.
open_ground := {"id": "w1", "row": "all", "cover_m": 0.1524, "required_m": 0.1524, "exempt": false}

drive := {"id": "w1", "row": "home-drive", "cover_m": 0.1524, "required_m": 0.4572, "exempt": false}

plan(pieces, limits_in_force) := {"units": "ft", "pieces": pieces, "limits": limits_in_force}

test_under_the_drive if {
	found := rule.hits with input as plan([open_ground, drive], limits)
	[hit.case | some hit in found] == ["under the drive"]
	some hit in found
	hit.element == "w1"
	hit.field == ["cover"]
	hit.value == 0.1524
	hit.limit == 0.4572
	hit.limit_name == "earth.cover"
	contains(hit.message, "6 in of cover under the drive")
	contains(hit.message, "18 in")
	not hit.severity
}

test_open_ground_from_both_sides if {
	count(rule.hits) == 1 with input as plan([object.union(open_ground, {"cover_m": 0.15})], limits)
	count(rule.hits) == 0 with input as plan([open_ground], limits)
	count(rule.hits) == 0 with input as plan([object.union(open_ground, {"cover_m": 0.1522})], limits)
}

test_one_hit_for_a_row_crossed_twice if {
	sleeved := object.union(drive, {"required_m": 0.3})
	found := rule.hits with input as plan([sleeved, open_ground, drive], limits)
	[hit.limit | some hit in found] == [0.4572]
}

test_rows_apart if {
	street := object.union(drive, {"row": "street", "required_m": 0.6096})
	found := rule.hits with input as plan([drive, street], limits)
	{hit.case | some hit in found} == {"under the drive", "under a street, parking or shared drive"}
}

test_not_judged[name] if {
	some name, piece in {
		"exempt": object.union(drive, {"exempt": true}),
		"cover not stated": object.remove(drive, ["cover_m"]),
		"deep enough": object.union(drive, {"cover_m": 0.5}),
	}
	count(rule.hits) == 0 with input as plan([piece], limits)
}

untabled(cover_m) := {"id": "w1", "row": "all", "cover_m": cover_m, "exempt": false}

test_advice_without_a_table if {
	found := rule.hits with input as plan([untabled(0.05), untabled(0.1)], [limits[1]])
	count(found) == 1
	some hit in found
	hit.severity == "advice"
	hit.case == "spade"
	hit.value == 0.05
	hit.limit_name == "earth.cover_advice_m"
}

test_no_advice[name] if {
	some name, case in {
		"deep enough": {"piece": untabled(0.1524), "limits": [limits[1]]},
		"exempt": {"piece": object.union(untabled(0.05), {"exempt": true}), "limits": [limits[1]]},
		"under a building": {"piece": object.union(untabled(0), {"row": "under-building"}), "limits": [limits[1]]},
		"no limit": {"piece": untabled(0.05), "limits": []},
	}
	count(rule.hits) == 0 with input as plan([case.piece], case.limits)
}

test_listed_depth_where_no_table_is if {
	flag := {"name": "earth.listed_depth_allowed", "flag": true, "unit": "", "source": "practice"}
	facts := {"units": "ft", "pieces": [untabled(0.1016)], "legs": [{"id": "w1", "listed_cover_m": 0.1016}], "limits": [limits[1], flag]}
	count(rule.hits) == 0 with input as facts
	count(rule.hits) == 1 with input as object.union(facts, {"limits": [limits[1]]})
	count(rule.hits) == 1 with input as object.union(facts, {"pieces": [untabled(0.09)]})
}
