package report

import (
	"bytes"
	"cmp"
	"context"
	"embed"
	"fmt"
	"html/template"
	"io"
	"strings"
	"sync"

	"duskproof/checker/finding"
	"duskproof/checker/takeoff"
)

//go:embed page/page.html page/page.css
var pageFiles embed.FS

// The page as a template; every text goes through Clean first, and html/template
// makes it inert where it stands.
var pageTemplate = sync.OnceValue(func() *template.Template {
	return template.Must(template.New("page.html").Funcs(template.FuncMap{"clean": Clean}).ParseFS(pageFiles, "page/page.html"))
})

// HTML writes the report as one page that needs nothing else: no script, no
// network, no file beside it. It can be read on a screen by day and by night,
// on paper, by keyboard and by ear.
func HTML(w io.Writer, r *Report, _ Options) error {
	rules, err := pageFiles.ReadFile("page/page.css")
	if err != nil {
		return fmt.Errorf("style of the page: %w", err)
	}
	data := pageData{Report: r, Title: pageTitle(r), Counts: planCounts(r), Many: len(r.Plans) > 1}
	scenes := 0
	for i := range r.Plans {
		p, err := pageOf(i+1, &r.Plans[i])
		if err != nil {
			return fmt.Errorf("page of %s: %w", r.Plans[i].Path, err)
		}
		scenes = max(scenes, len(p.Scenes))
		data.Plans = append(data.Plans, p)
	}
	data.Style = template.CSS(pageStyle(string(rules), scenes))
	var b bytes.Buffer
	if err := pageTemplate().Execute(&b, data); err != nil {
		return fmt.Errorf("write the page: %w", err)
	}
	if _, err := w.Write(b.Bytes()); err != nil {
		return fmt.Errorf("write the page: %w", err)
	}
	return nil
}

// pageStyle sets the tints by day, by night and on paper, and lets each scene be
// shown alone.
func pageStyle(rules string, scenes int) string {
	day := tintVariables(func(t tint) string { return t.day })
	night := tintVariables(func(t tint) string { return t.night })
	var b strings.Builder
	fmt.Fprintf(&b, ":root{%s}\n@media screen and (prefers-color-scheme:dark){:root{%s}}\n", day, night)
	b.WriteString(pageTints(drawingRules))
	b.WriteString(pageTints(chartRules))
	b.WriteString(pageTints(rules))
	for i := range scenes {
		fmt.Fprintf(&b, ".drawing:has(.t-scene-%d:not(:checked)) .scene-%d{display:none}\n", i, i)
	}
	return b.String()
}

type pageData struct {
	Report *Report
	Title  string
	Counts string
	Many   bool
	Style  template.CSS
	Plans  []pagePlan
}

// pagePlan is one plan as the page shows it. Its texts are clean.
type pagePlan struct {
	ID, Path, Title, Stage, Profiles string
	Verdict, Words                   string
	Counts                           []pageCount
	Problems                         []pageProblem
	Groups                           []pageGroup
	Cautions                         []pageFinding
	Drawing                          template.HTML
	NoDrawing                        string
	Scenes                           []string
	Visits                           []pageVisit
	ChartKey                         []chartSign
	Measured                         bool // the drawing shows readings
	Runs                             []pageChart
	Loads                            []pageChart
	OneLines                         []takeoff.OneLine
	Tables                           []takeoff.Table
	Variances, Off, Failed, Unjudged []string
	Carried                          []string
}

type pageCount struct {
	N    int
	Word string
	To   string
}

type pageProblem struct {
	Rule, Place, Message string
	Excerpt              pageExcerpt
}

type pageGroup struct {
	ID, Severity, Words string
	Findings            []pageFinding
}

type pageFinding struct {
	Number                         int
	ID, Mark                       string
	Severity, Rule, Element, Case  string
	Place, Message, Measure, Basis string
	Fixes                          []pageFix
	Excerpt                        pageExcerpt
}

