# METADATA
# title: Fixture is not made for the weather
# description: |
#   A fixture that is listed for dry places fills with water outdoors, corrodes
#   and trips its supply; one for damp places needs a roof. Where a code asks for
#   an IP code outdoors, both of its numerals are held against it.
# custom:
#   id: site.outdoor-rating
#   severity: defect
#   basis: listing
#   source: the fixture's listing and IP code
#   confidence: confirmed
#   needs: []
#   limits: [site.outdoor_ip_solid_min, site.outdoor_ip_water_min]
#   hint: Use a fixture that is listed for wet locations in place of {element}
#   since: 0.1.0
package rules.site["outdoor-rating"]

import data.lib

hits contains lib.hit(type, ["listing"], {
	"case": "dry",
	"message": sprintf("fixture type %s, at %s, is listed for dry places only: rain fills it, and it corrodes and shorts", [type, lib.few(ids)]),
}) if {
	some type, ids in dry
}

hits contains lib.hit(type, ["listing"], {
	"case": "damp",
	"severity": "advice",
	"message": sprintf("fixture type %s, at %s, is listed for damp places: it needs a roof over it", [type, lib.few(ids)]),
}) if {
	some type, ids in damp
}

hits contains lib.hit(type, ["ip"], {
	"case": against[name].case,
	"severity": "advice",
	"limit_name": name,
	"message": sprintf("fixture type %s, at %s, has IP numeral %d against %s; outdoors at least %d is asked for", [
		type, lib.few(ids), numeral, against[name].words, lib.limit(name),
	]),
}) if {
	some [type, name, numeral], ids in weak
}

# marked are the fixtures that are not listed for the open; most plans have none.
marked := [fixture |
	some fixture in input.fixtures
	some listing in fixture.listing
	listing in {"dry-location", "damp-location"}
]

dry[fixture.type] contains fixture.id if {
	some fixture in marked
	"dry-location" in fixture.listing
	bare(fixture)
}

damp[fixture.type] contains fixture.id if {
	some fixture in marked
	not "dry-location" in fixture.listing
	not sheltered(fixture)
	bare(fixture)
}

weak[[fixture.type, "site.outdoor_ip_solid_min", fixture.ip_solid]] contains fixture.id if {
	least := lib.least("site.outdoor_ip_solid_min")
	some fixture in input.fixtures
	fixture.ip_solid < least
}

weak[[fixture.type, "site.outdoor_ip_water_min", fixture.ip_water]] contains fixture.id if {
	least := lib.least("site.outdoor_ip_water_min")
	some fixture in input.fixtures
	fixture.ip_water < least
}

against := {
	"site.outdoor_ip_solid_min": {"case": "solid", "words": "dust and fingers"},
	"site.outdoor_ip_water_min": {"case": "water", "words": "water"},
}

# bare is true of a fixture that no listing makes fit for the weather.
bare(fixture) if every listing in fixture.listing { not listing in weatherproof }

weatherproof := {"wet-location", "landscape-system", "near-pool", "underwater", "in-ground"}

sheltered(fixture) if fixture.mount == "under-deck"
