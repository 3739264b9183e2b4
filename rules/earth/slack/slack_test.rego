package rules.earth.slack_test

import data.rules.earth.slack

limits := [{"name": "earth.fixture_slack_m", "value": 0.6096, "unit": "m", "source": "practice"}]

plan(fixtures, limits_in_force) := {
	"units": "ft",
	"fixtures": fixtures,
	"joints": [{"id": f.id, "is_fixture": true, "buried": true} | some f in fixtures],
	"limits": limits_in_force,
}

lamp(id, slack_m) := {"id": id, "run": "R1", "placed": true, "slack_m": slack_m}

test_none_is_one_hit_for_a_run if {
	fixtures := [lamp(id, 0) | some id in ["P1", "P2", "P3", "P4", "P5", "P6"]]
	found := slack.hits with input as plan(fixtures, limits)
	count(found) == 1
	some hit in found
	hit.element == "R1"
	hit.case == "none"
	hit.limit_name == "earth.fixture_slack_m"
	contains(hit.message, "at P1, P2, P3, P4 and 2 more: without 2 ft")
}

test_little if {
	found := slack.hits with input as plan([lamp("P1", 0.3048)], limits)
	count(found) == 1
	some hit in found
	hit.element == "P1"
	hit.field == ["slack"]
	hit.case == "little"
	hit.value == 0.3048
	contains(hit.message, "12 in of spare cable")
}

test_from_both_sides if {
	count(slack.hits) == 1 with input as plan([lamp("P1", 0.609)], limits)
	count(slack.hits) == 0 with input as plan([lamp("P1", 0.6092)], limits)
	count(slack.hits) == 0 with input as plan([lamp("P1", 0.6096)], limits)
}

test_lead_counts if {
	count(slack.hits) == 0 with input as plan([object.union(lamp("P1", 0), {"lead_m": 0.9144})], limits)
	some hit in slack.hits with input as plan([object.union(lamp("P1", 0), {"lead_m": 0.3048})], limits)
	hit.case == "little"
}

test_silent[name] if {
	some name, facts in {
		"no limit": plan([lamp("P1", 0)], []),
		"not drawn": plan([object.union(lamp("P1", 0), {"placed": false})], limits),
		"not in the ground": object.union(plan([lamp("P1", 0)], limits), {"joints": [{"id": "P1", "is_fixture": true, "buried": false}]}),
		"a node": object.union(plan([lamp("P1", 0)], limits), {"joints": [{"id": "tee", "is_fixture": false, "buried": true}]}),
	}
	count(slack.hits) == 0 with input as facts
}
