package numeric

import (
	"testing"

	"duskproof/checker/facts"
)

// dropRun is a run R1 on a tap with lamps of some drops, each within a window
// that holds.
func dropRun(tap float64, drops ...float64) func(*facts.Document) {
	return func(d *facts.Document) {
		d.Runs = []facts.Run{{ID: "R1", TapVolts: tap, Solved: true}}
		for i, drop := range drops {
			f := windowed(lamp(constantPower, tap-drop, tap-drop-1, tap+0.5), 9, 15)
			f.ID = string(rune('A' + i))
			f.Run, f.DropV, f.DropShare = "R1", ptr(drop), ptr(drop/tap)
			d.Fixtures = append(d.Fixtures, f)
		}
	}
}

// Limits: 5 %, IEC 60364-7-715 (a defect) and informational notes of NFPA 70 (advice).
func TestExcessDrop(t *testing.T) {
	five := number("wire.drop_max", 0.05, "1")
	advice := []facts.Limit{five, word("wire.drop_severity", "advice")}
	defect := []facts.Limit{five, word("wire.drop_severity", "defect")}
	three := append([]facts.Limit{number("wire.drop_advice", 0.03, "1")}, advice...)
	starvedOn13 := func(d *facts.Document) {
		dropRun(13, 0.2, 0.9)(d)
		d.Fixtures[0].LowVolts = ptr(8.0)
	}
	overfedOn13 := func(d *facts.Document) {
		dropRun(13, 0.2, 0.9)(d)
		d.Fixtures[1].HighVolts = ptr(15.5)
	}
	unknownOn13 := func(d *facts.Document) {
		dropRun(13, 0.2, 0.9)(d)
		d.Fixtures[0].MaxVolts = nil
	}
	filamentOn13 := func(d *facts.Document) {
		dropRun(13, 0.2, 0.9)(d)
		for i := range d.Fixtures {
			f := windowed(lamp(filament, 12.1, 10.9, 13.2), 10.8, 12.6)
			f.Run, f.DropV, f.DropShare = "R1", ptr(0.9), ptr(0.9/13)
			d.Fixtures[i] = f
		}
	}
	unsolved := func(d *facts.Document) {
		dropRun(12, 0.9)(d)
		d.Runs[0].Solved = false
	}
	hit := func(severity string, value float64, words string) []expectation {
		return []expectation{{"R1", "", severity, "wire.drop_max", value, words}}
	}
	cases := []struct {
		name   string
		limits []facts.Limit
		facts  func(*facts.Document)
		want   []expectation
	}{
		{"within", advice, dropRun(12, 0.2, 0.5), nil},
		{"at the limit", defect, dropRun(12, 0.6), nil},
		{"above", advice, dropRun(12, 0.2, 0.9, 0.4), hit("advice", 0.9/12, "loses 0.9 V on the way to lamp B, 8 % of its 12.0 V tap")},
		{"a lower drop is advised", three, dropRun(12, 0.9), hit("advice", 0.9/12, "the limit is 5 %, and 3 % is advised (wire")},
		{"between the two", three, dropRun(12, 0.5), nil},
		{"just above shows", defect, dropRun(12, 0.6012), hit("defect", 0.6012/12, "5.01 %")},
		{"above, a standard's rule", defect, dropRun(12, 0.9), hit("defect", 0.9/12, "")},
		{"severity not stated", []facts.Limit{five}, dropRun(12, 0.9), hit("advice", 0.9/12, "")},
		{"tap on purpose, windows hold", advice, dropRun(13, 0.2, 0.9), nil},
		{"tap on purpose, but a standard's rule", defect, dropRun(13, 0.9), hit("defect", 0.9/13, "")},
		{"tap on purpose, a lamp starved", advice, starvedOn13, hit("advice", 0.9/13, "")},
		{"tap on purpose, a lamp overfed", advice, overfedOn13, hit("advice", 0.9/13, "")},
		{"tap on purpose, a window not known", advice, unknownOn13, hit("advice", 0.9/13, "")},
		{"tap on purpose, filaments hold at nominal supply", advice, filamentOn13, nil},
		{"no answer", advice, unsolved, nil},
		{"no lamps", advice, dropRun(12), nil},
		{"no limit", nil, dropRun(12, 3), nil},
	}
	for _, c := range cases {
		t.Run(c.name, func(t *testing.T) {
			expect(t, judged(document(c.limits, c.facts), "wire.excess-drop"), c.want...)
		})
	}
}

