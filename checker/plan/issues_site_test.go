package plan_test

// siteCases are contradictions in the catalogue, the supply and the site.
var siteCases = []issueCase{
	{"id taken", edits{"/fixtures/4/id": `"P1"`}, []string{
		`conflict /fixtures/4/id: the id "P1" is taken: the fixture at /fixtures/0 has it already`,
	}},
	{"id taken twice", edits{"/fixtures/4/id": `"oak"`, "/controls/0/scenes/1/id": `"oak"`}, []string{
		`conflict /controls/0/scenes/1/id: the id "oak" is taken: the tree at /site/trees/0 has it already`,
		`conflict /fixtures/4/id: the id "oak" is taken: the tree at /site/trees/0 has it already`,
	}},
	{"id of an array's fixture taken", edits{"/fixtures/-": `{"id": "row-2", "type": "ring", "at": [9, 0]}`}, []string{
		`conflict /fixtures/5/id: the id "row-2" is taken: the fixture at /fixtures/2 has it already`,
	}},
	{"window upside down", edits{"/catalogue/fixtures/ring/window": `["15 V", "9 V"]`}, []string{
		`conflict /catalogue/fixtures/ring/window: the window starts at 15 V, above its end at 9 V`,
	}},
	{"drop-out inside the window", edits{"/catalogue/fixtures/ring/drop_out": `"9.5 V"`}, []string{
		`conflict /catalogue/fixtures/ring/drop_out: the lamp goes out below 9.5 V, but its window starts at 9 V`,
	}},
	{"fewer volt-amperes than watts", edits{"/catalogue/fixtures/ring/va": `3`}, []string{
		`conflict /catalogue/fixtures/ring/va: 3 VA is less than the lamp's 4 W`,
	}},
	{"power factor", edits{"/catalogue/fixtures/ring/power_factor": `0.5`}, []string{
		`conflict /catalogue/fixtures/ring/power_factor: 4 W of 5 VA is a power factor of 0.80, not 0.5`,
	}},
	{"shortest output", edits{"/catalogue/fixtures/ring/colour/shortest_output": `"600 nm"`}, []string{
		`conflict /catalogue/fixtures/ring/colour/shortest_output: the shortest output, 600 nm, lies above the peak, 590 nm`,
	}},
	{"nothing rated", edits{"/catalogue/transformers/T60/rating": `0`}, []string{
		`dangling /catalogue/transformers/T60/rating: an apparent power here must be more than 0`,
	}},
	{"tolerance", edits{"/supply/volts": `0`}, []string{
		`conflict /supply/volts: a voltage here must be more than 0`,
	}},
	{"dates of the locate", edits{"/permissions/locate/expires": `"2026-04-01"`}, []string{
		`conflict /permissions/locate/expires: the marks expire on 2026-04-01, before the lines were asked for on 2026-05-01`,
	}},
	{"path of no width", edits{"/site/paths/1/width": `0`}, []string{
		`conflict /site/paths/1/width: a length here must be more than 0`,
	}},
	{"path of no length", edits{"/site/paths/1/centreline": `[[1, 1], [1, 1]]`}, []string{
		`conflict /site/paths/1/centreline: the centreline has no length`,
	}},
	{"elevations of a path", edits{"/site/paths/1/elevations": `[0, 0.5, 1]`}, []string{
		`conflict /site/paths/1/elevations: there are 3 elevations for 2 points of the centreline`,
	}},
	{"going", edits{"/site/stairs/0/going": `"350 mm"`}, []string{
		`conflict /site/stairs/0/going: a going of 350 mm does not fit: foot and head are 1.2 m apart, which is 300 mm for each of 4 treads`,
	}},
	{"width of a stair", edits{"/site/stairs/0/width": `2.2`}, []string{
		`conflict /site/stairs/0/width: a width of 2.2 m does not fit: the foot line is 2 m long`,
	}},
	{"foot of no length", edits{"/site/stairs/0/foot": `[[10, 9], [10, 9]]`}, []string{
		`conflict /site/stairs/0/foot: the two ends of this line are at the same place`,
	}},
	{"foot along the way up", edits{"/site/stairs/0/foot": `[[9, 10], [10, 10]]`}, []string{
		`conflict /site/stairs/0/foot: the foot does not lie across the way from foot to head`,
	}},
	{"foot at the head", edits{"/site/stairs/0/foot": `[[11.2, 9], [11.2, 11]]`}, []string{
		`conflict /site/stairs/0/head: head and foot are at the same place, but 5 risers need 4 treads between them`,
	}},
	{"no rise", edits{"/site/stairs/0/rise": `0`}, []string{
		`conflict /site/stairs/0/rise: a length here must be more than 0`,
	}},
	{"landing of a stair that cannot be", edits{"/site/stairs/0/rise": `0`, "/site/landings/0/elevation": `"750 mm"`}, []string{
		`conflict /site/stairs/0/rise: a length here must be more than 0`,
	}},
	{"level of a landing", edits{"/site/landings/0/elevation": `1`}, []string{
		`conflict /site/landings/0/elevation: the landing is at 1 m, but the top of "lower" is at 750 mm`,
	}},
	{"place of a landing", edits{"/site/landings/0/outline": `[[15, 9], [17, 9], [17, 11], [15, 11]]`}, []string{
		`conflict /site/landings/0/outline: the landing is said to be at the top of "lower", but lies 3.8 m from the middle of its head`,
	}},
	{"outline on a line", edits{"/site/beds/0/outline": `[[5, 0], [8, 0], [10, 0]]`}, []string{
		`conflict /site/beds/0/outline: the outline encloses nothing: its corners lie on a line or a point`,
	}},
	{"outline at a point", edits{"/site/water/0/outline": `[[5, 0], [5, 0], [5, 0]]`}, []string{
		`conflict /site/water/0/outline: the outline encloses nothing: its corners lie on a line or a point`,
	}},
	{"outline like a bow tie", edits{"/site/lawns/0/outline": `[[2, 12], [9, 18], [9, 12], [2, 18]]`}, []string{
		`conflict /site/lawns/0/outline: the outline crosses itself: the side from corner 1 meets the side from corner 3`,
	}},
	{"outline with a spike", edits{"/site/decks/0/outline": `[[0, 20], [4, 20], [4, 24], [4, 22], [0, 24]]`}, []string{
		`conflict /site/decks/0/outline: the outline crosses itself: the side from corner 2 meets the side from corner 3`,
	}},
	{"outline through its own corner", edits{"/site/drives/0/outline": `[[-3, -8], [3, -8], [3, -4], [0, -8], [-3, -4]]`}, []string{
		`conflict /site/drives/0/outline: the outline crosses itself: the side from corner 1 meets the side from corner 3`,
	}},
	{"property line", edits{"/site/property_line": `[[0, 0], [1, 1], [2, 2]]`}, []string{
		`conflict /site/property_line: the outline encloses nothing: its corners lie on a line or a point`,
	}},
	{"wall of no length", edits{"/site/walls/0/line": `[[1, 1], [1, 1], [1, 1]]`}, []string{
		`conflict /site/walls/0/line: the wall has no length`,
	}},
	{"fence of no height", edits{"/site/fences/0/height": `"0 mm"`}, []string{
		`conflict /site/fences/0/height: a length here must be more than 0`,
	}},
	{"leaf of no length", edits{"/site/gates/0/leaf": `0`}, []string{
		`conflict /site/gates/0/leaf: a length here must be more than 0`,
	}},
	{"gap below a leaf", edits{"/site/gates/0/ground_gap": `"1.2 m"`}, []string{
		`conflict /site/gates/0/ground_gap: a gap of 1.2 m below a leaf whose top is at 1.2 m leaves no leaf`,
	}},
	{"crown upside down", edits{"/site/trees/0/canopy/base": `9`}, []string{
		`conflict /site/trees/0/canopy: the crown begins at 9 m, not below its top at 8 m`,
	}},
	{"window head below its sill", edits{"/site/windows/0/head": `"1 m"`}, []string{
		`conflict /site/windows/0/head: the head at 1 m is not above the sill at 1.5 m`,
	}},
}

