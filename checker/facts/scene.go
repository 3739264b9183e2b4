package facts

import (
	"strconv"
	"strings"

	"duskproof/checker/plan"
)

// sceneFacts writes the scenes.
func (j *join) sceneFacts() {
	curfew := "23:00"
	if l := j.limits["neighbour.curfew"]; l != nil && l.Text != "" {
		curfew = l.Text
	}
	for _, s := range j.plan.Scenes {
		out := Scene{ID: s.ID, InUse: s.InUse, From: s.From, Until: s.Until, Curfew: curfew}
		if s.Control != nil {
			out.Control = s.Control.ID
		}
		out.Ends = endOf(j.plan, s)
		out.AfterCurfew = out.Ends == "" || nightMinutes(out.Ends) > nightMinutes(curfew)
		for _, f := range j.plan.Fixtures {
			if s.Levels[f.ID] > 0 {
				out.Lamps = append(out.Lamps, f.ID)
			}
		}
		j.doc.Scenes = append(j.doc.Scenes, out)
	}
}

// endOf is when the last lamp of a scene goes out: when the scene ends, else
// when its control goes off; for the one scene of a plan without scenes, when
// the last of all controls goes off. Empty where the plan does not say.
func endOf(p *plan.Plan, s *plan.Scene) string {
	switch {
	case s.Until != "":
		return s.Until
	case s.Control != nil:
		return offOf(s.Control)
	}
	end := ""
	for i, c := range p.Controls {
		off := offOf(c)
		if off == "" {
			return ""
		}
		if i == 0 || nightMinutes(off) > nightMinutes(end) {
			end = off
		}
	}
	return end
}

// offOf is when a control goes off. A photocell by itself burns until dawn.
func offOf(c *plan.Control) string {
	if c.Off == "" && c.Kind == "photocell" {
		return "dawn"
	}
	return c.Off
}

const (
	dayMinutes  = 24 * 60
	noonMinutes = 12 * 60
)

// nightMinutes puts times of one night in order: "20:00" < "23:00" < "01:00" <
// "dawn". What it cannot read is the latest.
func nightMinutes(clock string) int {
	switch clock {
	case "dusk":
		return noonMinutes
	case "dawn":
		return dayMinutes + noonMinutes
	}
	hours, minutes, _ := strings.Cut(clock, ":")
	h, errH := strconv.Atoi(hours)
	m, errM := strconv.Atoi(minutes)
	if errH != nil || errM != nil {
		return 2 * dayMinutes
	}
	if n := h*60 + m; n >= noonMinutes {
		return n
	}
	return dayMinutes + h*60 + m
}
