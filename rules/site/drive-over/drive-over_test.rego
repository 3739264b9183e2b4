package rules.site.drive_over_test

import data.rules.site["drive-over"] as rule

plan(standing) := {"units": "ft", "standings": [standing]}

at(kind, class) := {"id": "L1", "zone": "Z", "zone_kind": kind, "into_m": 0.5, "flush": true, "load_class": class}

test_in_a_drive[class] if {
	some class in ["none", "walk-over"]
	found := rule.hits with input as plan(at("drive", class))
	count(found) == 1
	some hit in found
	hit.element == "L1"
	hit.case == "Z"
	hit.field == ["at"]
	not hit.severity
	contains(hit.message, class)
}

test_underfoot[kind] if {
	some kind in ["landing", "lawn", "mower-strip", "other", "path", "play", "slab", "snow-store", "stair", "terrace"]
	found := rule.hits with input as plan(at(kind, "none"))
	count(found) == 1
	some hit in found
	hit.severity == "advice"
	hit.case == "Z"
}

test_silent[name] if {
	some name, standing in {
		"made for vehicles": at("drive", "drive-over"),
		"made for vehicles, walked on": at("path", "drive-over"),
		"made for feet, walked on": at("path", "walk-over"),
		"class not stated": object.remove(at("drive", "none"), ["load_class"]),
		"class not stated, walked on": object.remove(at("path", "none"), ["load_class"]),
		"rises": object.union(at("drive", "none"), {"flush": false}),
		"rises from a path": object.union(at("path", "none"), {"flush": false}),
		"beside the drive": object.union(at("drive", "none"), {"into_m": -0.1}),
		"beside the path": object.union(at("path", "none"), {"into_m": 0.0004}),
		"on other land": at("off-land", "none"),
	}
	count(rule.hits) == 0 with input as plan(standing)
}
