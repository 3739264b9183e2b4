package rules.law.association_test

import data.rules.law.association

cautions := [{"rule": "law.association", "text": "Ask first.", "source": "law", "profile": "p"}]

plan(permissions) := {"cautions": cautions, "permissions": permissions}

test_stands[name] if {
	some name, permissions in {
		"not stated": {},
		"not asked": {"association_state": "not-asked"},
		"asked": {"association_state": "asked"},
	}
	some hit in association.hits with input as plan(permissions)
	hit.element == "permissions"
	hit.field == ["association"]
	hit.message == "Ask first."
	hit.source == "law"
}

test_clears[state] if {
	some state in ["granted", "not-needed"]
	count(association.hits) == 0 with input as plan({"association_state": state})
}

test_silent_without_caution if {
	count(association.hits) == 0 with input as {"cautions": [], "permissions": {}}
}
