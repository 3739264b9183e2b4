package rules.site.outdoor_rating_test

import data.rules.site["outdoor-rating"] as rule

limits := [
	{"name": "site.outdoor_ip_solid_min", "value": 3, "unit": "1", "source": "memory"},
	{"name": "site.outdoor_ip_water_min", "value": 3, "unit": "1", "source": "memory"},
]

plan(fixtures, limits_in_force) := {"units": "ft", "fixtures": fixtures, "limits": limits_in_force}

lamp(listing) := {"id": "P1", "type": "lamp", "listing": listing}

test_dry if {
	fixtures := [object.union(lamp(["dry-location"]), {"id": id}) | some id in ["P1", "P2", "P3", "P4", "P5"]]
	found := rule.hits with input as plan(fixtures, limits)
	count(found) == 1
	some hit in found
	hit.element == "lamp"
	hit.field == ["listing"]
	hit.case == "dry"
	not hit.severity
	contains(hit.message, "at P1, P2, P3, P4 and 1 more")
}

test_damp if {
	found := rule.hits with input as plan([lamp(["damp-location"])], limits)
	count(found) == 1
	some hit in found
	hit.case == "damp"
	hit.severity == "advice"
}

test_dry_and_damp_is_one_hit if {
	found := rule.hits with input as plan([lamp(["dry-location", "damp-location"])], limits)
	{hit.case | some hit in found} == {"dry"}
}

test_fit[listing] if {
	some listing in ["wet-location", "landscape-system", "near-pool", "underwater", "in-ground"]
	count(rule.hits) == 0 with input as plan([lamp([listing, "dry-location", "damp-location"])], limits)
}

test_silent[name] if {
	some name, fixture in {
		"nothing stated": lamp([]),
		"nothing about the weather": lamp(["tree-mounting"]),
		"damp under a deck": object.union(lamp(["damp-location"]), {"mount": "under-deck"}),
		"IP at the limit": object.union(lamp(["wet-location"]), {"ip_solid": 3, "ip_water": 3}),
	}
	count(rule.hits) == 0 with input as plan([fixture], limits)
}

test_ip[name] if {
	some name, want in {
		"water": {"ip": {"ip_solid": 6, "ip_water": 2}, "words": "IP numeral 2 against water; outdoors at least 3"},
		"solid": {"ip": {"ip_solid": 2, "ip_water": 4}, "words": "IP numeral 2 against dust and fingers"},
	}
	found := rule.hits with input as plan([object.union(lamp(["wet-location"]), want.ip)], limits)
	count(found) == 1
	some hit in found
	hit.case == name
	hit.severity == "advice"
	hit.field == ["ip"]
	contains(hit.message, want.words)
}

test_ip_without_limit if {
	count(rule.hits) == 0 with input as plan([object.union(lamp(["wet-location"]), {"ip_solid": 0, "ip_water": 0})], [])
}
