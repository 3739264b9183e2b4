package plan_test

// danglingCases are references that lead nowhere.
var danglingCases = []issueCase{
	{"fixture type", edits{"/fixtures/0/type": `"rng"`},
		[]string{`dangling /fixtures/0/type: there is no fixture type "rng" in the catalogue; did you mean "ring"? (the catalogue has ring and spot)`}},
	{"transformer type", edits{"/transformers/1/type": `"T600"`}, []string{
		`dangling /transformers/1/type: there is no transformer type "T600" in the catalogue; did you mean "T300"? (the catalogue has T300 and T60)`,
	}},
	{"cable of a leg", edits{"/runs/0/legs/0/cable": `"8mm"`}, []string{
		`dangling /runs/0/legs/0/cable: there is no cable type "8mm" in the catalogue; did you mean "4mm"? (the catalogue has 4mm and 6mm)`,
	}},
	{"cable of a run", edits{"/runs/1/cable": `"10mm"`}, []string{
		`dangling /runs/1/cable: there is no cable type "10mm" in the catalogue; did you mean "4mm"? (the catalogue has 4mm and 6mm)`,
	}},
	{"cable by default", edits{"/defaults/legs/cable": `"16mm"`}, []string{
		`dangling /defaults/legs/cable: there is no cable type "16mm" in the catalogue; did you mean "6mm"? (the catalogue has 4mm and 6mm)`,
	}},
	{"connector of a node", edits{"/runs/0/nodes/0/connector": `"hub-blok"`}, []string{
		`dangling /runs/0/nodes/0/connector: there is no connector type "hub-blok" in the catalogue; did you mean "hub-block"? (the catalogue has gel and hub-block)`,
	}},
	{"connector of a fixture", edits{"/fixtures/1/connector": `"jell"`}, []string{
		`dangling /fixtures/1/connector: there is no connector type "jell" in the catalogue; did you mean "gel"? (the catalogue has gel and hub-block)`,
	}},
	{"connector by default", edits{"/defaults/nodes/connector": `"gell"`}, []string{
		`dangling /defaults/nodes/connector: there is no connector type "gell" in the catalogue; did you mean "gel"? (the catalogue has gel and hub-block)`,
	}},
	{"empty catalogue", edits{"/catalogue/connectors": `{}`, "/defaults/fixtures/connector": "", "/runs/0/nodes/0/connector": "", "/take_off/2": `{"sleeve": "25 mm", "bought": 1}`}, []string{
		`dangling /defaults/nodes/connector: there is no connector type "gel" in the catalogue; the catalogue has none`,
	}},
	{"receptacle", edits{"/transformers/0/plugged_into": `"RC2"`}, []string{
		`dangling /transformers/0/plugged_into: there is no receptacle "RC2"; did you mean "RC1"? (the plan has RC1)`,
	}},
	{"receptacle of the wrong kind", edits{"/transformers/0/plugged_into": `"B1"`}, []string{
		`dangling /transformers/0/plugged_into: "B1" is a branch circuit, not a receptacle; the plan has RC1`,
	}},
	{"branch circuit", edits{"/supply/receptacles/0/branch_circuit": `"B2"`}, []string{
		`dangling /supply/receptacles/0/branch_circuit: there is no branch circuit "B2"; did you mean "B1"? (the plan has B1)`,
	}},
	{"branch circuit of a transformer", edits{"/transformers/1/wired_to": `"RC1"`}, []string{
		`dangling /transformers/1/wired_to: "RC1" is a receptacle, not a branch circuit; the plan has B1`,
	}},
	{"transformer of a run", edits{"/runs/1/from/transformer": `"T3"`}, []string{
		`dangling /runs/1/from/transformer: there is no transformer "T3"; did you mean "T1"? (the plan has T1 and T2)`,
	}},
	{"common", edits{"/runs/0/from/common": `3`}, []string{
		`dangling /runs/0/from/common: there is no common 3; T300 has 2 commons`,
	}},
	{"tap", edits{"/runs/0/from/tap": `"15 V"`}, []string{
		`dangling /runs/0/from/tap: there is no tap of 15 V; T300 has 12 V, 13 V and 14 V`,
	}},
	{"tap of a protective device", edits{"/catalogue/transformers/T300/protection/0/tap": `"24 V"`}, []string{
		`dangling /catalogue/transformers/T300/protection/0/tap: there is no tap of 24 V; T300 has 12 V, 13 V and 14 V`,
	}},
	{"end of a leg", edits{"/runs/0/legs/1/to": `"P11"`}, []string{
		`dangling /runs/0/legs/1/to: there is no transformer, node or fixture "P11"; did you mean "P1"?`,
	}},
	{"start of a leg", edits{"/runs/0/legs/1/from": `"walk"`}, []string{
		`dangling /runs/0/legs/1/from: "walk" is a path, not a transformer, node or fixture`,
	}},
	{"leg to a whole array", edits{"/runs/0/legs/1/to": `"row"`}, []string{
		`dangling /runs/0/legs/1/to: "row" is an array, not a transformer, node or fixture: name one of its fixtures, "row-1" to "row-5"`,
	}},
	{"step of a chain", edits{"/runs/1/chain/3/to": `"S3"`}, []string{
		`dangling /runs/1/chain/3/to: there is no transformer, node or fixture "S3"; did you mean "S1"?`,
	}},
	{"branch of a chain", edits{"/runs/1/chain/3/from": `"h33"`}, []string{
		`dangling /runs/1/chain/3/from: there is no transformer, node or fixture "h33"; did you mean "h3"?`,
	}},
	{"return", edits{"/runs/0/legs/4/returns/transformer": `"T9"`}, []string{
		`dangling /runs/0/legs/4/returns/transformer: there is no transformer "T9"; did you mean "T1"? (the plan has T1 and T2)`,
	}},
	{"tap of a return", edits{"/runs/0/legs/4/returns/tap": `"11 V"`}, []string{
		`dangling /runs/0/legs/4/returns/tap: there is no tap of 11 V; T300 has 12 V, 13 V and 14 V`,
	}},
	{"path of a position", edits{"/fixtures/0/at/along": `"wlak"`}, []string{
		`dangling /fixtures/0/at/along: there is no path "wlak"; did you mean "walk"? (the plan has ramp and walk)`,
	}},
	{"path of an array", edits{"/fixtures/2/array/along": `"lower"`}, []string{
		`dangling /fixtures/2/array/along: "lower" is a stair, not a path; the plan has ramp and walk`,
	}},
	{"stair of a position", edits{"/fixtures/1/at/of": `"upper"`}, []string{
		`dangling /fixtures/1/at/of: there is no stair "upper"; the plan has lower`,
	}},
	{"tread", edits{"/fixtures/1/at/tread": `6`}, []string{
		`dangling /fixtures/1/at/tread: there is no tread 6; "lower" has 4 treads, and 5 is its top level`,
	}},
	{"tape from nothing", edits{"/site/trees/1/at/tapes/0/from": `"RC9"`}, []string{
		`dangling /site/trees/1/at/tapes/0/from: there is no point "RC9" to measure from; did you mean "RC1"?`,
	}},
	{"tape from something long", edits{"/site/trees/1/at/tapes/0/from": `"walk"`}, []string{
		`dangling /site/trees/1/at/tapes/0/from: "walk" is a path, which does not stand at one point`,
	}},
	{"tape from something without a place", edits{"/site/trees/1/at/tapes/0/from": `"T2"`}, []string{
		`dangling /site/trees/1/at/tapes/0/from: "T2" has no position to measure from`,
	}},
	{"stair of a landing", edits{"/site/landings/0/stair": `"lowr"`}, []string{
		`dangling /site/landings/0/stair: there is no stair "lowr"; did you mean "lower"? (the plan has lower)`,
	}},
	{"host", edits{"/fixtures/3/host": `"oka"`}, []string{
		`dangling /fixtures/3/host: there is no element "oka"; did you mean "oak"?`,
	}},
	{"tree aimed at", edits{"/fixtures/3/aim/tree": `"elm"`}, []string{
		`dangling /fixtures/3/aim/tree: there is no tree "elm"; the plan has oak and stump`,
	}},
	{"what a control switches", edits{"/controls/0/switches/1": `"rows"`}, []string{
		`dangling /controls/0/switches/1: there is no group, transformer, run or fixture "rows"; did you mean "row"?`,
	}},
	{"what a control cannot switch", edits{"/controls/0/switches/1": `"walk"`}, []string{
		`dangling /controls/0/switches/1: "walk" is a path, not a group, transformer, run or fixture`,
	}},
	{"group of a scene", edits{"/controls/0/scenes/1/on/0": `"entri"`}, []string{
		`dangling /controls/0/scenes/1/on/0: there is no group, transformer, run or fixture "entri"; did you mean "entry"?`,
	}},
	{"group of a scene with a level", edits{"/controls/0/scenes/0/on/1/group": `"P3"`}, []string{
		`dangling /controls/0/scenes/0/on/1/group: there is no group, transformer, run or fixture "P3"; did you mean "P1"?`,
	}},
	{"where a control is reached", edits{"/controls/0/reachable_at/0": `"oak"`}, []string{
		`dangling /controls/0/reachable_at/0: "oak" is a tree, not a place on the site`,
	}},
	{"bought cable", edits{"/take_off/0/cable": `"5mm"`}, []string{
		`dangling /take_off/0/cable: there is no cable type "5mm" in the catalogue; did you mean "4mm"? (the catalogue has 4mm and 6mm)`,
	}},
	{"bought fixture", edits{"/take_off/1/fixture": `"4mm"`}, []string{
		`dangling /take_off/1/fixture: there is no fixture type "4mm" in the catalogue; the catalogue has ring and spot`,
	}},
	{"scene of a reading", edits{"/readings/0/scene": `"evning"`}, []string{
		`dangling /readings/0/scene: there is no scene "evning"; did you mean "evening"? (the plan has evening, late and off)`,
	}},
	{"place of a reading", edits{"/readings/0/values/0/at": `"oak"`}, []string{
		`dangling /readings/0/values/0/at: "oak" is a tree, not a fixture, node, transformer or leg`,
	}},
	{"common of a reading", edits{"/readings/0/values/1/common": `4`}, []string{
		`dangling /readings/0/values/1/common: there is no common 4; T300 has 2 commons`,
	}},
	{"leg of a chain in a reading", edits{"/readings/0/values/3/at": `"back/row-3"`}, []string{
		`dangling /readings/0/values/3/at: there is no fixture, node, transformer or leg "back/row-3"; did you mean "back/row-1"?`,
	}},
	{"note", edits{"/notes/0/about": `"oakk"`}, []string{
		`dangling /notes/0/about: there is no element "oakk"; did you mean "oak"?`,
	}},
	{"several at once", edits{"/fixtures/0/type": `"rng"`, "/fixtures/1/host": `"lwer"`, "/runs/0/legs/0/to": `"h9"`}, []string{
		`dangling /fixtures/0/type: there is no fixture type "rng" in the catalogue; did you mean "ring"? (the catalogue has ring and spot)`,
		`dangling /fixtures/1/host: there is no element "lwer"; did you mean "lower"?`,
		`dangling /runs/0/legs/0/to: there is no transformer, node or fixture "h9"; did you mean "h1"?`,
	}},
}
