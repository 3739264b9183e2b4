package rules.power.isolation_test

import data.rules.power.isolation as rule

# NFPA 70 (2020), 411.6(B); IEC 60364-7-715, 715.414.
limits := [{"name": "power.isolation_required", "flag": true, "unit": "", "source": "411.6(B)"}]

plan(stage, listing, limits_in_force) := {"stage": stage, "transformers": [{"id": "T1", "listing": listing}], "limits": limits_in_force}

test_listed_without_isolation if {
	some hit in rule.hits with input as plan("design", ["outdoor", "indoor"], limits)
	hit.element == "T1"
	hit.field == ["type"]
	startswith(hit.message, "none of its listings (outdoor, indoor) says that transformer T1 isolates")
}

test_listings_that_isolate[listing] if {
	some listing in ["isolating", "selv", "class-2", "landscape-system", "pool-spa"]
	count(rule.hits) == 0 with input as plan("issued", ["outdoor", listing], limits)
}

test_no_listing_counts_from_issue[stage] if {
	some stage, hits in {"survey": 0, "design": 0, "issued": 1, "as-built": 1}
	count(rule.hits) == hits with input as plan(stage, [], limits)
}

test_no_listing_is_said_so if {
	some hit in rule.hits with input as plan("issued", [], limits)
	startswith(hit.message, "no listing in the plan says that transformer T1 isolates")
}

test_silent_without_limit if {
	count(rule.hits) == 0 with input as plan("issued", ["outdoor"], [])
}