func TestUndersized(t *testing.T) {
	// 1.5 mm2, and 1 mm2 for a flexible cable up to 3 m: IEC 60364-7-715, first edition.
	sizes := []facts.Limit{
		number("wire.smallest_mm2", 1.5, "mm2"), number("wire.smallest_flexible_mm2", 1, "mm2"), number("wire.smallest_flexible_m", 3, "m"),
	}
	leg := func(change func(*facts.Leg)) func(*facts.Document) {
		l := facts.Leg{ID: "w3", Conductor: "12 AWG", AreaMM2: 3.31, Amps: 12, AmpsCorner: "low supply, hot cable",
			AmpacityA: ptr(20.0), AmpacitySource: "table", LengthM: ptr(6.0)}
		change(&l)
		return func(d *facts.Document) { d.Legs = []facts.Leg{l} }
	}
	thin := func(area float64, flexible bool, length *float64) func(*facts.Document) {
		return leg(func(l *facts.Leg) { l.AreaMM2, l.Flexible, l.LengthM = area, flexible, length })
	}
	cases := []struct {
		name   string
		limits []facts.Limit
		facts  func(*facts.Document)
		want   []expectation
	}{
		{"well", sizes, leg(func(*facts.Leg) {}), nil},
		{"at its ampacity", nil, leg(func(l *facts.Leg) { l.Amps = 20 }), nil},
		{"above the table", nil, leg(func(l *facts.Leg) { l.Amps = 21 }),
			[]expectation{{"w3", "load", "", "wire.ampacity", 21, "carries 21.0 A at low supply, hot cable; its 12 AWG cable may carry 20.0 A"}}},
		{"above its mark", nil, leg(func(l *facts.Leg) { l.Amps, l.AmpacityMarked = 21, true }), []expectation{{"w3", "load", "", "", 21, ""}}},
		{"device above the mark", nil, leg(func(l *facts.Leg) { l.AmpacityMarked, l.DeviceAmps = true, ptr(25.0) }),
			[]expectation{{"w3", "device", "advice", "", 25, "marked 20.0 A) sits behind a 25.0 A device"}}},
		{"device above the mark and the table", nil, leg(func(l *facts.Leg) {
			l.AmpacityMarked, l.DeviceAmps = true, ptr(25.0)
			l.LargestDeviceA, l.LargestDeviceSource = ptr(20.0), "240.4(D)"
		}), []expectation{{"w3", "device", "advice", "", 25, "(for reference: 240.4(D) has 20.0 A as the largest device on 12 AWG)"}}},
		{"device above the table only", nil, leg(func(l *facts.Leg) { l.DeviceAmps = ptr(25.0) }), nil},
		{"device at the mark", nil, leg(func(l *facts.Leg) { l.AmpacityMarked, l.DeviceAmps = true, ptr(20.0) }), nil},
		{"overload says enough", nil, leg(func(l *facts.Leg) { l.Amps, l.AmpacityMarked, l.DeviceAmps = 21, true, ptr(25.0) }),
			[]expectation{{"w3", "load", "", "", 21, ""}}},
		{"ampacity not known", nil, leg(func(l *facts.Leg) { l.Amps, l.AmpacityA = 90, nil }), nil},
		{"thin", sizes, thin(1.0, false, ptr(2.0)),
			[]expectation{{"w3", "smallest size", "advice", "wire.smallest_mm2", 1.0, "smallest conductor is 1.5 mm²"}}},
		{"thin, short and flexible", sizes, thin(1.0, true, ptr(3.0)), nil},
		{"thinner, short and flexible", sizes, thin(0.75, true, ptr(3.0)),
			[]expectation{{"w3", "smallest size", "advice", "wire.smallest_flexible_mm2", 0.75, ""}}},
		{"thin, long and flexible", sizes, thin(1.0, true, ptr(3.5)), []expectation{{"w3", "smallest size", "advice", "wire.smallest_mm2", 1.0, ""}}},
		{"thin and flexible, length not known", sizes, thin(1.0, true, nil), []expectation{{"w3", "smallest size", "advice", "wire.smallest_mm2", 1.0, ""}}},
		{"no smallest size", nil, thin(0.5, false, nil), nil},
	}
	for _, c := range cases {
		t.Run(c.name, func(t *testing.T) {
			expect(t, judged(document(c.limits, c.facts), "wire.undersized"), c.want...)
		})
	}
}

// TestMarkedCableIsAListing holds that a mark is cited in place of the table.
func TestMarkedCableIsAListing(t *testing.T) {
	doc := document(nil, func(d *facts.Document) {
		d.Legs = []facts.Leg{{ID: "w3", Amps: 21, AmpacityA: ptr(20.0), AmpacityMarked: true}}
	})
	hits := judged(doc, "wire.undersized")
	if len(hits) != 1 || hits[0].Basis != "listing" || hits[0].Source != "ampacity marked on the cable" {
		t.Errorf("hits %+v", hits)
	}
}

func TestNoSolution(t *testing.T) {
	cases := []struct {
		name string
		run  facts.Run
		want []expectation
	}{
		{"solved", facts.Run{ID: "R1", Solved: true}, nil},
		{"bounded", facts.Run{ID: "R1", ConnectedVA: 72, Corner: "nominal supply", CouldCarryVA: ptr(68.0)},
			[]expectation{{"R1", "", "", "", 72, "the most it could feed is about 68 VA"}}},
		{"not bounded", facts.Run{ID: "R1", ConnectedVA: 72, Corner: "low supply, hot cable"},
			[]expectation{{"R1", "", "", "", 72, "72 VA of constant-power lamps (low supply, hot cable)"}}},
	}
	for _, c := range cases {
		t.Run(c.name, func(t *testing.T) {
			doc := document(nil, func(d *facts.Document) { d.Runs = []facts.Run{c.run} })
			expect(t, judged(doc, "wire.no-solution"), c.want...)
		})
	}
}
