package rules.power.dimmer_test

import data.rules.power.dimmer

control := {"id": "C1", "kind": "dimmer", "dim_method": "trailing-edge", "dim_matched": true, "switches": ["L1", "L2"]}

lamp(id, dimmable) := {"id": id, "type": "spot", "transformer": "T1", "dimmable": dimmable}

plan(change, dimmable, unit) := {
	"controls": [object.union(control, change)],
	"fixtures": [lamp("L1", dimmable), lamp("L2", dimmable), lamp("L3", false)],
	"transformers": [object.union({"id": "T1"}, unit), {"id": "T2", "dimmable": false}],
}

test_not_matched if {
	some hit in dimmer.hits with input as plan({"dim_matched": false}, true, {})
	hit.element == "C1"
	hit.case == "matched"
	hit.field == ["dimmer", "matched"]
}

test_lamps_that_do_not_dim[name] if {
	some name, change in {"by its method": {"kind": "timer"}, "by its kind": {"dim_method": "pwm"}}
	some hit in dimmer.hits with input as plan(change, false, {})
	hit.case == "type spot"
	contains(hit.message, "(L1 and L2)")
}

test_a_plain_dimmer if {
	bare := {"controls": [object.remove(control, ["dim_method", "dim_matched"])], "fixtures": [lamp("L1", false)], "transformers": []}
	count(dimmer.hits) == 1 with input as bare
}

test_a_transformer_that_does_not_dim if {
	some hit in dimmer.hits with input as plan({}, true, {"dimmable": false})
	hit.case == "transformer T1"
	count(dimmer.hits) == 1 with input as plan({}, true, {"dimmable": false})
}

test_silent[name] if {
	some name, facts in {
		"all matched": plan({}, true, {"dimmable": true}),
		"dimmed behind the transformer": plan({"dim_method": "digital"}, true, {"dimmable": false}),
		"no dimmer": {"controls": [{"id": "C1", "kind": "timer", "switches": ["L1"]}], "fixtures": [lamp("L1", false)], "transformers": [{"id": "T1", "dimmable": false}]},
	}
	count(dimmer.hits) == 0 with input as facts
}
