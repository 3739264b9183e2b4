package rules.law.locate_test

import data.rules.law.locate

whole := {"locate_ticket": "invented-0417", "locate_expires": "2026-06-01"}

plan(permissions) := {
	"today": "2026-06-01",
	"permissions": permissions,
	"cautions": [{"rule": "law.locate", "text": "Have lines located.", "source": "dig law", "profile": "p"}],
}

test_nothing_stated if {
	some hit in locate.hits with input as plan({})
	hit.element == "permissions"
	hit.field == ["locate"]
	hit.source == "dig law"
	hit.message == "Have lines located. The plan gives no locate ticket."
}

test_stands[message] if {
	some message, permissions in {
		"Have lines located. The plan does not say how long ticket invented-0417 holds.": object.remove(whole, ["locate_expires"]),
		"Have lines located. Ticket invented-0417 held until 2026-05-31.": object.union(whole, {"locate_expires": "2026-05-31"}),
	}
	some hit in locate.hits with input as plan(permissions)
	hit.message == message
}

test_clears_on_its_last_day if {
	count(locate.hits) == 0 with input as plan(whole)
}

# Private lines are another rule's.
test_clears_whatever_becomes_of_private_lines if {
	count(locate.hits) == 0 with input as plan(object.union(whole, {"private_lines_mapped": false}))
}

test_silent_without_caution if {
	count(locate.hits) == 0 with input as object.union(plan({}), {"cautions": []})
}
