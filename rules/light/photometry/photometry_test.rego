package rules.light.photometry_test

import data.rules.light.photometry

limits := [{"name": "light.flux_mismatch", "value": 0.1, "unit": "1", "source": "house"}]

file := {"id": "spot", "file": "spot.ies", "flux_lm": 200, "stated_lm": 200, "lamp_lm": 260, "output_ratio": 0.77}

plan(file_in_force, limits_in_force) := {"photometry": [file_in_force], "limits": limits_in_force}

test_not_usable if {
	some hit in photometry.hits with input as plan({"id": "spot", "file": "spot.ies", "problem": "line 7, column 1: 3 numbers are missing"}, limits)
	hit.element == "spot"
	hit.field == ["light"]
	hit.case == "not usable"
	contains(hit.message, "type spot cannot be used: line 7, column 1")
}

test_other_lumens[words] if {
	some words, change in {
		"type spot states 260 lm, but the intensities of spot.ies add up to 200 lm (its bare lamp gives 260 lm): 30.0 % apart": {"stated_lm": 260},
		"type spot states 178 lm": {"stated_lm": 178},
	}
	some hit in photometry.hits with input as plan(object.union(file, change), limits)
	hit.case == "lumens"
	hit.field == ["lumens"]
	contains(hit.message, words)
}

test_other_lumens_absolute if {
	some hit in photometry.hits with input as plan({"id": "spot", "file": "spot.ies", "flux_lm": 200, "stated_lm": 260}, limits)
	contains(hit.message, "add up to 200 lm: 30.0 % apart")
}

test_faulty if {
	some hit in photometry.hits with input as plan(object.union(object.remove(file, ["stated_lm"]), {"lamp_lm": 160, "output_ratio": 1.25}), limits)
	hit.case == "faulty"
	hit.value == 0.25
	contains(hit.message, "no fixture gives more than its lamps")
}

test_silent[name] if {
	some name, case in {
		"as stated": [file, limits],
		"within the limit": [object.union(file, {"stated_lm": 220}), limits],
		"nothing stated": [object.remove(file, ["stated_lm"]), limits],
		"hardly more than its lamps": [object.union(file, {"output_ratio": 1.05}), limits],
		"no limit": [object.union(file, {"stated_lm": 900, "output_ratio": 3}), []],
	}
	count(photometry.hits) == 0 with input as plan(case[0], case[1])
}
