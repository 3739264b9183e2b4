package lib_test

import data.lib

test_listed if {
	lib.listed([]) == ""
	lib.listed(["a"]) == "a"
	lib.listed(["a", "b"]) == "a and b"
	lib.listed(["a", "b", "c"]) == "a, b and c"
}

test_few if {
	lib.few(set()) == ""
	lib.few({"b", "a"}) == "a and b"
	lib.few({"d", "c", "b", "a"}) == "a, b, c and d"
	lib.few(["e", "d", "c", "b", "a"]) == "a, b, c, d and 1 more"
}

# 2024 is a leap year (Gregorian calendar).
test_days_between if {
	lib.days_between("2024-02-28", "2024-03-01") == 2
	lib.days_between("2023-02-28", "2023-03-01") == 1
	lib.days_between("2026-05-02", "2026-05-01") == -1
	lib.days_between("2026-05-01", "2026-05-01") == 0
}

test_expired if {
	lib.expired("2026-04-30") with input as {"today": "2026-05-01"}
	not lib.expired("2026-05-01") with input as {"today": "2026-05-01"}
	not lib.expired("2026-05-02") with input as {"today": "2026-05-01"}
}

indexes := {
	"branches": lib.branches_by_id,
	"commons": lib.commons_by_id,
	"fixtures": lib.fixtures_by_id,
	"leaves": lib.leaves_by_id,
	"legs": lib.legs_by_id,
	"nodes": lib.nodes_by_id,
	"receptacles": lib.receptacles_by_id,
	"runs": lib.runs_by_id,
	"services": lib.services_by_id,
	"stairs": lib.stairs_by_id,
	"transformers": lib.transformers_by_id,
}

test_index if {
	names := [
		"branches", "commons", "fixtures", "leaves", "legs", "nodes",
		"receptacles", "runs", "services", "stairs", "transformers",
	]
	facts := {name: [{"id": "A", "of": name}, {"id": "B", "of": name}] | some name in names}
	found := indexes with input as facts
	every name in names {
		found[name] == {"A": {"id": "A", "of": name}, "B": {"id": "B", "of": name}}
	}
}

test_called if {
	lib.called("drive", "north-drive") == "drive north-drive"
	lib.called("drive", "drive") == "the drive"
}
