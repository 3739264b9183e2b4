package light

import "math"

// integrate returns the integral of the interpolated candela, as written, over
// the sphere. It is exact: the weight of the sphere times a straight line has a
// closed form along one angle, and along the other the integrand is a chain of
// straight lines.
func (p *Photometry) integrate() float64 {
	if p.Type == TypeB {
		// The small circle is the horizontal angle; planes are vertical angles.
		return p.sides() * integrateGrid(p.HorizontalDeg, p.VerticalDeg, cosWeight,
			func(i, j int) float64 { return p.Candela[i][j] })
	}
	weight := sinWeight
	if p.Type == TypeA {
		weight = cosWeight
	}
	column := func(j, i int) float64 { return p.Candela[i][j] }
	if len(p.HorizontalDeg) == 1 {
		return 2 * math.Pi * integrateLine(p.VerticalDeg, weight, func(j int) float64 { return p.Candela[0][j] })
	}
	planes := p.HorizontalDeg
	if p.symmetry() == mirrorNone && p.Type == TypeC && planes[len(planes)-1] < 360 {
		planes = append(append([]float64(nil), planes...), 360)
		column = func(j, i int) float64 { return p.Candela[i%len(p.Candela)][j] }
	}
	return p.sides() * integrateGrid(p.VerticalDeg, planes, weight, column)
}

// sides is how often the stored range of horizontal angles goes round.
func (p *Photometry) sides() float64 {
	switch p.symmetry() {
	case mirrorQuarter:
		return 4
	case mirrorFront, mirrorSide:
		return 2
	}
	return 1
}

// integrateGrid integrates over weighted angles in one direction and plain
// angles in the other.
func integrateGrid(weighted, plain []float64, weight lineWeight, at func(i, j int) float64) float64 {
	sum := 0.0
	for j := 1; j < len(plain); j++ {
		width := radians(plain[j] - plain[j-1])
		sum += width * integrateLine(weighted, weight, func(i int) float64 { return (at(i, j-1) + at(i, j)) / 2 })
	}
	return sum
}

// integrateLine integrates a chain of straight lines against a weight.
func integrateLine(deg []float64, weight lineWeight, at func(i int) float64) float64 {
	sum := 0.0
	for i := 1; i < len(deg); i++ {
		a, b := radians(deg[i-1]), radians(deg[i])
		slope := (at(i) - at(i-1)) / (b - a)
		sum += weight(b, at(i), slope) - weight(a, at(i-1), slope)
	}
	return sum
}

// lineWeight is the antiderivative of (value and slope of a line) times a weight.
type lineWeight func(angle, value, slope float64) float64

func sinWeight(x, value, slope float64) float64 { return slope*math.Sin(x) - value*math.Cos(x) }
func cosWeight(x, value, slope float64) float64 { return value*math.Sin(x) + slope*math.Cos(x) }
