package rules.law.private_lines_test

import data.rules.law["private-lines"] as rule

cautions := [{"rule": "law.private-lines", "text": "Find them yourself.", "source": "law", "profile": "p"}]

test_stands[name] if {
	some name, permissions in {"not stated": {}, "not mapped": {"private_lines_mapped": false}}
	some hit in rule.hits with input as {"cautions": cautions, "permissions": permissions}
	hit.element == "permissions"
	hit.message == "Find them yourself."
	hit.source == "law"
}

test_clears_when_mapped if {
	count(rule.hits) == 0 with input as {"cautions": cautions, "permissions": {"private_lines_mapped": true}}
}

test_silent_without_caution if {
	count(rule.hits) == 0 with input as {"cautions": [], "permissions": {}}
}
