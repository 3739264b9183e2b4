package rules.law.licensed_supply_test

import data.rules.law["licensed-supply"] as rule

cautions := [{"rule": "law.licensed-supply", "text": "Ask an electrician.", "source": "licensing law", "profile": "p"}]

test_stands[name] if {
	some name, supply in {
		"not stated": {},
		"unlicensed": {"installed_by": "unlicensed"},
		"existing": {"installed_by": "existing"},
	}
	some hit in rule.hits with input as {"cautions": cautions, "supply": supply}
	hit.element == "supply"
	hit.field == ["installed_by"]
	hit.message == "Ask an electrician."
	hit.source == "licensing law"
}

test_clears_when_licensed if {
	count(rule.hits) == 0 with input as {"cautions": cautions, "supply": {"installed_by": "licensed"}}
}

test_silent_without_caution if {
	count(rule.hits) == 0 with input as {"cautions": [], "supply": {}}
}
