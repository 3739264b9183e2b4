package rules.power.watts_only_test

import data.rules.power["watts-only"] as rule

# Value: lamps for retrofit run at 0.5 to 0.9, common practice.
limits := [{"name": "power.assumed_pf", "value": 0.7, "unit": "1", "source": "practice"}]

# A lamp of 7 W draws 7 VA at a power factor of 1, and 10 VA at one of 0.7.
lamp(id, type, assumed) := {"id": id, "type": type, "watts": 7, "va_used": 10, "va_assumed": assumed}

test_one_hit_for_each_type if {
	found := rule.hits with input as {"limits": limits, "fixtures": [
		lamp("L1", "spot", true), lamp("L2", "spot", true), lamp("L3", "path", true), lamp("L4", "wash", false),
	]}
	{hit.element | some hit in found} == {"spot", "path"}
	some hit in found
	hit.element == "spot"
	hit.field == ["watts"]
	contains(hit.message, "its 2 lamps were computed at a power factor of 0.70, as 20 VA")
	contains(hit.message, "as little as 14 VA")
	some other in found
	other.element == "path"
	contains(other.message, "its lamp was computed")
}

test_silent if {
	count(rule.hits) == 0 with input as {"limits": limits, "fixtures": [lamp("L4", "wash", false)]}
	count(rule.hits) == 0 with input as {"limits": [], "fixtures": [lamp("L1", "spot", true)]}
}
