package rules.wire.fault_not_cleared_test

import data.rules.wire["fault-not-cleared"] as rule

# 300 VA at 12 V and 4 %, 100 ft of 12 AWG: about 28.9 A into a bolted short, worked out with the
# 75 C stranded values of NEC chapter 9, table 8.
fault := {
	"id": "R1", "at": "L9", "device_amps": 25, "device_kind": "breaker", "device_where": "common", "needed_amps": 33.75,
	"least_amps": 28.9, "most_amps": 625, "clears": false,
	"supply_reacts": false, "protection": "own",
}

heated := object.union(fault, {"heated_leg": "w3", "heated_amps": 28.9, "heated_ampacity_a": 20, "heated_allowed_a": 20})

test_cable_overheats if {
	some hit in rule.hits with input as {"faults": [heated]}
	hit.element == "R1"
	hit.field == ["from"]
	not hit.severity
	hit.value == 28.9
	hit.limit == 20
	contains(hit.message, "can load leg w3 with as much as 28.9 A for hours")
	contains(hit.message, "its 25.0 A breaker opens only above 33.8 A")
}

# The longest that IEC 60364-4-43, 433.1, allows a cable of 20 A to carry is 29 A.
test_more_than_the_standard_allows if {
	slow := object.union(heated, {"device_amps": 20, "needed_amps": 40, "heated_amps": 31, "heated_allowed_a": 29})
	some hit in rule.hits with input as {"faults": [slow]}
	hit.limit == 29
	contains(hit.message, "may carry 29.0 A (its 20.0 A, and somewhat more until")
}

test_device_elsewhere[where] if {
	some where, words in {"tap": "its 25.0 A breaker on the tap opens", "primary": "its 25.0 A breaker on the primary opens"}
	some hit in rule.hits with input as {"faults": [object.union(heated, {"device_where": where})]}
	contains(hit.message, words)
}

test_cable_bears_it[kind] if {
	some kind, words in {"breaker": "breaker", "fuse": "fuse", "electronic": "electronic limit"}
	some hit in rule.hits with input as {"faults": [object.union(fault, {"device_kind": kind})]}
	hit.severity == "advice"
	hit.limit == 33.75
	contains(hit.message, sprintf("25.0 A %s of run R1", [words]))
}

test_one_hit_for_each_run if {
	count(rule.hits) == 1 with input as {"faults": [heated]}
}

test_silent[name] if {
	some name, facts in {
		"clears": {"faults": [object.union(fault, {"least_amps": 60, "clears": true})]},
		"the supply reacts": {"faults": [object.union(fault, {"supply_reacts": true})]},
		"no device": {"faults": [object.remove(fault, ["device_amps", "needed_amps"])]},
		"no faults": {"faults": []},
	}
	count(rule.hits) == 0 with input as facts
}
