package rules.heat.combustible_test

import data.rules.heat.combustible

limits := [
	{"name": "heat.combustible_clearance_m", "value": 0.3048, "unit": "m", "source": "house"},
	{"name": "heat.hot_surface_c", "value": 90, "unit": "degC", "source": "house"},
]

lamp := {
	"id": "U1", "load": "filament", "listing": ["wet-location"], "mount": "stake", "under_deck_burns": false,
	"nearest_combustible_m": 0.1524, "nearest_combustible": "mulch in bed",
}

far := object.union(lamp, {"nearest_combustible_m": 1})

plan(fixture) := {"units": "ft", "fixtures": [fixture], "limits": limits}

hits(fixture) := found if {
	found := combustible.hits with input as plan(fixture)
}

test_label if {
	found := hits(object.union(lamp, {"combustible_m": 0.4572}))
	count(found) == 1
	some hit in found
	hit.element == "U1"
	hit.case == "near"
	hit.severity == "danger"
	hit.value == 0.1524
	hit.limit == 0.4572
	not hit.limit_name
	contains(hit.message, "filament fixture U1 is 6 in from mulch in bed; its label asks for 18 in")
}

test_no_label if {
	some hit in hits(lamp)
	hit.severity == "danger"
	hit.limit == 0.3048
	hit.limit_name == "heat.combustible_clearance_m"
	contains(hit.message, "its label states no distance, and without one this check asks for 12 in")
}

test_no_label_no_limit if {
	count(combustible.hits) == 0 with input as object.union(plan(lamp), {"limits": []})
}

test_clearance_from_both_sides if {
	count(hits(object.union(lamp, {"nearest_combustible_m": 0.304}))) == 1
	count(hits(object.union(lamp, {"nearest_combustible_m": 0.3046}))) == 0
}

test_label_of_nought if count(hits(object.union(lamp, {"combustible_m": 0}))) == 0

test_cut_out if {
	some hit in hits(object.union(lamp, {"thermal_cut_out": true}))
	hit.severity == "advice"
	contains(hit.message, "its cut-out ends it")
}

test_hot_led if {
	led := object.union(lamp, {"load": "constant-power"})
	count(hits(led)) == 0
	count(hits(object.union(led, {"surface_c": 60}))) == 0
	count(hits(object.union(led, {"surface_c": 89.9}))) == 0
	some hit in hits(object.union(led, {"surface_c": 90}))
	startswith(hit.message, "hot fixture U1")
}

test_on_timber[name] if {
	some name, want in {
		"nothing stated": {"change": {}, "severity": "advice"},
		"label of nought": {"change": {"combustible_m": 0}, "severity": "advice"},
		"label asks for room": {"change": {"combustible_m": 0.3}, "severity": "danger"},
	}
	found := hits(object.union(object.union(far, {"host_burns": "timber fence f"}), want.change))
	count(found) == 1
	some hit in found
	hit.case == "on"
	hit.severity == want.severity
	contains(hit.message, "mounted on timber fence f")
}

test_on_timber_silent[name] if {
	some name, change in {
		"listed for it": {"listing": ["combustible-mounting"]},
		"in a tree": {"mount": "tree"},
		"LED": {"load": "constant-power"},
	}
	count(hits(object.union(object.union(far, {"host_burns": "timber fence f"}), change))) == 0
}

test_under_a_deck if {
	found := hits(object.union(far, {"under_deck": "deck", "under_deck_burns": true}))
	count(found) == 1
	some hit in found
	hit.case == "under a deck"
	hit.severity == "advice"
	count(hits(object.union(far, {"under_deck": "deck"}))) == 0
}

test_under_a_deck_and_near_is_one_hit if {
	found := hits(object.union(lamp, {"under_deck": "deck", "under_deck_burns": true}))
	{hit.case | some hit in found} == {"near"}
}

test_nothing_near if count(hits(object.remove(lamp, ["nearest_combustible_m", "nearest_combustible"]))) == 0
