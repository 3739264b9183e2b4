package report

import (
	"math"
	"strconv"
	"testing"
)

// luminance is the relative luminance of a colour, as WCAG 2.2 of the W3C
// defines it.
func luminance(t *testing.T, hex string) float64 {
	t.Helper()
	n, err := strconv.ParseUint(hex[1:], 16, 32)
	if err != nil {
		t.Fatal(err)
	}
	linear := func(shift uint) float64 {
		c := float64(n>>shift&255) / 255
		if c <= 0.04045 {
			return c / 12.92
		}
		return math.Pow((c+0.055)/1.055, 2.4)
	}
	return 0.2126*linear(16) + 0.7152*linear(8) + 0.0722*linear(0)
}

// TestContrast holds the contrast that WCAG 2.2 asks for at level AA: 4.5 to 1
// for text (1.4.3), 3 to 1 for signs (1.4.11), by day and by night.
func TestContrast(t *testing.T) {
	ratio := func(a, b float64) float64 { return (max(a, b) + 0.05) / (min(a, b) + 0.05) }
	if r := ratio(luminance(t, "#ffffff"), luminance(t, "#000000")); math.Abs(r-21) > 1e-9 {
		t.Fatalf("white on black is %g to 1, the standard says 21", r)
	}
	for _, night := range []bool{false, true} {
		colour := map[string]float64{}
		for _, x := range tints {
			hex := x.day
			if night {
				hex = x.night
			}
			colour[x.name] = luminance(t, hex)
		}
		for _, pair := range []struct {
			on, ground string
			least      float64
		}{
			{"ink", "paper", 4.5}, {"ink", "card", 4.5}, {"faint", "paper", 4.5}, {"faint", "card", 4.5},
			{"danger", "paper", 4.5}, {"danger", "card", 4.5}, {"defect", "paper", 4.5}, {"defect", "card", 4.5},
			{"advice", "paper", 4.5}, {"advice", "card", 4.5}, {"caution", "card", 4.5}, {"good", "paper", 4.5},
			{"onmark", "danger", 4.5}, {"onmark", "defect", 4.5}, {"onmark", "advice", 4.5}, {"onmark", "caution", 4.5},
			{"ink", "paving", 4.5}, {"ink", "lawn", 4.5}, {"ink", "bed", 4.5}, {"ink", "drive", 4.5}, {"ink", "water", 4.5}, {"ink", "building", 4.5},
			{"cable", "paper", 3}, {"cable", "drive", 3}, {"cable", "lawn", 3}, {"wall", "paper", 3}, {"accent", "paper", 3}, {"edge", "lamp", 3},
		} {
			if r := ratio(colour[pair.on], colour[pair.ground]); r < pair.least {
				t.Errorf("night %v: %s on %s is %.2f to 1, less than %g", night, pair.on, pair.ground, r, pair.least)
			}
		}
	}
}

// TestBandsGetLighter holds that the scale of light reads without its colours:
// each band is lighter than the one below it.
func TestBandsGetLighter(t *testing.T) {
	last := -1.0
	bands := 0
	for _, x := range tints {
		if len(x.name) == 5 && x.name[:4] == "band" {
			l := luminance(t, x.day)
			if l <= last {
				t.Errorf("%s is no lighter than the one before it", x.name)
			}
			last = l
			bands++
		}
	}
	if bands != len(lightBands)+1 {
		t.Errorf("%d colours for %d bands", bands, len(lightBands)+1)
	}
	for i, top := range lightBands {
		if bandOf(top-1e-9) != i || bandOf(top) != i+1 {
			t.Errorf("%g lx is in band %d", top, bandOf(top))
		}
	}
}