// placeCases are positions that cannot be.
var placeCases = []issueCase{
	{"tapes too short", edits{"/site/trees/1/at/tapes/0/distance": `0.5`}, []string{
		`conflict /site/trees/1/at/tapes: the tapes do not meet: their points are 5 m apart, the tapes reach 500 mm and 4 m, 500 mm short`,
	}},
	{"one tape past the other", edits{"/site/trees/1/at/tapes/0/distance": `12`}, []string{
		`conflict /site/trees/1/at/tapes: the tapes do not meet: their points are 5 m apart, and a tape of 12 m passes one of 4 m by 3 m`,
	}},
	{"tapes from one point", edits{"/site/trees/1/at/tapes/1/from": `[0, 0]`}, []string{
		`conflict /site/trees/1/at/tapes: both tapes start at the same point, so they give no place`,
	}},
	{"measured from itself", edits{"/site/trees/1/at/tapes/0/from": `"stump"`}, []string{
		`conflict /site/trees/1/at: "stump" is measured from itself`,
	}},
	{"measured in a circle", edits{
		"/site/trees/1/at/tapes/0/from": `"post"`,
		"/site/posts/0/at":              `{"tapes": [{"from": "P1", "distance": 3}, {"from": "RC1", "distance": 3}], "side": "left"}`,
		"/fixtures/0/at":                `{"tapes": [{"from": "stump", "distance": 3}, {"from": "RC1", "distance": 3}], "side": "left"}`}, []string{
		`conflict /fixtures/0/at: "P1", "post" and "stump" are measured from one another in a circle, so none of them has a place`,
	}},
	{"path measured from what stands along it", edits{
		"/site/paths/0/centreline/0": `{"tapes": [{"from": "row-2", "distance": 3}, {"from": "RC1", "distance": 3}], "side": "left"}`}, []string{
		`conflict /fixtures/2: "row" and "walk" are measured from one another in a circle, so none of them has a place`,
	}},
	{"station beyond the path", edits{"/fixtures/0/at/station": `20.5`}, []string{
		`conflict /fixtures/0/at/station: station 20.5 m is beyond the end of "walk", which is 20 m long`,
	}},
	{"across beyond the tread", edits{"/fixtures/1/at/across": `"2.1 m"`}, []string{
		`conflict /fixtures/1/at/across: 2.1 m is beyond the far edge of the tread, which is 2 m wide`,
	}},
	{"end of an array beyond the path", edits{"/fixtures/2/array/end": `"25 m"`}, []string{
		`conflict /fixtures/2/array/end: station 25 m is beyond the end of "walk", which is 20 m long`,
	}},
	{"start of an array beyond its end", edits{"/fixtures/2/array/start": `9`}, []string{
		`conflict /fixtures/2/array/start: the array starts at 9 m, beyond its end at 8 m`,
	}},
	{"spacing of nothing", edits{"/fixtures/2/array/count": "", "/fixtures/2/array/spacing": `0`}, []string{
		`conflict /fixtures/2/array/spacing: a length here must be more than 0`,
	}},
	{"spacing of a hair", edits{"/fixtures/2/array/count": "", "/fixtures/2/array/spacing": `"1 mm"`}, []string{
		`conflict /fixtures/2/array: the array makes too many fixtures: an array can have 2000, all arrays 50000`,
	}},
	{"aimed at itself", edits{"/fixtures/4/aim": `{"at": [1, 1], "height": "450 mm"}`}, []string{
		`conflict /fixtures/4/aim: the fixture is aimed at itself`,
	}},
	{"aimed at a tree without a crown", edits{"/fixtures/3/aim/tree": `"stump"`}, []string{
		`conflict /fixtures/3/aim/tree: "stump" has no crown to aim at, and the aim states no height`,
	}},
	{"mounted on a tree that is a wall", edits{"/fixtures/3/host": `"wall"`}, []string{
		`conflict /fixtures/3/host: the fixture is mounted on a tree, but "wall" is a wall`,
	}},
	{"mounted under a deck that is a terrace", edits{"/fixtures/3/host": `"terrace"`, "/fixtures/3/mount": `"under-deck"`}, []string{
		`conflict /fixtures/3/host: the fixture is mounted under a deck, but "terrace" is an area`,
	}},
	{"more lead than the factory's", edits{"/fixtures/1/lead": `"1.2 m"`}, []string{
		`conflict /fixtures/1/lead: 1.2 m of lead cannot be left of the 900 mm that ring has`,
	}},
	{"lamp that cannot be", edits{"/fixtures/1/lamp": `{"watts": 8, "va": 6}`}, []string{
		`conflict /fixtures/1/lamp/va: 6 VA is less than the lamp's 8 W`,
	}},
}
