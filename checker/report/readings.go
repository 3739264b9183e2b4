package report

import (
	"fmt"
	"io"
	"math"
	"strconv"
	"strings"

	"duskproof/checker/facts"
	"duskproof/checker/plan"
)

// visit is the readings of one visit beside what was computed for it, and what
// they come to. Its texts are clean.
type visit struct {
	id, about string
	latest    bool
	rows      []reading
	diagnoses []diagnosis
}

// reading is one value of a meter.
type reading struct {
	fact     *facts.Reading
	place    string // "L4", or "T1/2" for a common
	run      string // of a reading at a transformer: the first run on its common
	off      bool   // beyond what meter, cable and temperature explain
	drift    string // since the visit before
	by       float64
	measured string
}

// diagnosis is what the readings at one transformer come to.
type diagnosis struct {
	transformer, words string
	suspects           []suspect
	next               string
	nextAt             string
}

// suspect is one explanation of readings that are off.
type suspect struct {
	fact              *facts.Suspect
	words, confidence string // confidence as it is printed after the words
	lesser            bool   // fits less well than the best
}

// visits sorts the readings of a plan by visit, in the order of the plan; model
// may be nil.
func visits(doc *facts.Document, model *plan.Plan) []visit {
	var out []visit
	byID := map[string]int{}
	earlier := map[string]*facts.Reading{}
	for i := range doc.Readings {
		fact := &doc.Readings[i]
		at, have := byID[fact.Set]
		if !have {
			at = len(out)
			byID[fact.Set] = at
			set := readingSet(model, fact.Set)
			out = append(out, visit{id: Clean(fact.Set), about: visitWords(set), latest: fact.Latest})
		}
		r := readingOf(fact)
		r.run = runOfReading(model, fact)
		key := fact.Quantity + " " + r.place
		if before := earlier[key]; before != nil && before.Set != fact.Set {
			r.drift = driftWords(fact, before, r.by)
		}
		if fact.Expected != nil {
			earlier[key] = fact
		}
		out[at].rows = append(out[at].rows, r)
	}
	for i := range doc.Diagnoses {
		if at, have := byID[doc.Diagnoses[i].Set]; have {
			out[at].diagnoses = append(out[at].diagnoses, diagnosisOf(doc, &doc.Diagnoses[i]))
		}
	}
	return out
}

func readingSet(model *plan.Plan, id string) *plan.ReadingSet {
	if model != nil {
		for _, set := range model.Readings {
			if set.ID == id {
				return set
			}
		}
	}
	return nil
}

// runOfReading is the run at whose tap a reading at a transformer was taken.
func runOfReading(model *plan.Plan, fact *facts.Reading) string {
	set := readingSet(model, fact.Set)
	if set == nil || fact.Index >= len(set.Values) {
		return ""
	}
	for _, run := range model.Runs {
		if run.Transformer.ID == fact.At && run.Common == max(1, set.Values[fact.Index].Common) {
			return run.ID
		}
	}
	return ""
}

// visitWords says when a visit was and what was on.
func visitWords(set *plan.ReadingSet) string {
	if set == nil {
		return ""
	}
	var words []string
	if set.Date != "" {
		words = append(words, set.Date)
	}
	if set.SupplyVolts != nil {
		words = append(words, fmt.Sprintf("mains %g V", *set.SupplyVolts))
	} else {
		words = append(words, "mains not measured")
	}
	if set.Scene != "" {
		words = append(words, "scene "+set.Scene)
	} else {
		words = append(words, "everything on")
	}
	return Clean(strings.Join(words, ", "))
}

func readingOf(fact *facts.Reading) reading {
	r := reading{fact: fact, place: Clean(strings.TrimPrefix(fact.ID, fact.Set+"/")), measured: twoDecimals(fact.Measured) + " " + unitOf(fact)}
	if fact.Expected != nil && fact.Tolerance != nil {
		r.by = fact.Measured - *fact.Expected
		r.off = math.Abs(r.by) > *fact.Tolerance
	}
	return r
}

func unitOf(fact *facts.Reading) string {
	if fact.Quantity == "amps" {
		return "A"
	}
	return "V"
}

// driftWords says how the difference has moved since the visit before that read
// the same place; nothing when it is within what two readings of the same thing
// differ by.
func driftWords(fact, before *facts.Reading, by float64) string {
	if fact.Expected == nil || fact.Tolerance == nil {
		return ""
	}
	moved := by - (before.Measured - *before.Expected)
	if math.Abs(moved) < *fact.Tolerance/2 {
		return ""
	}
	return fmt.Sprintf("%s %s since %s", signed(moved), unitOf(fact), Clean(before.Set))
}

// expected, difference and tolerance print the columns of the table.
func (r *reading) expected() string   { return twoDecimals(*r.fact.Expected) + " " + unitOf(r.fact) }
func (r *reading) difference() string { return signed(r.by) + " " + unitOf(r.fact) }
func (r *reading) tolerance() string {
	return "±" + twoDecimals(*r.fact.Tolerance) + " " + unitOf(r.fact)
}

