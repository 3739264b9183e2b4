package rules.site.tree_mount_test

import data.rules.site["tree-mount"] as rule

limits := [{"name": "site.tree_growth_min_m", "value": 0.3048, "unit": "m", "source": "house"}]

well := {
	"id": "D1", "mount": "tree", "host": "oak", "tree_fixing": "stand-off",
	"tree_cable_fixing": "stand-off", "tree_growth_m": 0.6096, "tree_protected": true,
}

plan(change, limits_in_force) := {"units": "ft", "fixtures": [object.union(well, change)], "limits": limits_in_force}

cases(change) := found if {
	found := {hit.case | some hit in rule.hits} with input as plan(change, limits)
}

test_well_hung if cases({}) == set()

test_fixing[kind] if {
	some kind, words in {"nail": "wound", "plate": "flat on the bark", "strap": "strangles"}
	found := rule.hits with input as plan({"tree_fixing": kind}, limits)
	count(found) == 1
	some hit in found
	hit.element == "D1"
	hit.field == ["tree_mount", "fixing"]
	hit.case == "fixing"
	contains(hit.message, words)
	contains(hit.message, "on oak")
}

test_staples if cases({"tree_cable_fixing": "staple"}) == {"cable"}

test_clips_pass if cases({"tree_cable_fixing": "clip"}) == set()

test_foot if {
	cases({"tree_protected": false}) == {"foot"}
	some hit in rule.hits with input as plan({"tree_protected": false}, limits)
	hit.field == ["tree_mount", "protected"]
}

test_growth_from_both_sides if {
	cases({"tree_growth_m": 0.3}) == {"growth"}
	cases({"tree_growth_m": 0.3044}) == set()
	cases({"tree_growth_m": 0.3048}) == set()
	some hit in rule.hits with input as plan({"tree_growth_m": 0.1524}, limits)
	hit.limit_name == "site.tree_growth_min_m"
	contains(hit.message, "6 in of spare cable on oak")
}

test_growth_without_limit if {
	count(rule.hits) == 0 with input as plan({"tree_growth_m": 0}, [])
}

test_host_not_named if {
	fixture := object.union(object.remove(well, ["host"]), {"tree_fixing": "nail"})
	some hit in rule.hits with input as {"units": "ft", "fixtures": [fixture], "limits": limits}
	contains(hit.message, "on its tree")
}

test_only_in_trees if {
	cases({"mount": "wall", "tree_fixing": "nail", "tree_cable_fixing": "staple", "tree_growth_m": 0, "tree_protected": false}) == set()
}

test_unknown_is_not_wrong if {
	fixture := {"id": "D1", "mount": "tree"}
	count(rule.hits) == 0 with input as {"units": "ft", "fixtures": [fixture], "limits": limits}
}
