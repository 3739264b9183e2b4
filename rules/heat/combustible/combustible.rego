# METADATA
# title: Hot lamp is near something that burns
# description: |
#   Halogen lamps under mulch or leaves have set gardens on fire; wood that is kept
#   hot chars for years before it burns. The label states the clearance. Where it
#   states none, a rule of the house stands in. LED fixtures are judged only when a
#   hot surface is stated.
# custom:
#   id: heat.combustible
#   severity: danger
#   basis: listing
#   source: the clearance on the fixture's label
#   confidence: confirmed
#   needs: []
#   limits: [heat.combustible_clearance_m, heat.hot_surface_c]
#   hint: Move {element} away or keep the ground round it bare, or use an LED fixture there
#   since: 0.1.0
package rules.heat.combustible

import data.lib

# Nearer than its label allows.
hits contains lib.hit(fixture.id, ["at"], object.union(limit_of(fixture), {
	"case": "near",
	"severity": severity(fixture),
	"value": fixture.nearest_combustible_m,
	"limit": clearance,
	"unit": "m",
	"message": sprintf("%s fixture %s is %s from %s; %s %s%s", [
		why(fixture), fixture.id, lib.length_apart(fixture.nearest_combustible_m, clearance),
		fixture.nearest_combustible, asker(fixture), lib.length_apart(clearance, fixture.nearest_combustible_m),
		cut_out(fixture),
	]),
})) if {
	some fixture in hot
	clearance := clearance_of(fixture)
	fixture.nearest_combustible_m < clearance
	fixture.nearest_combustible_m < clearance - lib.tolerances.m
}

# On something that burns, and nothing says that it may be.
hits contains lib.hit(fixture.id, ["host"], {
	"case": "on",
	"severity": mounted(fixture),
	"message": sprintf("%s fixture %s is mounted on %s, and nothing says that it is made for a surface that burns", [why(fixture), fixture.id, fixture.host_burns]),
}) if {
	some fixture in hot
	fixture.host_burns
	not "combustible-mounting" in fixture.listing
	not in_a_tree(fixture)
}

# Under a deck that burns, where leaves gather.
hits contains lib.hit(fixture.id, ["at"], {
	"case": "under a deck",
	"severity": "advice",
	"basis": "practice",
	"source": "common practice, no source",
	"message": sprintf("%s fixture %s stands under %s, where leaves gather and nobody looks: they and the boards can catch fire", [
		why(fixture), fixture.id, lib.called("deck", fixture.under_deck),
	]),
}) if {
	some fixture in hot
	fixture.under_deck_burns
	not nearer(fixture)
}

hot contains fixture if {
	some fixture in input.fixtures
	fixture.load == "filament"
}

hot contains fixture if {
	least := lib.least("heat.hot_surface_c")
	some fixture in input.fixtures
	fixture.surface_c > least
}

nearer(fixture) if fixture.nearest_combustible_m < clearance_of(fixture) - lib.tolerances.m

clearance_of(fixture) := fixture.combustible_m if {
	fixture.combustible_m >= 0
} else := lib.limit("heat.combustible_clearance_m")

# limit_of names the limit of the profile where the label states none.
limit_of(fixture) := {} if {
	fixture.combustible_m >= 0
} else := {"limit_name": "heat.combustible_clearance_m"}

asker(fixture) := "its label asks for" if {
	fixture.combustible_m >= 0
} else := "its label states no distance, and without one this check asks for"

# A cut-out ends it before it burns.
severity(fixture) := "advice" if {
	fixture.thermal_cut_out
} else := "danger"

cut_out(fixture) := ", though its cut-out ends it when it is covered" if {
	fixture.thermal_cut_out
} else := ", or it chars and burns"

# A label that asks for a distance rules the mounting out.
mounted(fixture) := "danger" if {
	fixture.combustible_m > lib.tolerances.m
} else := "advice"

# A lamp in a tree hangs clear of the bark; that is another rule.
in_a_tree(fixture) if fixture.mount == "tree"

why(fixture) := "filament" if {
	fixture.load == "filament"
} else := "hot"
