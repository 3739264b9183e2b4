package rules.light.spill_test

import data.rules.light.spill

limits := [
	{"name": "light.beam_on_tree_min", "value": 0.25, "unit": "1", "source": "house"},
	{"name": "light.spill_max", "value": 0.6, "unit": "1", "source": "house"},
]

beam := {"id": "U1", "tree": "thorn", "on_tree": 0.3, "past_tree": 0.66}

plan(change, limits_in_force) := {"beams": [object.union(beam, change)], "limits": limits_in_force}

test_spills if {
	some hit in spill.hits with input as plan({}, limits)
	hit.element == "U1"
	hit.field == ["aim"]
	hit.case == "thorn"
	hit.value == 0.66
	contains(hit.message, "66.0 % of the light of U1 goes past tree thorn into the sky, more than 60.0 %")
}

test_silent[name] if {
	some name, facts in {
		"at the limit": plan({"past_tree": 0.6}, limits),
		"misses, which is said already": plan({"on_tree": 0.1}, limits),
		"no limit": plan({}, []),
		"no crown": {"beams": [object.remove(beam, ["on_tree", "past_tree"])], "limits": limits},
	}
	count(spill.hits) == 0 with input as facts
}