type pageFix struct{ Word, Text string }

type pageExcerpt struct {
	Line                int
	Before, Mark, After string
}

type pageChart struct {
	ID, Title, Words string
	Picture          template.HTML
}

func pageTitle(r *Report) string {
	if len(r.Plans) == 1 {
		return Clean(cmp.Or(r.Plans[0].Title, r.Plans[0].Path)) + ": " + strings.ToLower(verdictLine(&r.Plans[0]))
	}
	return planCounts(r)
}

func pageOf(number int, p *Plan) (pagePlan, error) {
	id := fmt.Sprintf("p%d", number)
	out := pagePlan{
		ID: id, Path: Clean(p.Path), Title: Clean(cmp.Or(p.Title, p.Path)), Stage: Clean(p.Stage), Profiles: Clean(strings.Join(p.Profiles, ", ")),
		Verdict: p.Verdict, Words: verdictWord(p),
	}
	for i := range p.Problems {
		q := &p.Problems[i]
		out.Problems = append(out.Problems, pageProblem{Rule: Clean(q.Rule), Place: fmt.Sprintf("line %d, column %d", q.Line, q.Column),
			Message: Clean(q.Message), Excerpt: excerptOf(q.Line, q.Column, q.EndLine, q.EndColumn, q.Excerpt)})
	}
	var d *drawing
	if p.Model != nil && p.Facts != nil {
		var err error
		if d, err = out.addPlan(p); err != nil {
			return out, err
		}
	}
	out.addFindings(p, d)
	for i := range p.Variances {
		out.Variances = append(out.Variances, Clean(varianceLine(&p.Variances[i])))
	}
	for _, line := range carriedLines(p) {
		out.Carried = append(out.Carried, Clean(line))
	}
	for i := range p.SwitchedOff {
		out.Off = append(out.Off, Clean(switchedOffLine(&p.SwitchedOff[i])))
	}
	for i := range p.Weakened {
		out.Off = append(out.Off, Clean(weakenedLine(&p.Weakened[i])))
	}
	for _, f := range p.Failed {
		out.Failed = append(out.Failed, Clean(fmt.Sprintf("%s did not judge this plan: %s (%s:%d)", f.Rule, f.Message, f.File, f.Line)))
	}
	for i := range p.Unjudged {
		out.Unjudged = append(out.Unjudged, Clean(unjudgedLine(&p.Unjudged[i])))
	}
	return out, nil
}

func verdictWord(p *Plan) string {
	switch p.Verdict {
	case Held:
		return "Held"
	case NoHolds:
		return "No holds"
	}
	return "Not judged"
}

// addPlan draws the plan, its charts and its schedules.
func (out *pagePlan) addPlan(p *Plan) (*drawing, error) {
	d, err := newDrawing(p, DrawOptions{Light: p.Light})
	if err == nil {
		d.inPage, d.prefix = true, out.ID+"-"
		out.Drawing = template.HTML(d.embedded())
		for _, i := range d.scenes {
			out.Scenes = append(out.Scenes, Clean(p.Light.Scenes[i]))
		}
	} else {
		out.NoDrawing = "The plan gives no positions, so there is no drawing."
	}
	schedule, err := takeoff.Of(context.Background(), p.Model, p.Facts, Caution)
	if err != nil {
		return nil, err
	}
	all := visits(p.Facts, p.Model)
	out.addVisits(d, all)
	out.ChartKey = chartKey(out.Visits != nil)
	out.Runs, out.Loads = voltCharts(out.ID, p, all), loadCharts(out.ID, p)
	for _, one := range schedule.OneLines {
		lines := make([]string, len(one.Lines))
		for i := range lines {
			lines[i] = Clean(one.Lines[i])
		}
		out.OneLines = append(out.OneLines, takeoff.OneLine{ID: Clean(one.ID), Lines: lines})
	}
	for _, t := range takeoff.Tables(schedule) {
		for _, row := range t.Rows {
			for i := range row {
				row[i] = Clean(row[i])
			}
		}
		out.Tables = append(out.Tables, t)
	}
	return d, nil
}

