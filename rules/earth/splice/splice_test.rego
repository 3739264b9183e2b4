package rules.earth.splice_test

import data.rules.earth.splice

required := [{"name": "earth.splice_listing_required", "flag": true, "unit": "", "source": "110.14(B)"}]

good := {"id": "h1", "connector": "lug", "kind": "gel-lug", "listing": ["direct-burial"], "buried": true, "under": []}

plan(joints, limits) := {"units": "ft", "joints": joints, "limits": limits}

changed(change) := object.union(good, change)

test_not_listed_is_one_hit_for_a_type if {
	joints := [changed({"id": id, "listing": ["wet-location"]}) | some id in ["P1", "P2", "P3", "P4", "h1"]]
	found := splice.hits with input as plan(joints, required)
	count(found) == 1
	some hit in found
	hit.element == "lug"
	hit.field == ["listing"]
	hit.case == "not listed"
	not hit.severity
	contains(hit.message, "at P1, P2, P3, P4 and 1 more")
}

test_tape_needs_no_listing_to_be_wrong if {
	joint := object.remove(changed({"kind": "tape", "connector": "tape"}), ["listing"])
	found := splice.hits with input as plan([joint], required)
	[hit.element | some hit in found] == ["tape"]
}

test_piercing if {
	found := splice.hits with input as plan([changed({"kind": "piercing"})], required)
	count(found) == 1
	some hit in found
	hit.case == "piercing"
	hit.severity == "advice"
	hit.element == "lug"
}

test_unlisted_clip_is_not_listed if {
	found := splice.hits with input as plan([changed({"kind": "piercing", "listing": ["damp-location"]})], required)
	{hit.case | some hit in found} == {"not listed"}
}

test_under_paving[name] if {
	some name, change in {
		"not said": {"under": ["deck", "paving"]},
		"not accessible": {"under": ["deck", "paving"], "accessible": false},
		"not buried": {"under": ["deck", "paving"], "buried": false},
	}
	found := splice.hits with input as plan([changed(change)], required)
	count(found) == 1
	some hit in found
	hit.element == "h1"
	hit.case == "out of reach"
	hit.severity == "advice"
	contains(hit.message, "under deck and paving")
}

test_not_accessible if {
	found := splice.hits with input as plan([changed({"accessible": false})], required)
	count(found) == 1
	some hit in found
	hit.case == "out of reach"
	hit.field == ["accessible"]
}

test_silent[name] if {
	some name, change in {
		"listed": {},
		"above ground": {"buried": false, "listing": ["wet-location"]},
		"clip above ground": {"buried": false, "kind": "piercing"},
		"taped above ground": {"buried": false, "kind": "tape"},
		"under a deck, within reach": {"under": ["deck"], "accessible": true},
	}
	count(splice.hits) == 0 with input as plan([changed(change)], required)
}

test_listing_not_known if {
	count(splice.hits) == 0 with input as plan([object.remove(good, ["listing"])], required)
	count(splice.hits) == 0 with input as plan([object.remove(good, ["listing", "kind", "connector"])], required)
}

test_without_limit if {
	count(splice.hits) == 0 with input as plan([changed({"listing": ["wet-location"]})], [])
	count(splice.hits) == 0 with input as plan([changed({"listing": ["wet-location"]})], [object.union(required[0], {"flag": false})])
}
