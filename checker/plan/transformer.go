package plan

import (
	"fmt"
	"math"
	"slices"
	"strconv"
	"strings"
)

// tapSlackV is how far the volts of a tap may differ from those of the type and
// still name it: 12 and "12.0 V" are one tap.
const tapSlackV = 1e-6

func (r *resolver) declareTransformers() {
	for i := range r.doc.Transformers {
		e, t := &r.doc.Transformers[i], &Transformer{}
		r.enter(&t.Element, "transformer", e.ID, fmt.Sprintf("/transformers/%d", i), t)
		r.anchorAt(&t.Element, "at", &e.At)
		r.plan.Transformers = append(r.plan.Transformers, t)
	}
}

func (r *resolver) resolveTransformers() {
	for i, t := range r.plan.Transformers {
		e, s := &r.doc.Transformers[i], spotOf(&t.Element)
		t.Type = findType(r, s.key("type"), "transformer type", e.Type, r.transformerTypes)
		t.At = r.pointOf(&t.Element, "at", &e.At)
		t.HeightM, t.CordM = r.extent(s, "height", e.Height), r.extent(s, "cord", e.Cord)
		t.Location, t.Extension = orText(e.Location, "outdoor"), e.Extension
		t.MountedOn, t.Enclosed = e.MountedOn, e.Enclosed
		r.feed(t, e, s)
		t.GrowthVA = r.growth(t, e, s)
	}
}

// feed finds the receptacle or the branch circuit of a transformer.
func (r *resolver) feed(t *Transformer, e *TransformerEntry, s spot) {
	t.Receptacle, _ = find[*Receptacle](r, s.key("plugged_into"), "receptacle", e.PluggedInto)
	if t.Receptacle != nil {
		t.Branch = t.Receptacle.Branch
	}
	if e.WiredTo == "" {
		return
	}
	if e.PluggedInto != "" {
		r.conflictOnKey(s.key("wired_to"), "a transformer is plugged in or wired in, not both")
		return
	}
	t.HardWired = true
	t.Branch, _ = find[*Branch](r, s.key("wired_to"), "branch circuit", e.WiredTo)
}

// growth is the load kept for later lamps, in VA: as stated, or a share of the
// rating.
func (r *resolver) growth(t *Transformer, e *TransformerEntry, s spot) *float64 {
	if e.Growth.Numeric || !isPercent(e.Growth.Text) {
		return r.amount(s, "growth", e.Growth, ApparentPower)
	}
	share := r.amount(s, "growth", e.Growth, Percent)
	if share == nil || t.Type == nil {
		return nil
	}
	va := *share * t.Type.RatingVA
	return &va
}

func isPercent(text string) bool { return strings.HasSuffix(strings.TrimSpace(text), "%") }

// output checks a transformer's common and tap and returns the number of the
// common and the volts of the tap: the lowest, where it takes one and none is
// named.
func (r *resolver) output(s spot, t *Transformer, common int, tap Quantity) (number int, volts float64) {
	stated := r.vital(s, "tap", tap, Voltage)
	number, volts = max(common, 1), or(stated, 0)
	if t == nil || t.Type == nil {
		return number, volts
	}
	if n := len(t.Type.Commons); n > 0 && number > n {
		r.dangling(s.key("common"), "there is no common %d; %s has %s", number, t.Type.ID, countOf(n, "common"))
	}
	if stated == nil {
		if !tap.Set && len(t.Type.TapVolts) == 1 {
			return number, t.Type.TapVolts[0]
		}
		if !tap.Set && len(t.Type.TapVolts) > 1 {
			r.conflict(s, "no tap is named, and %s has %s", t.Type.ID, tapList(t.Type))
			return number, slices.Min(t.Type.TapVolts)
		}
		return number, volts
	}
	if !hasTap(t.Type, volts) {
		r.dangling(s.key("tap"), "there is no tap of %g V; %s has %s", volts, t.Type.ID, tapList(t.Type))
	}
	return number, volts
}

func countOf(n int, what string) string {
	if n == 1 {
		return "1 " + what
	}
	return strconv.Itoa(n) + " " + what + "s"
}

func hasTap(t *TransformerType, volts float64) bool {
	for _, tap := range t.TapVolts {
		if math.Abs(tap-volts) <= tapSlackV {
			return true
		}
	}
	return false
}

// tapList lists the taps of a type for a message.
func tapList(t *TransformerType) string {
	if len(t.TapVolts) == 0 {
		return "no taps"
	}
	names := make([]string, len(t.TapVolts))
	for i, tap := range t.TapVolts {
		names[i] = fmt.Sprintf("%g V", tap)
	}
	return join(names, "and")
}
