package rules.law.local_code_test

import data.rules.law["local-code"] as rule

test_prints_the_profile_text if {
	some hit in rule.hits with input as {"cautions": [
		{"rule": "law.permit", "text": "Ask for a permit.", "source": "ordinance", "profile": "p"},
		{"rule": "law.local-code", "text": "Local codes come first.", "source": "code", "profile": "p"},
	]}
	hit.element == "plan"
	hit.message == "Local codes come first."
	hit.source == "code"
}

test_silent_without_caution if {
	count(rule.hits) == 0 with input as {"cautions": []}
}
