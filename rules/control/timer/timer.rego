# METADATA
# title: Lights are not switched as they should be
# description: |
#   Lights on at noon and off at night are the everyday complaint: lamps that nothing
#   switches, a timer that does not know where it is, one made for indoors that stands in
#   the rain, a wall switch that stops its clock, lights that stay on after the hour from
#   which the stricter local limits hold.
# custom:
#   id: control.timer
#   severity: advice
#   basis: practice
#   source: common practice, no source
#   confidence: practice
#   needs:
#     - each: controls
#       where: {kind: [astronomical-timer]}
#       has: [location_set]
#   limits: [neighbour.curfew]
#   hint: Correct the control of {element}
#   since: 0.1.0
package rules.control.timer

import data.lib

# Lamps that nothing switches: once a plan has controls, or is to be built from.
hits contains lib.hit(section, [], {
	"case": "not switched",
	"message": sprintf("nothing switches %s: on day and night", [some_of(unswitched)]),
	"hint": "Give every lamp a control, or say so in a note",
}) if {
	controls_are_due
	count(unswitched) > 0
}

section := "controls" if {
	count(input.controls) > 0
} else := "fixtures"

controls_are_due if count(input.controls) > 0

controls_are_due if input.stage in {"issued", "as-built"}

switched := {id |
	some control in input.controls
	some id in control.switches
}

unswitched := sort({fixture.id | some fixture in input.fixtures; fixture.fed} - switched)

# An astronomical timer that does not know where it is.
hits contains lib.hit(control.id, ["location_set"], {
	"case": "place",
	"message": sprintf("the place is not set in astronomical timer %s, so its dusk and dawn are those of somewhere else", [control.id]),
	"hint": "Set the place in {element}",
}) if {
	some control in input.controls
	control.kind == "astronomical-timer"
	control.location_set == false
}

# Made for indoors, mounted outdoors.
hits contains lib.hit(control.id, ["rating"], {
	"case": "rating",
	"basis": "listing",
	"source": "rating of the control",
	"message": sprintf("control %s is made for indoors and stands outdoors: rain ends it", [control.id]),
	"hint": "Use a control that is made for outdoors, or mount {element} in the enclosure",
}) if {
	some control in input.controls
	control.rating == "indoor"
	control.location == "outdoor"
}

# A wall switch before the clock.
hits contains lib.hit(receptacle.id, ["switched"], {
	"case": "switched receptacle",
	"message": sprintf("receptacle %s can be switched off by hand, which stops the clock of what is plugged into it (%s)", [receptacle.id, lib.listed(receptacle.transformers)]),
	"hint": "Have {element} wired so that no switch cuts it off",
}) if {
	some receptacle in input.receptacles
	receptacle.switched
	count(receptacle.transformers) > 0
	some control in input.controls
	control.kind in clocks
}

clocks := {"timer", "astronomical-timer", "photocell-and-timer", "smart"}

# On after the local curfew, with nothing that dims or ends it.
hits contains lib.hit(control.id, ["off"], {
	"case": "curfew",
	"limit_name": "neighbour.curfew",
	"message": sprintf("control %s leaves its lights on until %s; from %s the stricter limits of the profile hold, and no scene turns them down", [control.id, control.off, curfew.text]),
	"hint": "End {element} earlier, or add a scene that turns the lights down from then on",
}) if {
	curfew := lib.limits_by_name["neighbour.curfew"]
	curfew.basis in {"code", "standard"}
	some control in input.controls
	later(control.off, curfew.text)
	not turned_down(control, curfew.text)
}

# turned_down is true when a scene of the control ends by the curfew.
turned_down(control, curfew) if {
	some scene in input.scenes
	scene.control == control.id
	scene.until
	not later(scene.until, curfew)
}

# later compares hours of one night: those after noon come before those of the morning.
later("dawn", _) := true

later(hour, curfew) if minutes(hour) > minutes(curfew)

minutes(hour) := (((to_number(parts[0]) * 60) + to_number(parts[1])) + 720) % 1440 if {
	parts := split(hour, ":")
	count(parts) == 2
}

# some_of names the first lamps and counts the rest.
some_of(ids) := lib.listed(ids) if {
	count(ids) <= 4
} else := sprintf("%s and %d more", [concat(", ", array.slice(ids, 0, 3)), count(ids) - 3])
