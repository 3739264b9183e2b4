package lib_test

import data.lib

test_surveying if lib.surveying with input as {"stage": "survey", "fixtures": [{"id": "P1"}]}

test_not_surveying[name] if {
	some name, plan in {
		"a light is drawn": {"stage": "survey", "fixtures": [{"id": "P1", "height_m": 0.4}]},
		"flush": {"stage": "survey", "fixtures": [{"id": "P1", "height_m": 0}]},
		"design": {"stage": "design", "fixtures": []},
	}
	not lib.surveying with input as plan
}
