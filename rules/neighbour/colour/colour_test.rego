package rules.neighbour.colour_test

import data.rules.neighbour.colour

town := [{"name": "neighbour.cct_max_k", "value": 3000, "unit": "K", "source": "town code"}]

shore := [
	{"name": "neighbour.peak_nm_min", "value": 560, "unit": "nm", "source": "FWC"},
	{"name": "neighbour.shortest_nm_min", "value": 560, "unit": "nm", "source": "FWC"},
	{"name": "neighbour.phosphor_allowed", "flag": false, "unit": "1", "source": "FWC"},
	{"name": "neighbour.tunable_allowed", "flag": false, "unit": "1", "source": "FWC"},
]

white(cct) := {"id": "L1", "type": "lamp", "colour": "white", "cct_k": cct}

amber := {"id": "A1", "type": "amber", "colour": "coloured", "peak_nm": 590, "shortest_nm": 565}

plan(fixtures, limits) := {"fixtures": fixtures, "limits": limits}

test_words[words] if {
	some words, case in {
		"type lamp (L1): its light has 4000 K, the profile allows 3000 K": [white(4000), town, "colour temperature"],
		"its light is strongest at 540 nm, the profile asks for 560 nm or more": [object.union(amber, {"peak_nm": 540}), shore, "peak"],
		"it gives light down to 500 nm, the profile allows none below 560 nm": [object.union(amber, {"shortest_nm": 500}), shore, "shortest"],
		"type lamp (L1): white light has blue in it, the profile allows none below 560 nm": [white(2200), shore, "shortest"],
		"nobody can say that there is none below 560 nm": [object.remove(amber, ["shortest_nm"]), shore, "shortest"],
		"a phosphor makes its colour": [object.union(amber, {"phosphor_converted": true}), shore, "phosphor"],
		"its colour can be changed in use": [object.union(amber, {"tunable": true}), shore, "tunable"],
	}
	some hit in colour.hits with input as plan([case[0]], case[1])
	hit.element == case[0].type
	hit.field == ["colour"]
	hit.case == case[2]
	contains(hit.message, words)
}

test_one_finding_for_a_type if {
	lamps := [object.union(white(4000), {"id": id}) | some id in ["L1", "L2", "L3", "L4"]]
	found := colour.hits with input as plan(lamps, town)
	count(found) == 1
	some hit in found
	contains(hit.message, "type lamp (L1, L2 and 2 more)")
	hit.value == 4000
}

test_silent[name] if {
	some name, case in {
		"warm": [white(3000), town],
		"amber in a town": [amber, town],
		"amber on a shore": [object.union(amber, {"tunable": false, "phosphor_converted": false}), shore],
		"colour not stated": [{"id": "L1", "type": "lamp"}, shore],
		"no profile": [white(6500), []],
	}
	count(colour.hits) == 0 with input as plan([case[0]], case[1])
}
