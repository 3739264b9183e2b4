package facts

import (
	"strconv"
	"strings"

	"duskproof/checker/plan"
	"duskproof/checker/wire"
)

// protected reports whether a unit states any protection at all.
func protected(t *plan.TransformerType) bool {
	if t.OnOverload != "" || len(t.Protection) > 0 {
		return true
	}
	for _, c := range t.Commons {
		if c.DeviceAmps != nil {
			return true
		}
	}
	return false
}

// protectionOf says what protects a common, by its place in the type's list.
func protectionOf(t *plan.TransformerType, index int) string {
	described := index >= 0 && index < len(t.Commons)
	switch {
	case described && t.Commons[index].DeviceAmps != nil:
		return "own"
	case t.OnOverload != "" || len(t.Protection) > 0:
		return "elsewhere"
	case described:
		return "none"
	}
	return "unknown"
}

// opens reports whether a device of the unit ends its worst load: the unit
// limits itself, or a device on a common, on a tap or on the primary carries
// more than its rating. A breaker that is larger than the unit never opens.
func (j *join) opens(n *network, a *wire.Analysis, primaryAmps *float64) bool {
	t := n.transformer.Type
	if t.OnOverload != "" {
		return true
	}
	for _, c := range a.Commons {
		owner, number, _ := strings.Cut(c.ID, "/")
		if owner == n.transformer.ID && commonOpens(t, number, c.MaxAmps) {
			return true
		}
	}
	for _, p := range t.Protection {
		switch p.Protects {
		case "primary":
			if primaryAmps != nil && *primaryAmps > p.Amps {
				return true
			}
		case "tap":
			if j.tapAmps(n, a, p.TapVolts) > p.Amps {
				return true
			}
		}
	}
	return false
}

// commonOpens reports whether the device on a common, numbered from 1, carries
// more than its rating.
func commonOpens(t *plan.TransformerType, number string, amps float64) bool {
	for i, c := range t.Commons {
		if number == strconv.Itoa(i+1) {
			return c.DeviceAmps != nil && amps > *c.DeviceAmps
		}
	}
	return false
}

// tapAmps is the worst current of all runs on one tap, or of every run where
// the plan does not say which tap.
func (j *join) tapAmps(n *network, a *wire.Analysis, volts *float64) float64 {
	total := 0.0
	for _, run := range j.plan.Runs {
		if run.Transformer != n.transformer || volts != nil && run.TapVolts != *volts {
			continue
		}
		for _, feed := range a.Feeds {
			if feed.ID == run.ID {
				total += feed.MaxAmps
			}
		}
	}
	return total
}
