package site

import (
	"cmp"
	"math"
	"slices"

	"gonum.org/v1/gonum/spatial/r2"
)

// Reach compares a cord with the way it has to bridge.
type Reach struct {
	// NeedM is the straight distance in metres between the two ends, height
	// included: the least that any cord can bridge.
	NeedM float64
	// SpareM is the cord's length less NeedM; negative when it cannot
	// reach. A drip loop and the way round a corner come out of it.
	SpareM float64
}

// Reaches reports whether the cord can reach at all.
func (r Reach) Reaches() bool { return r.SpareM >= -TouchM }

// CordReach returns whether a cord reaches from a transformer to a receptacle,
// given their places and their heights above the same ground, in metres. The
// values are NaN when something is unusable.
func CordReach(transformer r2.Vec, transformerHeightM float64, receptacle r2.Vec, receptacleHeightM, cordM float64) Reach {
	if !Usable(transformer, receptacle) || !Known(transformerHeightM) || !Known(receptacleHeightM) || !usableSize(cordM) {
		return Reach{math.NaN(), math.NaN()}
	}
	need := math.Hypot(dist(transformer, receptacle), transformerHeightM-receptacleHeightM)
	return Reach{NeedM: need, SpareM: cordM - need}
}

// Placed is a fixture at a point.
type Placed struct {
	ID string
	At r2.Vec
}

// Beside is a fixture beside a path.
type Beside struct {
	ID string
	Place
}

// Interval is the way along a path from one fixture to the next.
type Interval struct {
	// FromID and ToID are the fixtures' ids; FromID is empty before the
	// first fixture and ToID is empty after the last.
	FromID, ToID string
	// Span is where it lies along the path.
	Span
}

// Facing is a pair of fixtures opposite each other.
type Facing struct {
	// Left and Right are the ids.
	Left, Right string
	// StationM is the middle of their two stations, in metres.
	StationM float64
	// ApartM is the distance between them along the path, in metres.
	ApartM float64
}

// Rhythm is how fixtures follow one another along a path.
type Rhythm struct {
	// LengthM is the length of the path's centreline.
	LengthM float64
	// Fixtures are those beside the path, by rising station, then id.
	Fixtures []Beside
	// Intervals run from the start of the path to the first fixture, from
	// each fixture to the next, and from the last to the end of the path.
	// Without fixtures there is one, the whole path.
	Intervals []Interval
	// Opposite are the pairs that face each other, by rising station. A
	// fixture is in one pair at most.
	Opposite []Facing
	// MeanM and SpreadM are the mean of the intervals between fixtures and
	// their standard deviation (about the mean, divided by their number),
	// in metres. They are NaN with fewer than two fixtures. Fixtures at one
	// station, within oppositeM, count as one here.
	MeanM, SpreadM float64
}

// Longest returns the longest interval; the first of several. It is the zero
// Interval when there is none.
func (r Rhythm) Longest() Interval {
	var best Interval
	for _, in := range r.Intervals {
		if in.Length() > best.Length() {
			best = in
		}
	}
	return best
}

// RhythmOf returns how fixtures follow one another along a path. Fixtures
// farther than withinM from the centreline are not beside it. Two on opposite
// sides whose stations differ by no more than oppositeM face each other. ok is
// false when the path has no length or something is unusable; fixtures that
// are unusable are left out.
func RhythmOf(path Line, fixtures []Placed, withinM, oppositeM float64) (r Rhythm, ok bool) {
	r.LengthM = path.Length()
	if !(r.LengthM > TouchM) || !usableSize(withinM) || !usableSize(oppositeM) {
		return Rhythm{LengthM: r.LengthM, MeanM: math.NaN(), SpreadM: math.NaN()}, false
	}
	for _, f := range fixtures {
		if at, ok := path.Locate(f.At); ok && at.OffsetM <= withinM+TouchM {
			r.Fixtures = append(r.Fixtures, Beside{f.ID, at})
		}
	}
	slices.SortStableFunc(r.Fixtures, func(a, b Beside) int {
		return cmp.Or(cmp.Compare(a.StationM, b.StationM), cmp.Compare(a.ID, b.ID))
	})
	r.Intervals = intervals(r.Fixtures, r.LengthM)
	r.Opposite = facing(r.Fixtures, oppositeM)
	r.MeanM, r.SpreadM = spacing(r.Fixtures, oppositeM)
	return r, true
}

func intervals(fixtures []Beside, length float64) []Interval {
	out := make([]Interval, 0, len(fixtures)+1)
	last := Interval{}
	for _, f := range fixtures {
		last.ToID, last.To = f.ID, f.StationM
		out = append(out, last)
		last = Interval{FromID: f.ID, Span: Span{From: f.StationM}}
	}
	last.To = length
	return append(out, last)
}

// facing pairs each fixture with the nearest later one on the other side.
func facing(fixtures []Beside, oppositeM float64) []Facing {
	var out []Facing
	paired := make([]bool, len(fixtures))
	for i, a := range fixtures {
		for j := i + 1; j < len(fixtures) && !paired[i]; j++ {
			b := fixtures[j]
			if b.StationM-a.StationM > oppositeM+TouchM {
				break
			}
			if paired[j] || a.Side == OnLine || b.Side != a.Side.Opposite() {
				continue
			}
			paired[i], paired[j] = true, true
			f := Facing{a.ID, b.ID, (a.StationM + b.StationM) / 2, b.StationM - a.StationM}
			if a.Side == Right {
				f.Left, f.Right = b.ID, a.ID
			}
			out = append(out, f)
		}
	}
	return out
}

// spacing returns mean and standard deviation of the distances between
// successive stations, with stations within sameM of the first of a group
// taken as one.
func spacing(fixtures []Beside, sameM float64) (mean, spread float64) {
	var stations []float64
	for _, f := range fixtures {
		if n := len(stations); n > 0 && f.StationM-stations[n-1] <= sameM+TouchM {
			continue
		}
		stations = append(stations, f.StationM)
	}
	n := float64(len(stations) - 1)
	if n < 1 {
		return math.NaN(), math.NaN()
	}
	mean = (stations[len(stations)-1] - stations[0]) / n
	for i := 1; i < len(stations); i++ {
		d := stations[i] - stations[i-1] - mean
		spread += d * d
	}
	return mean, math.Sqrt(spread / n)
}
