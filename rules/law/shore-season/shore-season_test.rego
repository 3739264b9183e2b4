package rules.law.shore_season_test

import data.rules.law["shore-season"] as rule

test_prints_the_profile_text if {
	some hit in rule.hits with input as {"cautions": [
		{"rule": "law.permit", "text": "Ask for a permit.", "source": "ordinance", "profile": "p"},
		{"rule": "law.shore-season", "text": "Ask for the season.", "source": "shore ordinances", "profile": "p"},
	]}
	hit.element == "plan"
	hit.message == "Ask for the season."
	hit.source == "shore ordinances"
}

test_silent_away_from_the_shore if {
	count(rule.hits) == 0 with input as {"cautions": []}
}
