package rules.site.off_land_test

import data.rules.site["off-land"] as rule

plan(standings, crossings) := {"units": "ft", "standings": standings, "crossings": crossings}

test_fixture if {
	standing := {"id": "P1", "zone": "property-line", "zone_kind": "off-land", "into_m": 0.9144, "flush": false}
	found := rule.hits with input as plan([standing], [])
	count(found) == 1
	some hit in found
	hit.element == "P1"
	hit.field == ["at"]
	hit.value == 0.9144
	contains(hit.message, "3 ft beyond the property line")
}

test_cable if {
	crossing := {"id": "w1", "what": "property-line", "kind": "off-land", "station_m": 3.048, "length_m": 6.096, "crosses": true}
	found := rule.hits with input as plan([], [crossing])
	count(found) == 1
	some hit in found
	hit.element == "w1"
	hit.field == ["route"]
	hit.value == 6.096
	contains(hit.message, "for 20 ft, from 10 ft along it")
}

test_other_zones_and_crossings if {
	standing := {"id": "P1", "zone": "drive", "zone_kind": "drive", "into_m": 0.9144, "flush": false}
	crossing := {"id": "w1", "what": "gas", "kind": "service", "station_m": 3, "length_m": 0, "crosses": true}
	count(rule.hits) == 0 with input as plan([standing], [crossing])
}
