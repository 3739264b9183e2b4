package diagnose

import (
	"errors"
	"fmt"
	"math"

	"duskproof/checker/wire"
)

// ErrInput is wrapped by the errors about networks or readings that cannot be
// used.
var ErrInput = errors.New("readings cannot be compared")

const (
	// searchSteps of the golden section after the coarse search.
	searchSteps = 5
	// leading is how far above the best misfit an explanation still counts:
	// a likelihood of a hundredth and less.
	leading = 9.2
	// hopeless is how much worse than the best coarse misfit an explanation
	// may be and still be searched more finely.
	hopeless = 8.0
	// listed bounds the explanations returned.
	listed = 40
	// deviations is how many standard deviations are tolerance.
	deviations = 3.0
)

// Diagnose compares readings with the model of one power unit and ranks the
// single causes that would explain them. The error wraps ErrInput.
func Diagnose(n wire.Network, c Conditions, readings []Reading, o Options) (Result, error) {
	m := newModel(n, c, readings, o)
	if len(readings) == 0 {
		return Result{}, fmt.Errorf("%w: there are none", ErrInput)
	}
	expected := m.predict(nil, 0, nuisances{})
	if expected == nil {
		return Result{}, fmt.Errorf("%w: the model has no answer at these conditions", ErrInput)
	}
	if err := m.checkReadings(expected); err != nil {
		return Result{}, fmt.Errorf("%w: %w", ErrInput, err)
	}
	slopes := m.slopes(nil, 0, expected)
	_, healthy := m.absorb(expected, slopes)
	r := Result{Outcome: Healthy, Expected: expected, HealthyMisfit: healthy, Tolerance: m.tolerance(slopes)}
	least := orDefault(o.LeastGain, DefaultLeastGain)
	if healthy < least {
		return r, nil // nothing could gain enough
	}
	all, changes := m.rank(causes(n, o), slopes, healthy)
	if len(all) == 0 || all[0].Gain < least {
		if healthy > m.chance() {
			r.Outcome = Unexplained
		}
		return r, nil
	}
	m.group(&r, all, changes)
	return r, nil
}

// tolerance is what meter and nuisances explain of each reading.
func (m *model) tolerance(slopes [][3]float64) []float64 {
	out := make([]float64, len(m.readings))
	for i, r := range m.readings {
		v := r.Sigma * r.Sigma
		for k := range m.sigma {
			v += slopes[i][k] * m.sigma[k] * slopes[i][k] * m.sigma[k]
		}
		out[i] = deviations * math.Sqrt(v)
	}
	return out
}

// chance is the misfit that a healthy system seldom exceeds: the mean of the
// chi-squared distribution plus four of its standard deviations.
func (m *model) chance() float64 {
	n := float64(len(m.readings))
	return n + 4*math.Sqrt(2*n)
}

// rank fits every cause and returns those that gain anything, best first, with
// their changes by explanation.
func (m *model) rank(list []cause, slopes [][3]float64, healthy float64) ([]Explanation, map[key]change) {
	fits, where := make([]fitted, len(list)), make([]int, len(list))
	best := math.Inf(1)
	for i, c := range list {
		fits[i], where[i] = m.coarse(c.apply, c.sizes, slopes)
		best = math.Min(best, fits[i].misfit)
	}
	var out []Explanation
	changes := map[key]change{}
	for i, c := range list {
		f := fits[i]
		if where[i] < 0 || f.misfit > hopeless*best+healthy/hopeless+4*leading {
			continue // no size between the coarse ones can lead
		}
		if len(c.sizes) > 1 {
			f = m.narrow(c.apply, c.sizes, slopes, f, where[i])
		}
		if f.misfit >= healthy {
			continue
		}
		if f = m.refine(c.apply, f); f.misfit >= healthy {
			continue
		}
		f.misfit += unlikely[c.kind]
		e := Explanation{Kind: c.kind, Element: c.element, Detail: c.detail, Size: f.size, Misfit: f.misfit,
			Gain: healthy - f.misfit, Predicted: f.predicted}
		if c.kind == Joint || c.kind == LampJoint {
			e.Watts = m.burnt(c, f)
		}
		out = append(out, e)
		changes[keyOf(&e)] = c.apply
	}
	order(out)
	return out, changes
}

// key names an explanation.
type key struct {
	kind            Kind
	element, detail string
}

func keyOf(e *Explanation) key { return key{e.Kind, e.Element, e.Detail} }

// burnt is the power lost in a bad joint.
func (m *model) burnt(c cause, f fitted) float64 {
	s := m.solve(c.apply, f.size, f.nu)
	if s == nil {
		return 0
	}
	amps := 0.0
	if c.kind == Joint {
		amps = read(s, c.element, LegAmps)
	} else {
		for i := range s.Lamps {
			if s.Lamps[i].ID == c.element {
				amps = s.Lamps[i].Amps
			}
		}
	}
	return amps * amps * f.size
}

