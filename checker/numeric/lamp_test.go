package numeric

import (
	"testing"

	"duskproof/checker/facts"
)

// The shares of a filament lamp's rating and of an LED's volts: common practice.
var lampLimits = []facts.Limit{
	number("wire.filament_low_advice", 0.9, "1"), number("wire.filament_low_defect", 0.875, "1"),
	number("wire.filament_over_advice", 1.0, "1"), number("wire.filament_over_defect", 1.05, "1"),
	number("wire.led_window_low", 0.875, "1"), number("wire.led_window_high", 1.25, "1"),
}

// lamp is a lamp L7 of one kind with its volts at nominal, low and high supply.
func lamp(load string, nominal, low, high float64) facts.Fixture {
	return facts.Fixture{
		ID: "L7", Load: load, RatedVolts: 12, Fed: true, TapVolts: ptr(12.0),
		NominalVolts: ptr(nominal), LowVolts: ptr(low), LowCorner: "low supply, hot cable",
		HighVolts: ptr(high), HighCorner: "high supply, cold cable, L2 out",
	}
}

func windowed(f facts.Fixture, low, high float64) facts.Fixture {
	f.MinVolts, f.MaxVolts = ptr(low), ptr(high)
	return f
}

func fixture(f facts.Fixture) func(*facts.Document) {
	return func(d *facts.Document) { d.Fixtures = []facts.Fixture{f} }
}

func TestStarved(t *testing.T) {
	dropped := windowed(lamp(constantPower, 11, 9.4, 12.6), 9, 15)
	dropped.DropOutV, dropped.DropsOut, dropped.DropsOutAt = ptr(7.5), true, "low supply, hot cable"
	unsolved := windowed(lamp(constantPower, 1, 1, 1), 9, 15)
	unsolved.NominalVolts = nil
	on24 := lamp(constantPower, 9, 8, 24)
	on24.TapVolts = ptr(24.0)
	cases := []struct {
		name string
		lamp facts.Fixture
		want []expectation
	}{
		{"window holds", windowed(lamp(constantPower, 11, 10, 12.6), 9, 15), nil},
		{"at the edge", windowed(lamp(constantPower, 10.8, 10.8, 12.6), 10.8, 15), nil},
		{"dim every night", windowed(lamp(constantPower, 10.1, 9.5, 12.6), 10.8, 15),
			[]expectation{{"L7", "nominal", "defect", "", 10.1, "gets 10.1 V at nominal supply; its window starts at 10.8 V"}}},
		{"a breach that rounds away shows", windowed(lamp(constantPower, 10.799, 9.5, 12.6), 10.8, 15),
			[]expectation{{"L7", "nominal", "defect", "", 10.799, "10.799 V"}}},
		{"dim in a corner", windowed(lamp(constantPower, 11, 10.1, 12.6), 10.8, 15),
			[]expectation{{"L7", "corner", "advice", "", 10.1, "at low supply, hot cable"}}},
		{"driver goes out", dropped,
			[]expectation{{"L7", "drop-out", "defect", "", 0, "goes out at low supply, hot cable: its driver needs 7.5 V"}}},
		{"filament below its window", windowed(lamp(filament, 10.5, 10, 11), 10.8, 12),
			[]expectation{{"L7", "nominal", "defect", "", 10.5, "10.5 V"}}},
		{"filament without a window, dim", lamp(filament, 10.7, 10.2, 11.2),
			[]expectation{{"L7", "no stated window", "advice", "wire.filament_low_advice", 10.7, "want at least 10.8 V"}}},
		{"filament without a window, dark", lamp(filament, 10.4, 9.9, 11),
			[]expectation{{"L7", "no stated window", "defect", "wire.filament_low_defect", 10.4, "want at least 10.5 V"}}},
		{"filament without a window, well", lamp(filament, 10.8, 10.2, 11.4), nil},
		{"LED without a window", lamp(constantCurrent, 10.4, 9.9, 11),
			[]expectation{{"L7", "no stated window", "advice", "wire.led_window_low", 10.4, "10.5 V"}}},
		{"LED without a window on other volts", on24, nil},
		{"resistor without a window", lamp(resistive, 5, 4, 6), nil},
		{"no volts known", unsolved, nil},
	}
	for _, c := range cases {
		t.Run(c.name, func(t *testing.T) {
			expect(t, judged(document(lampLimits, fixture(c.lamp)), "wire.lamp-starved"), c.want...)
		})
	}
}

