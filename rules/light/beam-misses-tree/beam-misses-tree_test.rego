package rules.light.beam_misses_tree_test

import data.rules.light["beam-misses-tree"] as rule

limits := [{"name": "light.beam_on_tree_min", "value": 0.25, "unit": "1", "source": "house"}]

beam := {
	"id": "U1", "tree": "thorn", "stated": true, "on_tree": 0.12, "past_tree": 0.7, "blocked": 0,
	"best_bearing_deg": 91, "best_tilt_deg": 128, "best_on_tree": 0.14,
}

plan(change, limits_in_force) := {"beams": [object.union(beam, change)], "limits": limits_in_force}

test_misses[words] if {
	some words, change in {
		"only 12.0 % of the light of U1 lands on tree thorn; less than 25.0 %": {},
		"thorn (aimed at bearing 91° and tipped 128° from straight down, 61.0 % would);": {"best_on_tree": 0.61},
		"thorn, since something in the way stops 80.0 %;": {"blocked": 0.8},
		"only 24.9 %": {"on_tree": 0.249},
	}
	some hit in rule.hits with input as plan(change, limits)
	hit.element == "U1"
	hit.field == ["aim"]
	hit.case == "thorn"
	hit.limit == 0.25
	contains(hit.message, words)
}

test_silent[name] if {
	some name, facts in {
		"hits it": plan({"on_tree": 0.25}, limits),
		"no limit": plan({}, []),
		"no crown": {"beams": [object.remove(beam, ["on_tree"])], "limits": limits},
	}
	count(rule.hits) == 0 with input as facts
}
