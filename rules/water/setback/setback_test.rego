package rules.water.setback_test

import data.rules.water.setback

# 10 ft: NFPA 70-2020, 411.5(B). 15 V and 30 V: low-voltage contact limit, 680.2.
code := [
	{"name": "water.setback_m", "value": 3.048, "unit": "m", "source": "411.5(B)", "basis": "code"},
	{"name": "water.natural_setback_m", "value": 3.048, "unit": "m", "source": "instructions", "basis": "listing"},
	{"name": "water.listed_exception", "flag": true, "unit": "", "source": "680.22(B)(6)", "basis": "code"},
	{"name": "power.wet_ac_max_v", "value": 15, "unit": "V", "source": "411.1", "basis": "code"},
	{"name": "power.wet_dc_max_v", "value": 30, "unit": "V", "source": "411.1", "basis": "code"},
]

near := {
	"id": "P1", "thing": "fixture", "water": "W", "kind": "pool", "distance_m": 1.524,
	"listing": ["wet-location"], "supply_listing": ["landscape-system"], "tap_volts": 12, "output": "ac",
}

listed := object.union(near, {"listing": ["near-pool"], "supply_listing": ["pool-spa"]})

plan(change, limits) := {"units": "ft", "water_distances": [object.union(near, change)], "limits": limits}

hits(change) := found if {
	found := setback.hits with input as plan(change, code)
}

test_near_a_pool[kind] if {
	some kind in ["pool", "spa", "fountain"]
	found := hits({"kind": kind})
	count(found) == 1
	some hit in found
	hit.element == "P1"
	hit.field == ["at"]
	hit.case == "W"
	hit.severity == "danger"
	hit.value == 1.524
	hit.limit == 3.048
	contains(hit.message, sprintf("fixture P1 is 5 ft from %s W: within 10 ft", [kind]))
}

test_things[thing] if {
	some thing, want in {
		"fixture": {"words": "fixture P1", "field": ["at"]},
		"leg": {"words": "cable P1", "field": ["route"]},
		"transformer": {"words": "transformer P1", "field": ["at"]},
	}
	some hit in hits({"thing": thing})
	hit.field == want.field
	startswith(hit.message, want.words)
}

test_in_the_water if {
	some hit in hits({"distance_m": 0})
	contains(hit.message, "fixture P1 is in pool W:")
}

test_water_called_by_its_kind if {
	some hit in hits({"water": "pool"})
	contains(hit.message, "5 ft from the pool: within")
}

test_from_both_sides if {
	count(hits({"distance_m": 3.04})) == 1
	count(hits({"distance_m": 3.0476})) == 0
	count(hits({"distance_m": 3.048})) == 0
}

test_practice_is_no_danger if {
	limits := [{"name": "water.setback_m", "value": 3.048, "unit": "m", "source": "practice", "basis": "practice"}]
	some hit in setback.hits with input as plan({}, limits)
	hit.severity == "defect"
}

test_permitted[name] if {
	some name, change in {
		"listed for it": {},
		"made for under water": {"listing": ["underwater"]},
		"24 V DC": {"tap_volts": 24, "output": "dc"},
		"its cable": {"thing": "leg", "listing": ["direct-burial"]},
	}
	count(hits(object.union(listed, change))) == 0
}

test_not_permitted[name] if {
	some name, change in {
		"fixture not listed": {"listing": ["wet-location"]},
		"supply not listed": {"supply_listing": ["isolating"]},
		"24 V AC": {"tap_volts": 24},
		"24 V, output not known": {"tap_volts": 24, "output": ""},
		"36 V DC": {"tap_volts": 36, "output": "dc"},
		"cable of a common supply": {"thing": "leg", "supply_listing": []},
		"transformer": {"thing": "transformer", "listing": ["pool-spa"], "supply_listing": []},
	}
	count(hits(object.union(listed, change))) == 1
}

# 24 V of direct current may be near a pool, but not in pulses of 10 to 200 Hz, for
# which 12.4 V is the most: 680.2.
test_slow_pulses[name] if {
	pulses := array.concat(code, [
		{"name": "power.wet_pulsed_max_v", "value": 12.4, "unit": "V", "source": "680.2", "basis": "code"},
		{"name": "power.wet_pulsed_low_hz", "value": 10, "unit": "Hz", "source": "680.2", "basis": "code"},
		{"name": "power.wet_pulsed_high_hz", "value": 200, "unit": "Hz", "source": "680.2", "basis": "code"},
	])
	some name, case in {
		"fixture, slow": {"near": {"tap_volts": 24}, "hz": 120, "hits": 1},
		"fixture, fast": {"near": {"tap_volts": 24}, "hz": 1000, "hits": 0},
		"fixture, 12 V": {"near": {"tap_volts": 12}, "hz": 120, "hits": 0},
		"its cable, slow": {"near": {"tap_volts": 24, "id": "w1", "thing": "leg"}, "hz": 120, "hits": 1},
	}
	count(setback.hits) == case.hits with input as object.union(plan(object.union(listed, object.union({"output": "dc"}, case.near)), pulses), {
		"fixtures": [{"id": "P1", "run": "R1"}], "legs": [{"id": "w1", "run": "R1"}], "controls": [],
		"runs": [{"id": "R1", "transformer": "T1", "lamps": ["P1"]}],
		"transformers": [{"id": "T1", "output": "dc", "pwm_hz": case.hz}],
	})
}

test_no_exception_in_the_profile if {
	count(setback.hits) == 1 with input as plan(listed, [code[0]])
}

test_natural_water[kind] if {
	some kind in ["pond", "stream", "sea"]
	found := hits({"kind": kind, "water": "W"})
	count(found) == 1
	some hit in found
	hit.severity == "advice"
	hit.case == "W"
	hit.limit_name == "water.natural_setback_m"
	contains(hit.message, sprintf("5 ft from %s W", [kind]))
}

test_natural_water_passes[name] if {
	some name, change in {
		"cable": {"thing": "leg"},
		"transformer": {"thing": "transformer"},
		"under water": {"listing": ["underwater"]},
		"near water": {"listing": ["near-pool"]},
		"far enough": {"distance_m": 3.048},
	}
	count(hits(object.union(change, {"kind": "pond"}))) == 0
}

test_silent[name] if {
	some name, facts in {
		"a receptacle": plan({"thing": "receptacle"}, code),
		"place not known": {"units": "ft", "water_distances": [object.remove(near, ["distance_m"])], "limits": code},
		"no limits": plan({}, []),
		"no limits at a pond": plan({"kind": "pond"}, []),
	}
	count(setback.hits) == 0 with input as facts
}
