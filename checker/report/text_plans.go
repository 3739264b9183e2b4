package report

import (
	"cmp"
	"fmt"
	"slices"
	"strings"
)

// verdictWidth is the room for a verdict in the list of plans.
const verdictWidth = 12

// plans names each plan with its verdict and counts. The folder that all of them
// are in is said once; counts that do not fit stand below their plan.
func (t *text) plans(r *Report) {
	order := make([]*Plan, len(r.Plans))
	for i := range r.Plans {
		order[i] = &r.Plans[i]
	}
	if len(order) > mostSummed {
		slices.SortStableFunc(order, func(a, b *Plan) int { return cmp.Compare(verdictRank[a.Verdict], verdictRank[b.Verdict]) })
		order = order[:mostSummed]
	}
	folder := commonFolder(order)
	title, wide := "all plans", 0
	if folder != "" {
		title += " in " + Clean(folder)
	}
	fits := func(path, counts string, width int) bool {
		return len(margin)+verdictWidth+max(columnsOf(path), width)+2+columnsOf(counts) <= t.options.Width
	}
	for _, p := range order {
		if path := Clean(strings.TrimPrefix(p.Path, folder)); fits(path, plansCounts(p), 0) {
			wide = max(wide, columnsOf(path))
		}
	}
	fmt.Fprintf(t, "\n%s\n", t.paint["title"].Sprint(title))
	for _, p := range order {
		words, paint := "no holds", "good"
		switch p.Verdict {
		case Held:
			words, paint = "held", "danger"
		case Unjudged:
			words, paint = "not judged", "danger"
		}
		counts, path := plansCounts(p), Clean(strings.TrimPrefix(p.Path, folder))
		gap := strings.Repeat(" ", max(0, wide-columnsOf(path))+2)
		switch {
		case !fits(path, counts, 0):
			gap = "\n" + margin + strings.Repeat(" ", verdictWidth)
		case !fits(path, counts, wide):
			gap = "  "
		}
		fmt.Fprintf(t, "%s%s%s%s%s\n", margin, t.paint[paint].Sprintf("%-*s", verdictWidth, words), path, gap, t.paint["faint"].Sprint(counts))
	}
	if more := len(r.Plans) - len(order); more > 0 {
		fmt.Fprintf(t, "%sand %d more\n", margin, more)
	}
}

func plansCounts(p *Plan) string {
	if p.Verdict == Unjudged {
		return problemWords(len(p.Problems))
	}
	return countWords(p)
}

// commonFolder is the folder that all plans are in, with the slash at its end.
func commonFolder(plans []*Plan) string {
	folder := plans[0].Path[:strings.LastIndexByte(plans[0].Path, '/')+1]
	for _, p := range plans {
		for !strings.HasPrefix(p.Path, folder) {
			folder = folder[:strings.LastIndexByte(strings.TrimSuffix(folder, "/"), '/')+1]
		}
	}
	return folder
}

var verdictRank = map[string]int{Unjudged: 0, Held: 1, NoHolds: 2}
