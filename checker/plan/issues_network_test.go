package plan_test

// networkCases are contradictions between runs, legs and their ends.
var networkCases = []issueCase{
	{"no tap", edits{"/runs/0/from/tap": ""}, []string{
		`conflict /runs/0/from: no tap is named, and T300 has 12 V, 13 V and 14 V`,
	}},
	{"leg to its own start", edits{"/runs/0/legs/1/to": `"h1"`}, []string{
		`conflict /runs/0/legs/1/to: the leg begins and ends at "h1"`,
	}},
	{"leg from another transformer", edits{"/runs/0/legs/0/from": `"T2"`, "/runs/0/legs/0/length": `5`}, []string{
		`conflict /runs/0/legs/0/from: the leg begins at "T2", but "front" is fed from "T1"`,
	}},
	{"leg that ends at its transformer", edits{"/runs/0/legs/4/returns": ""}, []string{
		`conflict /runs/0/legs/4/to: the leg ends at transformer "T1": write it from there, or say on which terminals it returns if it closes a loop`,
	}},
	{"return to another transformer", edits{"/runs/0/legs/4/returns": `{"transformer": "T2", "tap": "12 V", "conductor": "same"}`}, []string{
		`conflict /runs/0/legs/4/returns/transformer: the leg returns to "T2" but ends at "T1"`,
	}},
	{"return of a leg that ends elsewhere", edits{"/runs/0/legs/4/to": `"P1"`}, []string{
		`conflict /runs/0/legs/4/returns/transformer: the leg returns to "T1" but ends at "P1"`,
	}},
	{"length below the straight line", edits{"/runs/0/legs/0/length": `"4 m"`}, []string{
		`conflict /runs/0/legs/0/length: a length of 4 m is shorter than the straight line from "T1" to "h1", 5 m`,
	}},
	{"length below the route", edits{"/runs/0/legs/2/length": `"6.5 m"`}, []string{
		`conflict /runs/0/legs/2/length: a length of 6.5 m is 500 mm shorter than the route, which measures 7 m`,
	}},
	{"length far beyond the route", edits{"/runs/0/legs/2/length": `"14 m"`}, []string{
		`conflict /runs/0/legs/2/length: a length of 14 m is 7 m longer than the route, which measures 7 m`,
	}},
	{"no length between two things at one place", edits{"/runs/0/nodes/0/at": `[0, 0]`, "/runs/0/legs/2": `{"id": "w3", "from": "h1", "to": "h2"}`}, []string{
		`conflict /runs/0/legs/0: "T1" and "h1" are at the same place, and no length is stated`,
	}},
	{"length of nothing", edits{"/runs/0/legs/0/length": `0`}, []string{
		`conflict /runs/0/legs/0/length: a length here must be more than 0`,
	}},
	{"cover on the surface", edits{"/runs/0/legs/3/cover": `"150 mm"`}, []string{
		`conflict /runs/0/legs/3/cover (key): a leg whose method is "surface" has no cover`,
	}},
	{"chain from a later end", edits{"/runs/1/chain/1/from": `"S1"`, "/runs/1/chain/1/length": `5`}, []string{
		`conflict /runs/1/chain/1/from: "S1" is not an end that the run has reached before this step`,
	}},
	{"chain to where it is", edits{"/runs/1/chain/2/to": `"row-1"`}, []string{
		`conflict /runs/1/chain/2/to: the leg begins and ends at "row-1"`,
	}},
	{"chain back to its transformer", edits{"/runs/1/chain/3/to": `"T2"`}, []string{
		`conflict /runs/1/chain/3/to: the leg ends at transformer "T2": write it from there, or say on which terminals it returns if it closes a loop`,
	}},
	{"chain shorter than the ground", edits{"/runs/1/chain/2/length": `"2 m"`}, []string{
		`conflict /runs/1/chain/2/length: a length of 2 m is shorter than the straight line from "row-1" to "row-2", 2.828 m`,
	}},
}

// recordCases are contradictions in controls, take-off and readings.
var recordCases = []issueCase{
	{"group that is also a run", edits{"/fixtures/0/group": `"front"`, "/controls/0/scenes/0/on/0": `"front"`, "/controls/0/scenes/1/on/0": `"front"`}, []string{
		`conflict /controls/0/scenes/0/on/0: "front" is a group and also a run, and they mean different fixtures`,
		`conflict /controls/0/scenes/1/on/0: "front" is a group and also a run, and they mean different fixtures`,
	}},
	{"scene of what is not switched", edits{"/controls/0/scenes/1/on/0": `"S1"`}, []string{
		`conflict /controls/0/scenes/1/on/0: "S1" names fixture "S1", which "C1" does not switch`,
	}},
	{"one fixture at two levels", edits{"/controls/0/scenes/0/on/2": `"P2"`}, []string{
		`conflict /controls/0/scenes/0/on/2: fixture "P2" is named twice in this scene, at 20 % and at 50 % of full light`,
	}},
	{"volts along a leg", edits{"/readings/0/values/2": `{"at": "w1", "volts": "12 V"}`}, []string{
		`conflict /readings/0/values/2/volts (key): volts are read at an end, not along leg "w1"`,
	}},
	{"amps at a fixture", edits{"/readings/0/values/0": `{"at": "P1", "amps": "1 A"}`}, []string{
		`conflict /readings/0/values/0/amps (key): amps are read at a leg or at a transformer's common, not at "P1"`,
	}},
	{"common of a fixture", edits{"/readings/0/values/0/common": `2`}, []string{
		`conflict /readings/0/values/0/common (key): only a transformer has commons, and "P1" is none`,
	}},
}
