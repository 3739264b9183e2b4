package light

// Stats sums up the illuminance on a set of points.
//
// Uniformity is stated in three conventions that are easily confused, and the
// standard that sets a limit says which one it means.
type Stats struct {
	Points                 int
	MinLux, AvgLux, MaxLux float64
	MinAt, MaxAt           int // index of the first least and first greatest point
}

// Summarise returns the statistics of values in lux; the zero value for none.
func Summarise(lux []float64) Stats {
	if len(lux) == 0 {
		return Stats{}
	}
	s := Stats{Points: len(lux), MinLux: lux[0], MaxLux: lux[0]}
	sum := 0.0
	for i, v := range lux {
		sum += v
		if v < s.MinLux {
			s.MinLux, s.MinAt = v, i
		}
		if v > s.MaxLux {
			s.MaxLux, s.MaxAt = v, i
		}
	}
	s.AvgLux = sum / float64(len(lux))
	return s
}

// Uo is least over average (EN 13201-2, EN 12464-2): larger is better, 1 is
// even. ok is false where the average is 0.
func (s Stats) Uo() (ratio float64, ok bool) { return over(s.MinLux, s.AvgLux) }

// G2 is least over greatest (older German practice): larger is better. ok is
// false where all is dark.
func (s Stats) G2() (ratio float64, ok bool) { return over(s.MinLux, s.MaxLux) }

// AvgToMin is average over least (US practice, ANSI/IES RP-8): smaller is
// better. ok is false where the least is 0, which is no ratio at all.
func (s Stats) AvgToMin() (ratio float64, ok bool) { return over(s.AvgLux, s.MinLux) }

// MaxToMin is greatest over least (US emergency egress): smaller is better. ok
// is false where the least is 0.
func (s Stats) MaxToMin() (ratio float64, ok bool) { return over(s.MaxLux, s.MinLux) }

func over(a, b float64) (float64, bool) {
	if b <= 0 {
		return 0, false
	}
	return a / b, true
}

// Pick returns the values at the given indices.
func Pick(lux []float64, at []int) []float64 {
	out := make([]float64, len(at))
	for i, k := range at {
		out[i] = lux[k]
	}
	return out
}

// Stretch is a piece of a line between two stations in metres, with the least
// illuminance on it.
type Stretch struct {
	FromM, ToM float64
	MinLux     float64
}

// LengthM is the length of the stretch.
func (s Stretch) LengthM() float64 { return s.ToM - s.FromM }

// DarkStretches returns the stretches of a line below a level, in order.
// stationsM rise; lux holds the value at each; totalM is the length of the
// line. Between stations the illuminance is taken to change evenly, and the
// first and last value to hold to the ends of the line.
func DarkStretches(stationsM, lux []float64, level, totalM float64) []Stretch {
	var out []Stretch
	var open *Stretch
	for i := range min(len(stationsM), len(lux)) {
		dark := lux[i] < level
		switch {
		case dark && open == nil:
			from := 0.0
			if i > 0 {
				from = meets(stationsM, lux, i, level)
			}
			out = append(out, Stretch{FromM: from, ToM: totalM, MinLux: lux[i]})
			open = &out[len(out)-1]
		case dark:
			open.MinLux = min(open.MinLux, lux[i])
		case open != nil:
			open.ToM = meets(stationsM, lux, i, level)
			open = nil
		}
	}
	return out
}

// meets is the station between i-1 and i at which the illuminance is level.
func meets(stationsM, lux []float64, i int, level float64) float64 {
	u := (level - lux[i-1]) / (lux[i] - lux[i-1])
	return stationsM[i-1] + u*(stationsM[i]-stationsM[i-1])
}

// Longest returns the longest stretch, the first of equals; ok is false for none.
func Longest(stretches []Stretch) (longest Stretch, ok bool) {
	for _, s := range stretches {
		if !ok || s.LengthM() > longest.LengthM() {
			longest, ok = s, true
		}
	}
	return longest, ok
}

// LuxPerFootcandle is exact by the definition of the foot: 1 fc is 1 lm/ft2.
// Codes print rounded lux (11, 10.8, 108); a profile keeps the printed value.
const LuxPerFootcandle = 1 / (0.3048 * 0.3048)
