package diagnose

import (
	"math"

	"gonum.org/v1/gonum/mat"
)

// fitted is one explanation at its best.
type fitted struct {
	size      float64
	nu        nuisances
	misfit    float64
	predicted []float64
}

// step of the numerical derivatives, relative.
const derivativeStep = 1e-3

// slopes returns the derivative of every reading by every nuisance.
func (m *model) slopes(apply change, size float64, at []float64) [][3]float64 {
	out := make([][3]float64, len(at))
	for k := range m.sigma {
		var nu nuisances
		nu[k] = derivativeStep
		moved := m.predict(apply, size, nu)
		if moved == nil {
			continue
		}
		for i := range at {
			out[i][k] = (moved[i] - at[i]) / derivativeStep
		}
	}
	return out
}

// absorb finds the nuisances that bring the prediction nearest to the readings
// (weighted least squares with the nuisances' own spread), and the misfit.
func (m *model) absorb(at []float64, slopes [][3]float64) (nu nuisances, misfit float64) {
	normal, right := mat.NewSymDense(3, nil), mat.NewVecDense(3, nil)
	for k := range 3 {
		normal.SetSym(k, k, 1/(m.sigma[k]*m.sigma[k]))
	}
	for i, r := range m.readings {
		w := 1 / (r.Sigma * r.Sigma)
		for a := range 3 {
			right.SetVec(a, right.AtVec(a)+w*slopes[i][a]*(r.Value-at[i]))
			for b := a; b < 3; b++ {
				normal.SetSym(a, b, normal.At(a, b)+w*slopes[i][a]*slopes[i][b])
			}
		}
	}
	var chol mat.Cholesky
	var x mat.VecDense
	if chol.Factorize(normal) && chol.SolveVecTo(&x, right) == nil {
		for k := range 3 {
			nu[k] = x.AtVec(k)
		}
	}
	for i, r := range m.readings {
		d := r.Value - at[i]
		for k := range 3 {
			d -= slopes[i][k] * nu[k]
		}
		misfit += d * d / (r.Sigma * r.Sigma)
	}
	for k := range 3 {
		misfit += (nu[k] / m.sigma[k]) * (nu[k] / m.sigma[k])
	}
	return nu, misfit
}

// at evaluates an explanation of a given size, with the slopes of the healthy
// model.
func (m *model) at(apply change, size float64, slopes [][3]float64) fitted {
	predicted := m.predict(apply, size, nuisances{})
	if predicted == nil {
		return fitted{size: size, misfit: math.Inf(1)}
	}
	nu, misfit := m.absorb(predicted, slopes)
	return fitted{size, nu, misfit, predicted}
}

// golden is the share of a bracket that a golden-section step keeps.
const golden = 0.6180339887498949

// mostWorse is how many rising sizes in a row may fit worse than the best one
// before larger ones are not looked at: what a cause does to the readings grows
// with its size.
const mostWorse = 2

// coarse evaluates an explanation at each of a list of rising sizes, until it is
// past the best one, and returns that and its place in the list; -1 when none
// has an answer.
func (m *model) coarse(apply change, sizes []float64, slopes [][3]float64) (best fitted, where int) {
	best, where = fitted{misfit: math.Inf(1)}, -1
	for i, size := range sizes {
		if f := m.at(apply, size, slopes); f.misfit < best.misfit {
			best, where = f, i
		}
		if where >= 0 && i-where >= mostWorse {
			break
		}
	}
	return best, where
}

// narrow searches between the neighbours of the best size, on a logarithmic
// scale, by the golden section.
func (m *model) narrow(apply change, sizes []float64, slopes [][3]float64, best fitted, where int) fitted {
	low, high := math.Log(sizes[max(0, where-1)]), math.Log(sizes[min(len(sizes)-1, where+1)])
	a, b := high-golden*(high-low), low+golden*(high-low)
	fa, fb := m.at(apply, math.Exp(a), slopes), m.at(apply, math.Exp(b), slopes)
	for range searchSteps {
		for _, f := range []fitted{fa, fb} {
			if f.misfit < best.misfit {
				best = f
			}
		}
		if fa.misfit < fb.misfit {
			high, b, fb = b, a, fa
			a = high - golden*(high-low)
			fa = m.at(apply, math.Exp(a), slopes)
		} else {
			low, a, fa = a, b, fb
			b = low + golden*(high-low)
			fb = m.at(apply, math.Exp(b), slopes)
		}
	}
	return best
}

// refine evaluates a fit with slopes at its own place, where the healthy ones
// no longer hold.
func (m *model) refine(apply change, f fitted) fitted {
	own := m.slopes(apply, f.size, f.predicted)
	f.nu, f.misfit = m.absorb(f.predicted, own)
	moved := m.predict(apply, f.size, f.nu)
	if moved == nil {
		return f
	}
	// What the readings see of this explanation, nuisances included.
	f.predicted = moved
	return f
}
