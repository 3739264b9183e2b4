package rules.control.timer_test

import data.rules.control.timer

lamp(id) := {"id": id, "fed": true}

control := {"id": "C1", "kind": "photocell-and-timer", "switches": ["P1", "P2"], "off": "23:00"}

curfew(basis) := {"name": "neighbour.curfew", "text": "23:00", "unit": "", "basis": basis, "source": "town code"}

plan(change) := object.union(
	{"stage": "design", "controls": [control], "fixtures": [lamp("P1"), lamp("P2")], "receptacles": [], "scenes": [], "limits": []},
	change,
)

found(facts) := {hit.case: hit | some hit in hits} if {
	hits := timer.hits with input as facts
}

test_all_switched if {
	count(found(plan({}))) == 0
}

test_some_not_switched if {
	hits := found(plan({"fixtures": [lamp("P1"), lamp("P3"), {"id": "P9", "fed": false}]}))
	hits["not switched"].element == "controls"
	contains(hits["not switched"].message, "nothing switches P3:")
}

test_many_not_switched if {
	hits := found(plan({"fixtures": [lamp(sprintf("Q%d", [n])) | some n in numbers.range(1, 9)]}))
	contains(hits["not switched"].message, "Q1, Q2, Q3 and 6 more")
}

test_no_controls_while_drawing if {
	count(found(plan({"controls": []}))) == 0
}

test_no_controls_when_issued[stage] if {
	some stage in ["issued", "as-built"]
	hits := found(plan({"controls": [], "stage": stage}))
	hits["not switched"].element == "fixtures"
}

test_place if {
	hits := found(plan({"controls": [object.union(control, {"kind": "astronomical-timer", "location_set": false})]}))
	hits.place.field == ["location_set"]
	count(found(plan({"controls": [object.union(control, {"kind": "astronomical-timer", "location_set": true})]}))) == 0
	count(found(plan({"controls": [object.union(control, {"kind": "astronomical-timer"})]}))) == 0
}

test_rating if {
	hits := found(plan({"controls": [object.union(control, {"rating": "indoor", "location": "outdoor"})]}))
	hits.rating.element == "C1"
	count(found(plan({"controls": [object.union(control, {"rating": "indoor", "location": "in-enclosure"})]}))) == 0
}

test_switched_receptacle if {
	receptacle := {"id": "RC1", "switched": true, "transformers": ["T1"]}
	hits := found(plan({"receptacles": [receptacle]}))
	hits["switched receptacle"].element == "RC1"
	count(found(plan({"receptacles": [object.union(receptacle, {"switched": false})]}))) == 0
	count(found(plan({"receptacles": [object.union(receptacle, {"transformers": []})]}))) == 0
	count(found(plan({"receptacles": [receptacle], "controls": [object.union(control, {"kind": "photocell"})]}))) == 0
}

test_curfew[name] if {
	some name, off in {"later": "23:30", "after midnight": "00:15", "all night": "dawn"}
	hits := found(plan({"limits": [curfew("code")], "controls": [object.union(control, {"off": off})]}))
	hits.curfew.element == "C1"
	hits.curfew.limit_name == "neighbour.curfew"
	contains(hits.curfew.message, off)
}

test_curfew_is_kept[name] if {
	some name, change in {
		"to the minute": {},
		"earlier": {"controls": [object.union(control, {"off": "22:00"})]},
		"turned down": {"controls": [object.union(control, {"off": "dawn"})], "scenes": [{"id": "evening", "control": "C1", "until": "23:00"}]},
		"only a custom": {"controls": [object.union(control, {"off": "dawn"})], "limits": [curfew("practice")]},
		"no limit": {"controls": [object.union(control, {"off": "dawn"})], "limits": []},
	}
	count(found(plan(object.union({"limits": [curfew("code")]}, change)))) == 0
}

test_a_scene_that_ends_too_late if {
	hits := found(plan({
		"limits": [curfew("standard")],
		"controls": [object.union(control, {"off": "dawn"})],
		"scenes": [{"id": "evening", "control": "C1", "until": "01:00"}, {"id": "other", "control": "C2", "until": "22:00"}, {"id": "open", "control": "C1"}],
	}))
	hits.curfew
}
