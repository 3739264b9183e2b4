package wire

import "math"

// ImpedanceOf returns the bracket for a known impedance voltage in percent
// (the share of rated volts that drives rated current into a shorted
// secondary). The split is bracketed by the largest reactance over resistance
// that the caller holds possible: at the low end the resistance is
// z/sqrt(1+ratio^2), at the high end the whole of z. Below about 1 kVA a ratio
// of 1 is a wide bracket (common practice, no source).
func ImpedanceOf(percent, mostXOverR float64) ImpedanceRange {
	z := percent / 100
	r := z / math.Hypot(1, mostXOverR)
	return ImpedanceRange{
		Low:  Impedance{R: r, X: r * mostXOverR},
		High: Impedance{R: z},
	}
}

// ImpedanceBetween brackets an unknown impedance between two percentages,
// each split as ImpedanceOf does at the end that matters.
func ImpedanceBetween(lowPercent, highPercent, mostXOverR float64) ImpedanceRange {
	return ImpedanceRange{
		Low:  ImpedanceOf(lowPercent, mostXOverR).Low,
		High: ImpedanceOf(highPercent, mostXOverR).High,
	}
}

// ImpedanceFromRegulation returns the impedance for a stated regulation in
// percent: (no-load volts - rated-load volts) / rated-load volts at unity
// power factor. The resistance is on the base of the stated tap volts, so it
// depends on where those hold. Reactance hides from regulation; the caller
// gives the largest reactance over resistance it holds possible, which counts
// for faults only.
func ImpedanceFromRegulation(percent, mostXOverR float64, stated TapBasis) ImpedanceRange {
	r := percent / 100
	if stated != AtRatedLoad {
		r /= 1 + r
	}
	return ImpedanceRange{
		Low:  Impedance{R: r},
		High: Impedance{R: r, X: r * mostXOverR},
	}
}

// ImpedanceFromBoth returns the impedance where percent impedance and
// regulation are both known: R from regulation, X = sqrt(Z^2 - R^2).
func ImpedanceFromBoth(percent, regulation float64, stated TapBasis) ImpedanceRange {
	z := Impedance{R: ImpedanceFromRegulation(regulation, 0, stated).High.R}
	if rest := (percent/100)*(percent/100) - z.R*z.R; rest > 0 {
		z.X = math.Sqrt(rest)
	}
	return ImpedanceRange{Low: z, High: z}
}
