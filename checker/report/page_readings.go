package report

import (
	"fmt"

	"duskproof/checker/facts"
)

// pageVisit is the readings of one visit as the page shows them.
type pageVisit struct {
	ID, About string
	Drifted   bool
	Diagnoses []pageDiagnosis
	Rows      []pageReading
}

type pageDiagnosis struct {
	Transformer, Words, Next string
	Wrong                    bool
	Suspects                 []pageSuspect
}

type pageSuspect struct {
	Rank              int
	Words, Confidence string
	Mark              string // on the drawing
	Lesser            bool
}

type pageReading struct {
	ID, Mark                                  string
	Place, Quantity                           string
	Measured, Expected, Difference, Tolerance string
	Sign, Drift, Refused                      string
	Off                                       bool
}

// addVisits lists the readings, the last visit first, each row linked with its
// mark on the drawing.
func (out *pagePlan) addVisits(d *drawing, all []visit) {
	var tagged map[int]bool
	var flagged map[*facts.Suspect]string
	if d != nil {
		out.Measured = len(d.latestReadings()) > 0
		tagged, flagged = d.tagged, d.flagged
	}
	number := 0
	for v := range all {
		shown := pageVisit{ID: all[v].id, About: all[v].about}
		for _, x := range all[v].diagnoses {
			shown.Diagnoses = append(shown.Diagnoses, pageDiagnosisOf(&x, flagged))
		}
		for i := range all[v].rows {
			number++
			row := pageReadingOf(&all[v].rows[i])
			row.ID = fmt.Sprintf("%s-r%d", out.ID, number)
			if tagged[number] {
				row.Mark = fmt.Sprintf("%s-g%d", out.ID, number)
			}
			shown.Drifted = shown.Drifted || row.Drift != ""
			shown.Rows = append(shown.Rows, row)
		}
		out.Visits = append([]pageVisit{shown}, out.Visits...)
	}
}

func pageDiagnosisOf(x *diagnosis, flagged map[*facts.Suspect]string) pageDiagnosis {
	out := pageDiagnosis{Transformer: x.transformer, Words: x.words, Next: x.next, Wrong: x.words != outcomes["healthy"]}
	for _, s := range x.suspects {
		out.Suspects = append(out.Suspects, pageSuspect{s.fact.Rank, s.words, s.confidence, flagged[s.fact], s.lesser})
	}
	return out
}

func pageReadingOf(r *reading) pageReading {
	row := pageReading{Place: r.place, Quantity: r.fact.Quantity, Measured: r.measured, Off: r.off, Sign: r.sign(), Drift: r.drift}
	if r.fact.Expected == nil {
		row.Refused = Clean(r.fact.Refused)
		return row
	}
	row.Expected, row.Difference, row.Tolerance = r.expected(), r.difference(), r.tolerance()
	return row
}
