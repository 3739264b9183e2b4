# METADATA
# title: Light of a fixture is not known as it should be
# description: |
#   Every lux in a report rests on how much light a fixture gives and where it goes. A
#   photometric file that cannot be used, or that gives another amount of light than the
#   plan states, makes them all guesses; so does a fixture near a step or path that states
#   no lumens, height, distribution or aim.
# custom:
#   id: light.photometry
#   severity: advice
#   basis: practice
#   source: common practice, no source; the form of the files is that of IES LM-63
#   confidence: practice
#   needs:
#     - each: fixtures
#       where: {lights_site: ["true"]}
#       has: [x_m, height_m, light, emitted_lm, aim]
#   limits: [light.flux_mismatch]
#   hint: Ask the maker for the right file, and state the lumens that the fixture gives
#   since: 0.1.0
package rules.light.photometry

import data.lib

hits contains lib.hit(file.id, ["light"], {
	"case": "not usable",
	"message": sprintf("the light of type %s cannot be used: %s", [file.id, file.problem]),
	"hint": "Put the right file beside the plan, or choose a built-in shape",
}) if {
	some file in input.photometry
	file.problem
}

# The plan states another amount of light than the file.
hits contains lib.hit(file.id, ["lumens"], object.union(lib.against(mismatch, "light.flux_mismatch"), {
	"case": "lumens",
	"message": sprintf("type %s states %s, but the intensities of %s add up to %s%s: %s apart", [
		file.id, lib.lumens(file.stated_lm), file.file, lib.lumens(file.flux_lm), lamp(file), lib.percent(mismatch),
	]),
})) if {
	most := lib.most("light.flux_mismatch")
	some file in input.photometry
	file.flux_lm > 0
	mismatch := abs(file.stated_lm - file.flux_lm) / file.flux_lm
	mismatch > most
}

# A file in which more light leaves the fixture than its lamps give.
hits contains lib.hit(file.id, ["light"], object.union(lib.against(file.output_ratio - 1, "light.flux_mismatch"), {
	"case": "faulty",
	"message": sprintf("the intensities of %s, for type %s, add up to %s, but its lamps give %s: no fixture gives more than its lamps", [
		file.file, file.id, lib.lumens(file.flux_lm), lib.lumens(file.lamp_lm),
	]),
})) if {
	most := lib.most("light.flux_mismatch")
	some file in input.photometry
	file.output_ratio > 1 + most
}

# A plan may have taken the lumens of the bare lamp.
lamp(file) := sprintf(" (its bare lamp gives %s)", [lib.lumens(file.lamp_lm)]) if {
	file.lamp_lm
} else := ""
