package rules.law.permit_test

import data.rules.law.permit

cautions := [{"rule": "law.permit", "text": "Ask first.", "source": "law", "profile": "p"}]

plan(permissions) := {"cautions": cautions, "permissions": permissions}

test_stands[name] if {
	some name, permissions in {
		"not stated": {},
		"not asked": {"permit_state": "not-asked"},
		"asked": {"permit_state": "asked"},
	}
	some hit in permit.hits with input as plan(permissions)
	hit.element == "permissions"
	hit.field == ["permit"]
	hit.message == "Ask first."
	hit.source == "law"
}

test_clears[state] if {
	some state in ["granted", "not-needed"]
	count(permit.hits) == 0 with input as plan({"permit_state": state})
}

test_silent_without_caution if {
	count(permit.hits) == 0 with input as {"cautions": [], "permissions": {}}
}
