package plan

import "math"

// value reads a quantity at s/key. It is nil when the plan does not say or when
// it cannot be read, which is reported.
func (r *resolver) value(s spot, key string, q Quantity, m Measure) *float64 {
	if !q.Set {
		return nil
	}
	v, err := q.Value(m, r.units)
	if err != nil {
		r.dangling(s.key(key), "%v", err)
		return nil
	}
	return &v
}

// length reads a length that may be negative: a coordinate, an elevation.
func (r *resolver) length(s spot, key string, q Quantity) *float64 {
	return r.value(s, key, q, Length)
}

// tiny is the smallest size that can be meant, in the unit of the measure: a
// micrometre, a microvolt. What drawing programs leave of a nought is smaller.
const tiny = 1e-6

// amount reads a quantity that cannot be negative. What is too small to be meant
// is nought.
func (r *resolver) amount(s spot, key string, q Quantity, m Measure) *float64 {
	v := r.value(s, key, q, m)
	if v != nil && *v < 0 {
		r.conflict(s.key(key), "%s here cannot be negative", aKind(m.String()))
		return nil
	}
	if v != nil && *v < tiny {
		*v = 0
	}
	return v
}

// extent reads a length that cannot be negative.
func (r *resolver) extent(s spot, key string, q Quantity) *float64 {
	return r.amount(s, key, q, Length)
}

// size reads a quantity that must be above 0.
func (r *resolver) size(s spot, key string, q Quantity, m Measure) *float64 {
	v := r.value(s, key, q, m)
	if v != nil && *v < tiny {
		r.conflict(s.key(key), "%s here must be more than 0", aKind(m.String()))
		return nil
	}
	return v
}

// vital reads a quantity that must be above 0 and without which nothing can be
// computed.
func (r *resolver) vital(s spot, key string, q Quantity, m Measure) *float64 {
	v := r.value(s, key, q, m)
	if v != nil && *v < tiny {
		r.dangling(s.key(key), "%s here must be more than 0", aKind(m.String()))
		return nil
	}
	return v
}

// percentOf reads a percentage and returns percent, not the fraction.
func (r *resolver) percentOf(s spot, key string, q Quantity) *float64 {
	v := r.amount(s, key, q, Percent)
	if v == nil {
		return nil
	}
	percent := *v * 100
	return &percent
}

// level reads a light level, 0 to 1. It is fallback when the plan does not say.
func (r *resolver) level(s spot, key string, q Quantity, fallback float64) float64 {
	v := r.amount(s, key, q, Percent)
	if v == nil {
		return fallback
	}
	if *v > 1 {
		r.conflict(s.key(key), "a level of %.0f %% is above full light", *v*100)
		return 1
	}
	return *v
}

// text formats a length in the plan's unit.
func (r *resolver) text(metres float64) string { return FormatLength(metres, r.units) }

// or is what p points to, or fallback when it points to nothing.
func or[T any](p *T, fallback T) T {
	if p == nil {
		return fallback
	}
	return *p
}

// orText is text, or fallback when the plan does not say.
func orText(text, fallback string) string {
	if text == "" {
		return fallback
	}
	return text
}

// finite says whether every value can be computed with.
func finite(values ...float64) bool {
	for _, v := range values {
		if math.IsNaN(v) || math.IsInf(v, 0) {
			return false
		}
	}
	return true
}
