package lib

# surveying is true of a plan in which the site is measured and no light is drawn
# yet: that it is dark there is why people came, and no mistake.
surveying if {
	input.stage == "survey"
	not drawn_light
}

drawn_light if {
	some fixture in input.fixtures
	fixture.height_m >= 0
}
