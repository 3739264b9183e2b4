package lib_test

import data.lib

test_hit if {
	lib.hit("L7", ["cover"], {"message": "m", "case": "c"}) == {
		"element": "L7",
		"field": ["cover"],
		"message": "m",
		"case": "c",
	}
}

test_against if {
	lib.against(0.1, "cover") == {
		"value": 0.1,
		"limit": 0.1524,
		"unit": "m",
		"limit_name": "cover",
	} with input as limits
}

test_milder if {
	lib.milder("danger", "advice") == "advice"
	lib.milder("advice", "defect") == "advice"
	lib.milder("caution", "caution") == "caution"
}

test_graver if {
	lib.graver("danger", "advice") == "danger"
	lib.graver("advice", "defect") == "defect"
}

limits := {"limits": [
	{"name": "cover", "value": 0.1524, "unit": "m", "source": "table 300.5"},
	{"name": "lamp", "text": "led", "unit": "1", "source": "s"},
	{"name": "curfew", "flag": false, "unit": "1", "source": "s"},
	{"name": "rows", "table": [{"key": "a", "value": 1}, {"key": "b", "value": 2}], "unit": "1", "source": "s"},
]}

test_limit if {
	lib.limit("cover") == 0.1524 with input as limits
	lib.limit_text("lamp") == "led" with input as limits
	lib.limit_flag("curfew") == false with input as limits
	lib.limit_row("rows", "b") == 2 with input as limits
	lib.limit_source("cover") == "table 300.5" with input as limits
}

test_has_limit if {
	lib.has_limit("cover") with input as limits
	lib.has_limit("curfew") with input as limits
	not lib.has_limit("other") with input as limits
	not lib.limit("other") with input as limits
	not lib.limit_row("rows", "c") with input as limits
}

# What the facts give of a limit is used as it is.
test_least_and_most_given if {
	given := {"limits": [{"name": "cover", "value": 0.1524, "least": 0.1, "most": 0.2, "unit": "m"}]}
	lib.least("cover") == 0.1 with input as given
	lib.most("cover") == 0.2 with input as given
}

test_least_and_most if {
	lib.least("cover") == 0.1519 with input as limits
	lib.most("cover") == 0.1529 with input as limits
	not lib.least("lamp") with input as limits
}
