package rules.neighbour.lumens_test

import data.rules.neighbour.lumens

limit(name, value) := {"name": name, "value": value, "unit": "lm", "source": "MLO"}

lz1 := [
	limit("neighbour.lumens_max", 0),
	limit("neighbour.lumens_shielded_max", 1260),
	limit("neighbour.lumens_unshielded_max", 315),
]

lz2 := [
	limit("neighbour.lumens_max", 525),
	limit("neighbour.lumens_shielded_max", 1260),
	limit("neighbour.lumens_unshielded_max", 315),
]

lz0 := [limit("neighbour.lumens_max", 0), limit("neighbour.lumens_unshielded_max", 0)]

shore := [{"name": "neighbour.mount_height_max_m", "value": 1.2, "unit": "m", "source": "city"}]

plan(fixture, limits) := {"units": "m", "fixtures": [object.union({"id": "P1"}, fixture)], "limits": limits}

test_too_much[words] if {
	some words, case in {
		"P1 gives 400 lm; the profile allows 315 lm for one that is not fully shielded": [{"emitted_lm": 400}, lz1],
		"P1 gives 600 lm; the profile allows 525 lm for each low-voltage fixture": [{"emitted_lm": 600, "shield": "shrouded"}, lz2],
		"P1 gives 1300 lm; the profile allows 1260 lm for a fully shielded fixture": [{"emitted_lm": 1300, "shield": "full-cutoff", "up_share": 0}, lz1],
		"P1 gives 400 lm; the profile allows 315 lm for one": [{"emitted_lm": 400, "shield": "full-cutoff", "up_share": 0.2}, lz1],
		"P1 gives 90 lm; the profile allows none without a full shield (0 lm)": [{"emitted_lm": 90}, lz0],
	}
	some hit in lumens.hits with input as plan(case[0], case[1])
	hit.case == "lumens"
	hit.unit == "lm"
	contains(hit.message, words)
}

test_too_high if {
	some hit in lumens.hits with input as plan({"height_m": 1.5}, shore)
	hit.case == "height"
	hit.field == ["height"]
	contains(hit.message, "P1 stands 1.50 m high; the profile allows 1.20 m")
}

test_silent[name] if {
	some name, case in {
		"weak": [{"emitted_lm": 315}, lz1],
		"shielded": [{"emitted_lm": 1260, "shield": "full-cutoff"}, lz1],
		"low": [{"height_m": 1.2}, shore],
		"lumens not known": [{}, lz0],
		"no profile": [{"emitted_lm": 9000, "height_m": 9}, []],
	}
	count(lumens.hits) == 0 with input as plan(case[0], case[1])
}