// group puts together the leading explanations that predict the same readings,
// weighs the groups, and decides.
func (m *model) group(r *Result, all []Explanation, changes map[key]change) {
	best := all[0].Misfit
	var heads []int
	var weights []float64
	total := 0.0
	for i := range all {
		e := &all[i]
		if e.Misfit > best+leading {
			break
		}
		weight := math.Exp(-(e.Misfit - best) / 2)
		for g, head := range heads {
			if m.same(all[head].Predicted, e.Predicted) && e.Misfit-all[head].Misfit < sameMisfit {
				e.Group = g + 1
				break
			}
		}
		if e.Group == 0 {
			heads, weights = append(heads, i), append(weights, weight)
			total += weight
			e.Group = len(heads)
		}
		r.Explanations = append(r.Explanations, *e)
	}
	for i := range r.Explanations {
		e := &r.Explanations[i]
		e.Confidence = weights[e.Group-1] / total
		if e.Group == 1 {
			r.GroupSize++
		}
	}
	r.Outcome = Suspect
	switch {
	case best > 4*m.chance():
		r.Outcome = Unexplained
	case places(r.Explanations) > mostPlaces:
		r.Outcome = Underdetermined
	}
	r.Next = m.next(all, changes, heads)
	if len(r.Explanations) > listed {
		r.Explanations = r.Explanations[:listed]
	}
}

const (
	// sameMisfit is how little two misfits may differ within one group.
	sameMisfit = 3.0
	// mostPlaces is how many places a best group may span before it is no
	// answer.
	mostPlaces = 8
)

// places counts the elements of the best group.
func places(list []Explanation) int {
	seen := map[string]bool{}
	for i := range list {
		if list[i].Group == 1 {
			seen[list[i].Element] = true
		}
	}
	return len(seen)
}

// same reports whether two predictions differ by less than the meter shows.
func (m *model) same(a, b []float64) bool {
	sum := 0.0
	for i, r := range m.readings {
		d := (a[i] - b[i]) / r.Sigma
		sum += d * d
	}
	return sum < 4
}

// next looks for the reading that differs most between the leading
// explanations: those of the best group among themselves, then the groups.
func (m *model) next(all []Explanation, changes map[key]change, heads []int) *NextReading {
	var rivals []int
	for i := range all {
		if all[i].Group == 1 && len(rivals) < 6 {
			rivals = append(rivals, i)
		}
	}
	for _, h := range heads[1:] {
		if len(rivals) < 8 {
			rivals = append(rivals, h)
		}
	}
	if len(rivals) < 2 {
		return nil
	}
	var solutions []*wire.Solution
	for _, i := range rivals {
		if s := m.solve(changes[keyOf(&all[i])], all[i].Size, nuisances{}); s != nil {
			solutions = append(solutions, s)
		}
	}
	if len(solutions) < 2 {
		return nil
	}
	return m.widest(solutions)
}

// usualSigma is what an ordinary meter shows, for readings not yet taken.
var usualSigma = map[Quantity]float64{LampVolts: 0.05, NodeVolts: 0.05, LegAmps: 0.1}

// widest finds the place where solutions differ most, in meter deviations.
func (m *model) widest(solutions []*wire.Solution) *NextReading {
	var best *NextReading
	most := deviations
	consider := func(at string, q Quantity) {
		if m.taken(at, q) {
			return
		}
		next := NextReading{At: at, Quantity: q}
		low, high := math.Inf(1), math.Inf(-1)
		for _, s := range solutions {
			v := read(s, at, q)
			if math.IsNaN(v) {
				return
			}
			next.Predicted = append(next.Predicted, v)
			low, high = math.Min(low, v), math.Max(high, v)
		}
		if spread := (high - low) / usualSigma[q]; spread > most {
			most, best = spread, &next
		}
	}
	for _, load := range m.net.Loads {
		consider(load.ID, LampVolts)
	}
	for _, node := range nodesOf(m.net) {
		if !m.hasLoad(node) {
			consider(node, NodeVolts) // a lamp is read at the lamp
		}
	}
	for _, leg := range m.net.Legs {
		consider(leg.ID, LegAmps)
	}
	return best
}

func (m *model) hasLoad(node string) bool {
	for i := range m.net.Loads {
		if m.net.Loads[i].Node == node {
			return true
		}
	}
	return false
}

func (m *model) taken(at string, q Quantity) bool {
	for _, r := range m.readings {
		if r.At == at && r.Quantity == q {
			return true
		}
	}
	return false
}
