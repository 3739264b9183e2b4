package policy

import "time"

// Limits bound one evaluation of rules over one plan.
type Limits struct {
	// Rule is how long one rule may take.
	Rule time.Duration
	// Total is how long all rules may take together.
	Total time.Duration
	// Grace is how long an evaluation that was told to stop may take to do
	// so before it is given up.
	Grace time.Duration
	// Hits is how many hits one rule may make.
	Hits int
	// HitBytes is how large one rule's hits may be together, counting
	// their text.
	HitBytes int
	// Memory is how many bytes the heap may grow while one rule runs.
	Memory uint64
}

// DefaultLimits are generous: a plan of 2,000 fixtures takes a tenth of them.
func DefaultLimits() Limits {
	return Limits{
		Rule:     2 * time.Second,
		Total:    8 * time.Second,
		Grace:    200 * time.Millisecond,
		Hits:     20_000,
		HitBytes: 8 << 20,
		Memory:   512 << 20,
	}
}

// orDefaults fills in the limits that are zero.
func (l Limits) orDefaults() Limits {
	d := DefaultLimits()
	l.Rule = orDefault(l.Rule, d.Rule)
	l.Total = orDefault(l.Total, d.Total)
	l.Grace = orDefault(l.Grace, d.Grace)
	l.Hits = orDefault(l.Hits, d.Hits)
	l.HitBytes = orDefault(l.HitBytes, d.HitBytes)
	l.Memory = orDefault(l.Memory, d.Memory)
	return l
}

func orDefault[T time.Duration | int | uint64](value, otherwise T) T {
	if value <= 0 {
		return otherwise
	}
	return value
}
