package rules.power.relamp_test

import data.rules.power.relamp

plan(largest_lamp_va, load_va) := {"transformers": [{"id": "T1", "rating_va": 600, "load_va": load_va, "largest_lamp_va": largest_lamp_va}]}

# Ten lamps of 20 W changed for 50 W made 800 W of 500 W on a unit of 600 W, as one contractor tells.
test_larger_lamps if {
	some hit in relamp.hits with input as plan(800, 500)
	hit.element == "T1"
	hit.value == 800
	hit.limit == 600
	contains(hit.message, "800 VA")
}

test_silent[name] if {
	some name, facts in {
		"room enough": plan(600, 500),
		"overloaded already": plan(800, 610),
		"not stated": {"transformers": [{"id": "T1", "rating_va": 600, "load_va": 500}]},
	}
	count(relamp.hits) == 0 with input as facts
}
