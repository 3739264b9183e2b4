package light

import (
	"errors"
	"math"
	"sort"

	"gonum.org/v1/gonum/spatial/r2"
	"gonum.org/v1/gonum/spatial/r3"
)

// polyline is a line on the plan with its stations.
type polyline struct {
	points   []r3.Vec
	stations []float64 // level distance from the start to each point
}

var errNoLine = errors.New("a line needs two different points, all of them numbers")

func newPolyline(points []r3.Vec) (polyline, error) {
	l := polyline{}
	for _, p := range points {
		if !finite(p.X, p.Y, p.Z) {
			return l, errNoLine
		}
		if n := len(l.points); n > 0 {
			d := math.Hypot(p.X-l.points[n-1].X, p.Y-l.points[n-1].Y)
			if d == 0 {
				continue
			}
			l.stations = append(l.stations, l.stations[n-1]+d)
		} else {
			l.stations = []float64{0}
		}
		l.points = append(l.points, p)
	}
	if len(l.points) < 2 || !finite(l.total()) {
		return l, errNoLine
	}
	return l, nil
}

// total is the level length in metres.
func (l *polyline) total() float64 { return l.stations[len(l.stations)-1] }

// at returns the point at a station and the level unit direction there.
func (l *polyline) at(station float64) (r3.Vec, r2.Vec) {
	i := sort.SearchFloat64s(l.stations, station)
	i = min(max(i, 1), len(l.points)-1)
	a, b := l.points[i-1], l.points[i]
	run := l.stations[i] - l.stations[i-1]
	u := min(1, max(0, (station-l.stations[i-1])/run))
	d := r3.Sub(b, a)
	return r3.Add(a, r3.Scale(u, d)), r2.Vec{X: d.X / run, Y: d.Y / run}
}