// addFindings lists the findings by severity, with the numbers that the drawing
// gives them.
func (out *pagePlan) addFindings(p *Plan, d *drawing) {
	groups := map[finding.Severity]*pageGroup{}
	for i, f := range ranked(p) {
		shown := out.finding(i+1, p, f)
		if d != nil {
			if _, placed := d.anchor(f); placed {
				shown.Mark = fmt.Sprintf("%s-m%d", out.ID, i+1)
			}
		}
		if f.Severity == finding.Caution {
			out.Cautions = append(out.Cautions, shown)
			continue
		}
		if groups[f.Severity] == nil {
			groups[f.Severity] = &pageGroup{ID: out.ID + "-" + f.Severity.String(), Severity: f.Severity.String(), Words: groupWords[f.Severity]}
		}
		groups[f.Severity].Findings = append(groups[f.Severity].Findings, shown)
	}
	for _, s := range finding.Severities() {
		if n := p.Count(s); n > 0 {
			to := out.ID + "-" + s.String()
			out.Counts = append(out.Counts, pageCount{N: n, Word: counted(n, s.String()), To: to})
		}
		if groups[s] != nil {
			out.Groups = append(out.Groups, *groups[s])
		}
	}
}

var groupWords = map[finding.Severity]string{
	finding.Danger: "can hurt, shock or burn someone",
	finding.Defect: "will not work, will fail early, or must be dug up again",
	finding.Advice: "works, and could be better",
}

func (out *pagePlan) finding(number int, p *Plan, f *finding.Finding) pageFinding {
	shown := pageFinding{
		Number: number, ID: fmt.Sprintf("%s-f%d", out.ID, number), Severity: f.Severity.String(), Rule: Clean(f.Rule), Element: Clean(f.Element), Case: Clean(f.Case),
		Place: fmt.Sprintf("line %d, column %d", f.Line, f.Column), Message: Clean(f.Message), Basis: Clean(basisLine(f)), Measure: measureLine(p, f),
	}
	if len(p.Findings) <= mostExcerpts {
		shown.Excerpt = excerptOf(f.Line, f.Column, f.EndLine, f.EndColumn, f.Excerpt)
	}
	for i := range f.Fixes {
		word := "hint"
		if f.Fixes[i].Proved {
			word = "proved fix"
		}
		shown.Fixes = append(shown.Fixes, pageFix{word, Clean(f.Fixes[i].Text)})
	}
	return shown
}

// mostExcerpts is the number of findings from which the page leaves the lines
// of the file out, so that it stays small enough to open.
const mostExcerpts = 500

// excerptWidth is how much of a line is shown about its place.
const excerptWidth = 72

// excerptOf cuts a line about the place that it marks.
func excerptOf(line, column, endLine, endColumn int, text string) pageExcerpt {
	if line == 0 {
		return pageExcerpt{}
	}
	v := viewOf(text, column, endOn(line, endLine, endColumn, text), excerptWidth)
	out := pageExcerpt{Line: line, Before: v.before, Mark: v.mark, After: v.after}
	if v.cutBefore {
		out.Before = ellipsis + out.Before
	}
	if v.cutAfter {
		out.After += ellipsis
	}
	return out
}

// embedded is the drawing as part of a page.
func (d *drawing) embedded() string {
	d.content()
	height := d.furniture()
	content := d.b.String()
	d.svg = svg{}
	width := d.width + 2*mapMargin
	d.open("svg", "class", "d", "role", "group", "aria-label", d.description(), "width", decimal(width), "height", decimal(height),
		"viewBox", "0 0 "+decimal(width)+" "+decimal(height))
	d.b.WriteString(content)
	d.shut("svg")
	return d.b.String()
}
