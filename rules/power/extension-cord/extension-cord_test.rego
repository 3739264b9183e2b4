package rules.power.extension_cord_test

import data.rules.power["extension-cord"] as rule

plan(unit, receptacle) := {"transformers": [object.union({"id": "T1"}, unit)], "receptacles": [object.union({"id": "RC1"}, receptacle)]}

test_transformer if {
	some hit in rule.hits with input as plan({"extension_cord": true}, {})
	hit.element == "T1"
	hit.field == ["extension_cord"]
}

test_receptacle if {
	some hit in rule.hits with input as plan({}, {"fed_by": "extension-cord"})
	hit.element == "RC1"
	hit.field == ["fed_by"]
}

test_silent if {
	count(rule.hits) == 0 with input as plan({"extension_cord": false}, {"fed_by": "wiring"})
	count(rule.hits) == 0 with input as plan({}, {})
}
