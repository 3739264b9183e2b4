package rules.earth.drainage_test

import data.rules.earth.drainage

limits := [
	{"name": "earth.gravel_m", "value": 0.1016, "unit": "m", "source": "practice"},
	{"name": "earth.in_ground_ip_solid_min", "value": 6, "unit": "1", "source": "practice"},
	{"name": "earth.in_ground_ip_water_min", "value": 7, "unit": "1", "source": "practice"},
]

good := {"id": "L1", "type": "well", "in_earth": true, "gravel_m": 0.1524, "ip_solid": 6, "ip_water": 7}

plan(fixtures, limits_in_force) := {"units": "ft", "fixtures": fixtures, "limits": limits_in_force}

one(change) := object.union(good, change)

test_little_gravel if {
	found := drainage.hits with input as plan([one({"gravel_m": 0.0508})], limits)
	count(found) == 1
	some hit in found
	hit.element == "L1"
	hit.field == ["drainage", "gravel"]
	hit.case == "gravel"
	hit.limit_name == "earth.gravel_m"
	contains(hit.message, "on 2 in of gravel: less than 4 in")
}

test_no_gravel_stated if {
	found := drainage.hits with input as plan([object.remove(good, ["gravel_m"])], limits)
	count(found) == 1
	some hit in found
	hit.case == "gravel"
	hit.field == ["drainage"]
	contains(hit.message, "neither gravel nor a drain")
}

test_nought_is_stated if {
	found := drainage.hits with input as plan([one({"gravel_m": 0})], limits)
	[hit.field | some hit in found] == [["drainage", "gravel"]]
}

test_soil if {
	some hit in drainage.hits with input as plan([one({"gravel_m": 0.05, "soil_drains": false})], limits)
	contains(hit.message, "in soil that holds water")
}

test_gravel_from_both_sides if {
	count(drainage.hits) == 1 with input as plan([one({"gravel_m": 0.1})], limits)
	count(drainage.hits) == 0 with input as plan([one({"gravel_m": 0.1012})], limits)
}

test_drain_clears if {
	count(drainage.hits) == 0 with input as plan([one({"gravel_m": 0, "drain": true})], limits)
	count(drainage.hits) == 1 with input as plan([one({"gravel_m": 0, "drain": false})], limits)
}

# IEC 60529: the first numeral is against solids, the second against water.
test_ip[name] if {
	some name, want in {
		"solid": {"change": {"ip_solid": 5}, "words": "numeral 5 against dust; at least 6"},
		"water": {"change": {"ip_water": 5}, "words": "numeral 5 against water; at least 7"},
	}
	fixtures := [one(want.change), object.union(one(want.change), {"id": "L2"})]
	found := drainage.hits with input as plan(fixtures, limits)
	count(found) == 1
	some hit in found
	hit.element == "well"
	hit.field == ["ip"]
	hit.case == name
	contains(hit.message, "at L1 and L2")
	contains(hit.message, want.words)
}

test_silent[name] if {
	some name, case in {
		"good": {"fixture": good, "limits": limits},
		"not in the ground": {"fixture": one({"in_earth": false, "gravel_m": 0, "ip_solid": 0, "ip_water": 0}), "limits": limits},
		"IP68": {"fixture": one({"ip_water": 8}), "limits": limits},
		"IP not stated": {"fixture": object.remove(good, ["ip_solid", "ip_water"]), "limits": limits},
		"no limits": {"fixture": one({"gravel_m": 0, "ip_solid": 0, "ip_water": 0}), "limits": []},
	}
	count(drainage.hits) == 0 with input as plan([case.fixture], case.limits)
}
