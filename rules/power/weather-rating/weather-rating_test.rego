package rules.power.weather_rating_test

import data.rules.power["weather-rating"] as rule

limits := [
	{"name": "power.extra_duty_required", "flag": true, "unit": "", "source": "406.9(B)(1)"},
	{"name": "power.weather_resistant_required", "flag": true, "unit": "", "source": "406.9(A)"},
]

plan(changes, limits_in_force) := {"receptacles": [object.union({"id": "RC1", "location": "outdoor"}, changes)], "limits": limits_in_force}

test_not_weather_resistant if {
	some hit in rule.hits with input as plan({"weather_resistant": false}, limits)
	hit.element == "RC1"
	hit.case == "receptacle"
	hit.field == ["weather_resistant"]
}

test_light_hood if {
	some hit in rule.hits with input as plan({"weather_resistant": true, "extra_duty": false}, limits)
	hit.case == "hood"
	hit.field == ["extra_duty"]
}

test_silent[name] if {
	some name, case in {
		"all there": {"receptacle": {"weather_resistant": true, "extra_duty": true}, "limits": limits},
		"not stated": {"receptacle": {}, "limits": limits},
		"indoor": {"receptacle": {"location": "indoor", "weather_resistant": false, "extra_duty": false}, "limits": limits},
		"no limits": {"receptacle": {"weather_resistant": false, "extra_duty": false}, "limits": []},
	}
	count(rule.hits) == 0 with input as plan(case.receptacle, case.limits)
}
