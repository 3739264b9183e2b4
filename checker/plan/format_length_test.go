package plan_test

import (
	"math"
	"math/rand/v2"
	"testing"

	"duskproof/checker/plan"
)

func TestFormatLength(t *testing.T) {
	for _, c := range []struct {
		metres float64
		units  string
		want   string
	}{
		{0, "ft", "0 in"},
		{0.1524, "ft", "6 in"},     // 6 x 0.0254
		{3.81, "ft", "12 ft 6 in"}, // 150 in
		{0.3048, "ft", "1 ft"},
		{0.1651, "ft", "6 1/2 in"},   // 6.5 in
		{0.034925, "ft", "1 3/8 in"}, // 1.375 in
		{0.0127, "ft", "1/2 in"},
		{0.62865, "ft", "2 ft 3/4 in"}, // 24.75 in
		{-0.4572, "ft", "-1 ft 6 in"},
		{0.304, "ft", "1 ft"}, // 11.968 in, nearest eighth 12
		{0.001, "ft", "0 in"}, // 0.039 in
		{-0.001, "ft", "0 in"},
		{0.45, "m", "450 mm"},
		{1.8, "m", "1.8 m"},
		{0.9996, "m", "1 m"},
		{12.3456, "m", "12.346 m"},
		{-0.05, "m", "-50 mm"},
		{-0.0001, "m", "0 mm"},
		{0, "m", "0 mm"},
		{math.NaN(), "m", "NaN"},
		{math.Inf(1), "ft", "+Inf"},
		{99999.9994, "m", "99999.999 m"},
	} {
		if got := plan.FormatLength(c.metres, c.units); got != c.want {
			t.Errorf("%v m in %s = %q, want %q", c.metres, c.units, got, c.want)
		}
	}
}

// TestFormatLengthIsReadBack writes random lengths and reads them back within
// half a division, and holds that the schema accepts what is written, so that a
// fix can write it into a plan.
func TestFormatLengthIsReadBack(t *testing.T) {
	pattern := schemaPattern(t, "signedLength")
	random := rand.New(rand.NewPCG(1, 2))
	for _, c := range []struct {
		units string
		half  float64 // half a division: 1/16 in, 1/2 mm
	}{{"ft", 0.0254 / 16}, {"m", 0.0005}} {
		for range 2000 {
			metres := (random.Float64() - 0.5) * math.Pow(10, random.Float64()*6-2)
			text := plan.FormatLength(metres, c.units)
			back, err := plan.Parse(plan.Length, text)
			if err != nil || math.Abs(back-metres) > c.half*(1+1e-9) {
				t.Fatalf("%v m is written %q and read as %v, %v", metres, text, back, err)
			}
			if !pattern.MatchString(text) {
				t.Fatalf("the schema refuses %q", text)
			}
			if again := plan.FormatLength(back, c.units); again != text {
				t.Fatalf("%q is written again as %q", text, again)
			}
		}
	}
}
