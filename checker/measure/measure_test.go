package measure

import "testing"

// The foot is 0.3048 m exactly and the inch 25.4 mm exactly (international
// yard and pound agreement, 1959).
func TestLength(t *testing.T) {
	for _, c := range []struct {
		m     float64
		units string
		want  string
	}{
		{0.1524, "ft", "6 in"},
		{3.81, "ft", "12 ft 6 in"},
		{3.048, "ft", "10 ft"},
		{0.0889, "ft", "3.5 in"},
		{-0.0508, "ft", "-2 in"},
		{3.6575, "ft", "12 ft"},
		{1.8, "m", "1.80 m"},
		{0.45, "m", "450 mm"},
		{-0.0001, "m", "0 mm"},
	} {
		if have := Length(c.m, c.units); have != c.want {
			t.Errorf("Length(%v, %q) = %q, want %q", c.m, c.units, have, c.want)
		}
	}
}

func TestPairShowsTheBreach(t *testing.T) {
	for _, c := range []struct {
		v, l         float64
		unit, units  string
		wantV, wantL string
	}{
		{10.1, 10.8, "V", "ft", "10.1 V", "10.8 V"},
		{10.79, 10.8, "V", "ft", "10.79 V", "10.80 V"},
		{25.001, 25, "A", "ft", "25.001 A", "25.000 A"},
		{0.1523, 0.1524, "m", "ft", "5.996 in", "6.000 in"},
		{1.7996, 1.8, "m", "m", "1.7996 m", "1.8000 m"},
		{5, 5, "lx", "m", "5.0 lx", "5.0 lx"},
	} {
		v, l := Pair(c.v, c.l, c.unit, c.units)
		if v != c.wantV || l != c.wantL {
			t.Errorf("Pair(%v, %v, %s) = %q, %q; want %q, %q", c.v, c.l, c.unit, v, l, c.wantV, c.wantL)
		}
	}
}

func TestSharePair(t *testing.T) {
	if v, l := SharePair(0.0504, 0.05); v != "5.04 %" || l != "5.00 %" {
		t.Errorf("have %q, %q", v, l)
	}
	if v := Share(0.0525); v != "5.2 %" && v != "5.3 %" {
		t.Errorf("have %q", v)
	}
}
