package rules.power.common_limit_test

import data.rules.power["common-limit"] as rule

# Values: NFPA 70 (2020), article 411 (25 A); UL 1838 (300 VA); common practice (80 %).
limits := [
	{"name": "power.common_advice", "value": 0.8, "unit": "1", "source": "practice"},
	{"name": "power.common_max_a", "value": 25, "unit": "A", "source": "411"},
	{"name": "power.common_max_va", "value": 300, "unit": "VA", "source": "UL 1838"},
]

unit := {"id": "T1", "listing": ["outdoor"]}

landscape := {"id": "T1", "listing": ["landscape-system"]}

common(amps) := {
	"id": "T1/1", "transformer": "T1", "amps": amps, "va": amps * 11, "corner": "low supply, hot cable", "va_corner": "nominal supply",
	"protection": "own", "device_amps": 25, "runs": ["R1", "R2"],
}

plan(output, transformer, limits_in_force) := {"commons": [output], "transformers": [transformer], "limits": limits_in_force}

cases(found) := {hit.case | some hit in found}

test_amps if {
	found := rule.hits with input as plan(common(26.1), unit, limits)
	cases(found) == {"amps"}
	some hit in found
	hit.element == "T1/1"
	not hit.severity
	hit.limit_name == "power.common_max_a"
	contains(hit.message, "26.1 A of runs R1 and R2 (low supply, hot cable)")
	contains(hit.message, "may carry 25.0 A")
}

test_amps_from_below if {
	found := rule.hits with input as plan(common(25), unit, limits)
	cases(found) == {"share"}
}

test_share[name] if {
	some name, case in {
		"of the limit": {"common": common(20.2), "words": "of the 25.0 A of its device"},
		"of a small device": {"common": object.union(common(8.1), {"device_amps": 10}), "words": "of the 10.0 A of its device"},
		"of the limit below a large device": {"common": object.union(common(20.2), {"device_amps": 30}), "words": "of the 25.0 A of its limit"},
	}
	found := rule.hits with input as plan(case.common, unit, limits)
	some hit in found
	hit.case == "share"
	hit.severity == "advice"
	hit.limit_name == "power.common_advice"
	contains(hit.message, case.words)
	contains(hit.message, "(low supply, hot cable)")
}

test_share_of_a_device_where_no_limit_holds if {
	found := rule.hits with input as plan(common(24), unit, [limits[0]])
	cases(found) == {"share"}
}

test_room_enough if {
	count(rule.hits) == 0 with input as plan(common(20), unit, limits)
	count(rule.hits) == 0 with input as plan(common(8), unit, limits)
}

test_no_device if {
	bare := object.remove(object.union(common(5), {"protection": "none", "runs": ["R1"]}), ["device_amps"])
	found := rule.hits with input as plan(bare, unit, limits)
	cases(found) == {"no device"}
	some hit in found
	hit.basis == "listing"
	not hit.severity
	contains(hit.message, "overload of run R1 never stops")
}

test_protected_elsewhere if {
	bare := object.remove(object.union(common(5), {"protection": "elsewhere"}), ["device_amps"])
	count(rule.hits) == 0 with input as plan(bare, unit, limits)
}

test_va_of_its_own_listing if {
	small := object.union(common(15), {"va": 160, "largest_va": 150})
	found := rule.hits with input as plan(small, unit, limits)
	cases(found) == {"va"}
	some hit in found
	hit.severity == "defect"
	hit.value == 160
	hit.limit == 150
	hit.basis == "listing"
	contains(hit.message, "160 VA")
}

test_va_of_a_landscape_listing if {
	loaded := object.union(common(19), {"va": 301})
	found := rule.hits with input as plan(loaded, landscape, limits)
	cases(found) == {"va"}
	some hit in found
	hit.limit_name == "power.common_max_va"
	count(rule.hits) == 0 with input as plan(loaded, unit, limits)
	count(rule.hits) == 0 with input as plan(object.union(common(19), {"va": 300}), landscape, limits)
}

test_large_device if {
	found := rule.hits with input as plan(object.union(common(5), {"device_amps": 30}), unit, limits)
	cases(found) == {"device"}
	some hit in found
	hit.severity == "advice"
	contains(hit.message, "30.0 A")
}

test_silent_without_limits if {
	count(rule.hits) == 0 with input as plan(common(40), landscape, [])
}