// sign says whether a reading that is off is low or high.
func (r *reading) sign() string {
	switch {
	case !r.off:
		return ""
	case r.by < 0:
		return "▼ "
	}
	return "▲ "
}

// words say all of a reading in one sentence.
func (r *reading) words() string {
	if r.fact.Expected == nil {
		return fmt.Sprintf("%s: measured %s, not used: %s", r.place, r.measured, Clean(r.fact.Refused))
	}
	state := "as computed"
	if r.off {
		state = "off"
	}
	return fmt.Sprintf("%s: measured %s, expected %s, difference %s, tolerance %s: %s", r.place, r.measured, r.expected(), r.difference(), r.tolerance(), state)
}

// twoDecimals prints a value of a meter.
func twoDecimals(v float64) string { return strconv.FormatFloat(v, 'f', 2, 64) }

// signed prints a difference with its sign; nought is +0.00.
func signed(v float64) string {
	if -0.005 < v && v < 0 {
		v = 0
	}
	return fmt.Sprintf("%+.2f", v)
}

// outcomes say a diagnosis in words.
var outcomes = map[string]string{
	"healthy":         "the system reads as computed",
	"suspect":         "something is wrong; this explains the readings best:",
	"underdetermined": "something is wrong, and too many places would explain it to name one",
	"unexplained":     "something is wrong that no single cause explains; there may be two",
}

// listedGroups is how many groups of explanations are listed: the best, and the
// next.
const listedGroups = 2

func diagnosisOf(doc *facts.Document, fact *facts.Diagnosis) diagnosis {
	d := diagnosis{transformer: Clean(fact.Transformer), words: outcomes[fact.Outcome]}
	for i := range doc.Suspects {
		s := &doc.Suspects[i]
		if fact.Outcome == "suspect" && fact.GroupSize > 1 && s.Set == fact.Set && s.Transformer == fact.Transformer && s.Rank == 1 {
			d.words = fmt.Sprintf("something is wrong; one of these explains the readings best (confidence %s), and the readings do not tell them apart:", confidence(s.Confidence))
		}
		if fact.Outcome == "suspect" && s.Set == fact.Set && s.Transformer == fact.Transformer && s.Group <= listedGroups {
			d.suspects = append(d.suspects, suspect{s, Clean(s.Words), confidenceWords(fact, s), s.Group > 1})
		}
	}
	if fact.NextAt != "" && fact.NextLow != nil && fact.NextHigh != nil {
		d.nextAt = fact.NextAt
		d.next = fmt.Sprintf("next, read %s at %s: the explanations say anything from %.2f to %.2f there",
			fact.NextQuantity, Clean(fact.NextAt), *fact.NextLow, *fact.NextHigh)
	}
	return d
}

// confidenceWords says how sure an explanation is. Of several that the readings
// do not tell apart nothing is said one by one; the diagnosis says it of all.
func confidenceWords(fact *facts.Diagnosis, s *facts.Suspect) string {
	if s.Group == 1 && fact.GroupSize > 1 {
		return ""
	}
	return " (confidence " + confidence(s.Confidence) + ")"
}

// confidence is a whole percentage that never claims to be sure.
func confidence(share float64) string {
	const most = 0.99
	if share > most {
		return "over 99 %"
	}
	return strconv.FormatFloat(100*share, 'f', 0, 64) + " %"
}

// Readings prints the table and the diagnosis of every visit for a terminal.
func Readings(w io.Writer, doc *facts.Document) error {
	var b strings.Builder
	for _, v := range visits(doc, nil) {
		fmt.Fprintf(&b, "%s\n\n  %-18s %-6s %10s %10s %11s %10s\n", v.id, "at", "", "measured", "expected", "difference", "explained")
		for i := range v.rows {
			b.WriteString(v.rows[i].line() + "\n")
		}
		for _, d := range v.diagnoses {
			fmt.Fprintf(&b, "\n  transformer %s: %s\n", d.transformer, d.words)
			for _, s := range d.suspects {
				lead := "-"
				if s.lesser {
					lead = "  less likely:"
				}
				fmt.Fprintf(&b, "    %s %s%s\n", lead, s.words, s.confidence)
			}
			if d.next != "" {
				fmt.Fprintf(&b, "  %s\n", d.next)
			}
		}
		b.WriteString("\n")
	}
	if _, err := io.WriteString(w, b.String()); err != nil {
		return fmt.Errorf("write the readings: %w", err)
	}
	return nil
}

// line is one line of the table; an arrow marks what is off.
func (r *reading) line() string {
	if r.fact.Expected == nil {
		return fmt.Sprintf("  %-18s %-6s %10s  not used: %s", r.place, r.fact.Quantity, r.measured, Clean(r.fact.Refused))
	}
	line := fmt.Sprintf("  %-18s %-6s %10s %10s %11s %10s", r.place, r.fact.Quantity, r.measured, r.expected(), r.difference(), r.tolerance())
	if r.off {
		line += "  <- off"
	}
	if r.drift != "" {
		line += "  " + r.drift
	}
	return line
}
