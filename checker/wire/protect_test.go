package wire

import (
	"math"
	"testing"
)

// behindDevice is one cable of the given ampacity behind one device, long enough
// for the short at its end to draw the given amps.
func behindDevice(t *testing.T, ampacity, faultAmps float64, d Device) Protection {
	t.Helper()
	n := Network{
		Feeds: []Feed{{ID: "f", Node: "a", Volts: 12}},
		Legs:  []Leg{loopLeg("w", "a", "b", 12/faultAmps)},
	}
	n.Legs[0].AmpacityAmps, d.Feeds = ampacity, []string{"f"}
	out, err := Protect(n, still(20), []Device{d})
	if err != nil {
		t.Fatal(err)
	}
	return out[0]
}

// IEC 60364-4-43, 433.1 (BS 7671, 433.1.1): a device protects a cable against
// overload where its rating is at most the ampacity, and the current that opens it
// at most 1.45 times the ampacity; such cable counts as protected also against
// faults that cause currents of that size (its scope, note 1). NFPA 70, 240.4,
// asks that the rating be at most the ampacity. Breakers to IEC 60898-1 open at
// 1.45 times their rating within an hour, breakers to UL 489 are tested at 135 %;
// gG fuses open at 1.6 times (from memory).
func TestProtectCoordination(t *testing.T) {
	for _, row := range []struct {
		name                string
		rated, multiple     float64
		ampacity, faultAmps float64
		clears, heats       bool
		heatedAmps, allowed float64
	}{
		{"20 A breaker on a cable of 25 A, 26 A flow", 20, 1.35, 25, 26, false, false, 0, 0},
		{"20 A breaker on 12 AWG of table 310.16, 26 A flow", 20, 1.35, 20, 26, false, false, 0, 0},
		{"20 A breaker on 12 AWG of table 310.16, 15 A flow", 20, 1.35, 20, 15, false, false, 0, 0},
		{"20 A breaker on 12 AWG of table 310.16, ordinary length", 20, 1.35, 20, 60, true, false, 0, 0},
		{"IEC 60898-1 breaker, rating and ampacity alike, just not opened", 20, 1.45, 20, 28.9, false, false, 0, 0},
		{"25 A breaker on 12 AWG of table 310.16", 25, 1.35, 20, 28.9, false, true, 28.9, 20},
		{"25 A breaker on 12 AWG, less than its ampacity flows", 25, 1.35, 20, 19, false, false, 0, 0},
		{"25 A breaker on 14 AWG of table 310.16", 25, 1.35, 15, 18.5, false, true, 18.5, 15},
		{"fuse of 1.6 times, rating and ampacity alike", 20, 1.6, 20, 31, false, true, 31, 29},
		{"fuse of 1.6 times, 433.1 kept by a smaller rating", 16, 1.6, 20, 25, false, false, 0, 0},
	} {
		t.Run(row.name, func(t *testing.T) {
			p := behindDevice(t, row.ampacity, row.faultAmps, Device{Amps: row.rated, TripMultiple: row.multiple, OverloadMultiple: 1.45})
			if p.Clears != row.clears || (len(p.Heated) == 1) != row.heats {
				t.Fatalf("%+v", p)
			}
			if !row.heats {
				return
			}
			near(t, "heated by", p.Heated[0].Amps, row.heatedAmps, 1e-9)
			near(t, "allowed", p.Heated[0].AllowedAmps, row.allowed, 1e-9)
			near(t, "ampacity", p.Heated[0].AmpacityAmps, row.ampacity, 0)
		})
	}
}

// A device on the primary of 120 V is ten times as large to a cable at 12 V: 2 A
// are 20 A there.
func TestProtectCoordinationOnThePrimary(t *testing.T) {
	for _, row := range []struct {
		ampacity float64
		heats    bool
	}{{20, false}, {19.9, true}} {
		p := behindDevice(t, row.ampacity, 26, Device{Amps: 2, TripMultiple: 1.35, OverloadMultiple: 1.45, PrimaryVolts: 120})
		if p.Clears || (len(p.Heated) == 1) != row.heats {
			t.Errorf("%g A: %+v", row.ampacity, p)
		}
		near(t, "needed", p.NeededAmps, 2.7, 1e-12)
		near(t, "at the device", p.FarAmps, 2.6, 1e-9)
	}
}

// A multiple that is no number is refused.
func TestProtectRefusesMultiples(t *testing.T) {
	n := threeLamps()
	for _, d := range []Device{{TripMultiple: math.NaN()}, {OverloadMultiple: math.Inf(1)}, {OverloadMultiple: -1}} {
		if _, err := Protect(n, still(20), []Device{d}); err == nil {
			t.Errorf("%+v taken", d)
		}
	}
}
