# METADATA
# title: Fixture is fixed to a tree so that it cannot grow
# description: |
#   A trunk grows outward. A plate, a nail or a strap is grown over within years,
#   wounds the tree and takes fixture and cable with it. Stand-off bolts that are
#   backed out each season, cable held clear of the bark, and spare cable left on
#   the trunk let it grow. At the foot of the trunk a string trimmer reaches bare
#   cable.
# custom:
#   id: site.tree-mount
#   severity: advice
#   basis: practice
#   source: common practice, no source
#   confidence: practice
#   needs:
#     - each: fixtures
#       where: {mount: [tree]}
#       has: [tree_fixing, tree_growth_m]
#   limits: [site.tree_growth_min_m]
#   hint: Hang {element} on stand-off bolts, leave spare cable on the trunk and sleeve the cable at its foot
#   since: 0.1.0
package rules.site["tree-mount"]

import data.lib

hits contains lib.hit(fixture.id, ["tree_mount", "fixing"], {
	"case": "fixing",
	"message": sprintf("fixture %s is held on %s by a %s: %s", [fixture.id, host(fixture), fixture.tree_fixing, harm[fixture.tree_fixing]]),
}) if {
	some fixture in hung
	harm[fixture.tree_fixing]
}

hits contains lib.hit(fixture.id, ["tree_mount", "cable_fixing"], {
	"case": "cable",
	"message": sprintf("the cable of fixture %s is stapled to %s: the bark grows over staples and bites into the jacket", [fixture.id, host(fixture)]),
}) if {
	some fixture in hung
	fixture.tree_cable_fixing == "staple"
}

hits contains lib.hit(fixture.id, ["tree_mount", "growth_slack"], object.union(lib.against(fixture.tree_growth_m, "site.tree_growth_min_m"), {
	"case": "growth",
	"message": sprintf("fixture %s has %s of spare cable on %s: less than %s pulls tight as the trunk grows", [
		fixture.id, lib.length_apart(fixture.tree_growth_m, least), host(fixture),
		lib.length_apart(least, fixture.tree_growth_m),
	]),
})) if {
	least := lib.limit("site.tree_growth_min_m")
	some fixture in hung
	fixture.tree_growth_m < least - lib.tolerances.m
}

hits contains lib.hit(fixture.id, ["tree_mount", "protected"], {
	"case": "foot",
	"message": sprintf("the cable of fixture %s runs down %s unprotected: a string trimmer cuts it at the foot of the trunk", [fixture.id, host(fixture)]),
}) if {
	some fixture in hung
	fixture.tree_protected == false
}

hung contains fixture if {
	some fixture in input.fixtures
	fixture.mount == "tree"
}

harm := {
	"nail": "nails wound the tree and pull out or grow in",
	"plate": "a plate flat on the bark is grown over, and the light turns with it",
	"strap": "a strap strangles the trunk as it grows",
}

host(fixture) := fixture.host if {
	fixture.host
} else := "its tree"