// A lamp-out corner is named only where its volts print otherwise than those with
// every lamp on.
func TestLampCornersThatPrint(t *testing.T) {
	over := windowed(lamp(constantPower, 14.8, 14.1, 15.62), 9, 15)
	over.HighCorner = "high supply, cold cable, L2 out"
	for volts, want := range map[float64]string{
		15.58: "gets 15.6 V at high supply, cold cable; its window",
		15.42: "gets 15.6 V at high supply, cold cable, L2 out; its window",
	} {
		over.Corners = []facts.CornerVolts{{Corner: "nominal supply", Volts: 14.8}, {Corner: "high supply, cold cable", Volts: volts}}
		expect(t, judged(document(lampLimits, fixture(over)), "wire.lamp-overfed"), expectation{"L7", "corner", "defect", "", 15.62, want})
	}
	// Close to the limit finer digits print, and tell the corners apart.
	over.HighVolts, over.Corners[1].Volts = ptr(15.02), 14.99
	expect(t, judged(document(lampLimits, fixture(over)), "wire.lamp-overfed"),
		expectation{"L7", "corner", "defect", "", 15.02, "gets 15.02 V at high supply, cold cable, L2 out; its window ends at 15.00 V"})
}

func TestOverfed(t *testing.T) {
	unsolved := windowed(lamp(constantPower, 19, 19, 19), 9, 15)
	unsolved.HighVolts = nil
	on24 := lamp(constantPower, 24, 23, 25)
	on24.TapVolts = ptr(24.0)
	cases := []struct {
		name string
		lamp facts.Fixture
		want []expectation
	}{
		{"LED within", windowed(lamp(constantPower, 12, 11, 15), 9, 15), nil},
		{"LED above", windowed(lamp(constantPower, 15.2, 14.4, 16), 9, 15),
			[]expectation{{"L7", "nominal", "defect", "", 15.2, "its window ends at 15.0 V"}}},
		{"LED above at high supply", windowed(lamp(constantPower, 14.8, 14.1, 15.6), 9, 15),
			[]expectation{{"L7", "corner", "defect", "", 15.6, "at high supply, cold cable, L2 out"}}},
		{"resistor above", windowed(lamp(resistive, 15.2, 14.4, 16), 9, 15),
			[]expectation{{"L7", "nominal", "defect", "", 15.2, ""}}},
		{"resistor above at high supply", windowed(lamp(resistive, 14.8, 14.1, 15.6), 9, 15),
			[]expectation{{"L7", "corner", "advice", "", 15.6, ""}}},
		{"filament to 1.05 of its rating", windowed(lamp(filament, 12.5, 11.9, 13.1), 10.8, 12),
			[]expectation{{"L7", "nominal", "advice", "", 12.5, "its window ends at 12.0 V"}}},
		{"filament at 1.05 of its rating", windowed(lamp(filament, 12.6, 11.9, 13.1), 10.8, 12),
			[]expectation{{"L7", "nominal", "advice", "", 12.6, ""}}},
		{"filament beyond", windowed(lamp(filament, 12.7, 11.9, 13.1), 10.8, 12),
			[]expectation{{"L7", "nominal", "defect", "", 12.7, "burn out"}}},
		{"filament at high supply", windowed(lamp(filament, 11.8, 11.2, 12.4), 10.8, 12),
			[]expectation{{"L7", "corner", "advice", "", 12.4, ""}}},
		{"filament within", windowed(lamp(filament, 11.4, 10.9, 12), 10.8, 12), nil},
		{"filament in a wide window", windowed(lamp(filament, 12.8, 12.2, 13.4), 10.8, 13.5), nil},
		{"filament above a wide window", windowed(lamp(filament, 13.6, 12.2, 14.2), 10.8, 13.5),
			[]expectation{{"L7", "nominal", "defect", "", 13.6, "13.5 V"}}},
		{"filament without a window", lamp(filament, 12.2, 11.6, 12.8),
			[]expectation{{"L7", "nominal", "advice", "wire.filament_over_advice", 12.2, "it is rated for 12.0 V"}}},
		{"LED without a window", lamp(constantPower, 15.1, 14.3, 15.9),
			[]expectation{{"L7", "no stated window", "advice", "wire.led_window_high", 15.1, "stand at most 15.0 V"}}},
		{"LED without a window, well", lamp(constantPower, 12, 11.4, 15.9), nil},
		{"LED without a window on other volts", on24, nil},
		{"resistor without a window", lamp(resistive, 19, 18, 20), nil},
		{"no volts known", unsolved, nil},
	}
	for _, c := range cases {
		t.Run(c.name, func(t *testing.T) {
			expect(t, judged(document(lampLimits, fixture(c.lamp)), "wire.lamp-overfed"), c.want...)
		})
	}
}

// TestLampsWithoutLimits holds that only a stated window judges where no profile
// gives the shares of practice.
func TestLampsWithoutLimits(t *testing.T) {
	for _, load := range []string{filament, constantPower} {
		low, high := fixture(lamp(load, 2, 2, 2)), fixture(lamp(load, 11.9, 11, 11.9))
		expect(t, judged(document(nil, low), "wire.lamp-starved"))
		expect(t, judged(document(nil, high), "wire.lamp-overfed"))
	}
	beyond := fixture(windowed(lamp(filament, 12.1, 11, 13), 10.8, 12))
	expect(t, judged(document(nil, beyond), "wire.lamp-overfed"), expectation{"L7", "nominal", "defect", "", 12.1, ""})
}
