package report_test

import (
	"fmt"
	"math"
	"regexp"
	"strconv"
	"strings"
	"testing"

	"golang.org/x/net/html"

	"duskproof/checker/facts"
	"duskproof/checker/report"
)

// asBuilt is the demo after switching on, with a bad splice at the far end of
// leg t1.
const asBuilt = "tern-cottage/as-built.lighting.json"

// metered are the readings as they are written in the plan of [asBuilt], and
// whether somebody who compares them with docs/as-built.md calls them off.
var metered = []struct {
	place, value string
	off          bool
}{
	{"K2", "11.75 V", false}, {"P3", "11.77 V", false}, {"S5", "11.64 V", false}, {"L2", "11.64 V", false},
	{"H2", "10.56 V", true}, {"H3", "10.61 V", true}, {"B5", "11.54 V", false}, {"P7", "11.68 V", false},
	{"D4", "11.60 V", false}, {"T1/1", "4.10 A", false}, {"T1/2", "4.60 A", true}, {"T2/1", "5.40 A", false},
}

// symbolPlaces are where the symbols of fixtures are drawn, by id.
func symbolPlaces(t *testing.T, all []element) map[string][2]float64 {
	t.Helper()
	places := map[string][2]float64{}
	for i, e := range all {
		if e.name == "use" && i+1 < len(all) && all[i+1].name == "title" {
			id, _, _ := strings.Cut(all[i+1].text, ",")
			places[id] = [2]float64{value(t, e, "x"), value(t, e, "y")}
		}
	}
	return places
}

// TestReadingsOnTheDrawing holds that each reading is ringed where it was taken,
// that those that are off are told from the others by sign and difference and
// not by colour alone, and that the suspected leg is marked with its rank.
func TestReadingsOnTheDrawing(t *testing.T) {
	_, all := drawn(t, checked(t, asBuilt, nil), report.Layers()...)
	places := symbolPlaces(t, all)
	rings := map[[2]float64]string{}
	tags, suspects := map[string]string{}, []string{}
	lines := map[string]int{}
	for i, e := range all {
		class := e.attributes["class"]
		switch {
		case strings.HasPrefix(class, "met") && len(e.inside) > 0 && e.inside[len(e.inside)-1] == "layer-readings":
			rings[[2]float64{value(t, e, "cx"), value(t, e, "cy")}] = class
		case strings.HasPrefix(class, "reading"):
			place, _, _ := strings.Cut(all[i+1].text, ":")
			tags[place] = class + " " + all[i+4].text
		case class == "suspicion" && all[i+1].name == "title":
			suspects = append(suspects, all[i+1].text)
		case class == "suspect" || class == "leg":
			for _, part := range strings.Split(e.attributes["d"], "M")[1:] {
				lines[part]++
			}
		}
	}
	for _, m := range metered {
		want := "reading " + m.value
		if strings.HasPrefix(m.place, "T") {
			want = "reading " + m.place + " " + m.value
		}
		if m.off {
			want = strings.Replace(strings.Replace(want, "reading ", "reading astray ", 1), m.value, "▼ "+m.value, 1)
		}
		if !strings.HasPrefix(tags[m.place], want) || m.off != strings.Contains(tags[m.place], "(-") {
			t.Errorf("the tag of %s is %q, want %q", m.place, tags[m.place], want)
		}
		ring, placed := rings[places[m.place]]
		if !strings.HasPrefix(m.place, "T") && (!placed || m.off != (ring == "met astray")) {
			t.Errorf("%s at %v has the ring %q", m.place, places[m.place], ring)
		}
	}
	if len(suspects) != 1 || !strings.Contains(suspects[0], "suspect 1: leg t1, or a joint at its ends") {
		t.Errorf("suspects: %q", suspects)
	}
	twice := 0
	for _, n := range lines {
		twice += n - 1
	}
	if twice != 1 {
		t.Errorf("%d legs are drawn as cable and as suspect, want t1", twice)
	}
	text := ""
	for _, e := range all {
		text += e.text + "\n"
	}
	for _, want := range []string{"reading as computed", "reading that is off: ▼ low, ▲ high", "suspect, by rank", "leg or joint that readings suspect"} {
		if !strings.Contains(text, want) {
			t.Errorf("the legend does not explain %q", want)
		}
	}
}

// TestReadingsOnTheProfile reads the volts of the diamonds back from the axis of
// the chart, and holds them to the readings in the plan.
func TestReadingsOnTheProfile(t *testing.T) {
	_, all := paged(t, *checked(t, asBuilt, nil))
	var figure *html.Node
	for _, n := range all {
		if n.Data == "figure" && strings.Contains(words(n), "tree-run") {
			figure = n
			break
		}
	}
	if figure == nil {
		t.Fatal("no chart of the run of the hawthorn")
	}
	var axis [][2]float64 // volts and height
	found := map[string]float64{}
	titles := map[string]string{}
	for n := range figure.Descendants() {
		if n.Data == "text" && attribute(n, "text-anchor") == "end" {
			if volts, err := strconv.ParseFloat(strings.TrimSpace(words(n)), 64); err == nil {
				y, _ := strconv.ParseFloat(attribute(n, "y"), 64)
				axis = append(axis, [2]float64{volts, y - 3}) // the text stands 3 below its line
			}
		}
		if class := attribute(n, "class"); class == "c-astray" || class == "c-read" {
			corners := regexp.MustCompile(`[\d.]+ ([\d.]+)`).FindAllStringSubmatch(attribute(n, "d"), -1)
			top, _ := strconv.ParseFloat(corners[0][1], 64)
			bottom, _ := strconv.ParseFloat(corners[2][1], 64)
			title := strings.TrimSpace(words(n.Parent))
			place, _, _ := strings.Cut(title, ":")
			found[place], titles[place] = (top+bottom)/2, title
		}
	}
	if len(axis) < 2 || len(found) != 2 {
		t.Fatalf("%d values on the axis, readings %v", len(axis), found)
	}
	a, b := axis[0], axis[len(axis)-1]
	for place, want := range map[string]float64{"H2": 10.56, "H3": 10.61} {
		volts := a[0] + (found[place]-a[1])*(b[0]-a[0])/(b[1]-a[1])
		if math.Abs(volts-want) > 0.01 {
			t.Errorf("%s is drawn at %.3f V, read %.2f V", place, volts, want)
		}
		if !strings.Contains(titles[place], ": off") {
			t.Errorf("%s says %q", place, titles[place])
		}
	}
	if caption := words(figure); !strings.Contains(caption, "2 readings, 2 off") {
		t.Errorf("the caption is %.120q", caption)
	}
}

// words is the text below a node.
func words(n *html.Node) string {
	var b strings.Builder
	for inner := range n.Descendants() {
		if inner.Type == html.TextNode {
			b.WriteString(inner.Data)
		}
	}
	return b.String()
}

// TestReadingsOnThePage holds the table to the plan and to its own arithmetic,
// and that rows and marks lead to each other.
func TestReadingsOnThePage(t *testing.T) {
	text, all := paged(t, *checked(t, asBuilt, nil))
	hrefs, rows := map[string]string{}, map[string][]string{}
	for _, n := range all {
		id := attribute(n, "id")
		if n.Data == "a" && id != "" {
			hrefs[id] = strings.TrimPrefix(attribute(n, "href"), "#")
		}
		if n.Data != "tr" || !strings.HasPrefix(id, "p1-r") {
			continue
		}
		var cells []string
		for cell := range n.ChildNodes() {
			if cell.Type == html.ElementNode {
				cells = append(cells, words(cell))
			}
		}
		rows[cells[0]] = cells
		for link := range n.Descendants() {
			if mark := strings.TrimPrefix(attribute(link, "href"), "#"); link.Data == "a" && hrefs[mark] != id {
				t.Errorf("%s leads to %q, which leads to %q", id, mark, hrefs[mark])
			}
		}
	}
	if len(rows) != len(metered) {
		t.Fatalf("%d rows, want %d", len(rows), len(metered))
	}
	for _, m := range metered {
		row := rows[m.place]
		if row[2] != m.value || m.off != strings.Contains(row[6], "off") {
			t.Errorf("%s: %q", m.place, row)
		}
		var v [4]float64
		for i := range v {
			if _, err := fmt.Sscanf(strings.TrimPrefix(row[2+i], "±"), "%f", &v[i]); err != nil {
				t.Fatal(err)
			}
		}
		if math.Abs(v[0]-v[1]-v[2]) > 0.011 || m.off != (math.Abs(v[2]) > v[3]) {
			t.Errorf("%s: the row does not add up: %q", m.place, row)
		}
	}
	for _, want := range []string{"Transformer T1:", "leg t1, or a joint at its ends, has 0.20 ohm too much and burns 4.3 W", "confidence over 99 %", "the system reads as computed", `href="#p1-s1"`} {
		if !strings.Contains(text, want) {
			t.Errorf("the page does not say %q", want)
		}
	}
}

// TestWhatReadingsCannotSay holds that the page says when too many places would
// explain the readings, what to read next, and why a reading was not used.
func TestWhatReadingsCannotSay(t *testing.T) {
	p := checked(t, asBuilt, nil)
	low, high := 10.4, 11.3
	d := &p.Facts.Diagnoses[0]
	d.Outcome, d.NextAt, d.NextQuantity, d.NextLow, d.NextHigh = "underdetermined", "H1", "volts", &low, &high
	r := &p.Facts.Readings[0]
	r.Expected, r.Tolerance, r.Refused = nil, nil, "an ordinary meter"
	text, _ := paged(t, *p)
	for _, want := range []string{"too many places would explain it to name one", "next, read volts at H1: the explanations say anything from 10.40 to 11.30 there", "not used: an ordinary meter", "read next", "where to read next"} {
		if !strings.Contains(text, want) {
			t.Errorf("the page does not say %q", want)
		}
	}
	if strings.Contains(text, "suspect 1") {
		t.Error("the page names a suspect where too many places would explain the readings")
	}
	_, plain := paged(t, *checked(t, demo, nil))
	for _, n := range plain {
		if attribute(n, "id") == "p1-readings" || hasClass(n, "t-readings") || hasClass(n, "layer-readings") {
			t.Errorf("a plan without readings has %s %q", n.Data, attribute(n, "class"))
		}
	}
}

// TestSeveralExplain holds that explanations that the readings do not tell apart
// share one confidence, that a less likely one has its own, and that suspects of
// two transformers are told apart on the drawing.
func TestSeveralExplain(t *testing.T) {
	p := checked(t, asBuilt, nil)
	if len(p.Facts.Suspects) == 0 {
		t.Fatal("no suspects")
	}
	first := p.Facts.Suspects[0]
	first.Confidence = 0.7
	second, third, other := first, first, first
	second.ID, second.Rank, second.Words = "t2", 2, "leg t2 is the one"
	third.ID, third.Rank, third.Group, third.Confidence, third.Words = "t3", 3, 2, 0.25, "leg t3 is the one"
	other.ID, other.Transformer, other.Words = "r1", "T2", "leg r1 is the one"
	p.Facts.Suspects = []facts.Suspect{first, second, third, other}
	p.Facts.Diagnoses[0].GroupSize = 2
	p.Facts.Diagnoses[1].Outcome = "suspect"
	text, all := paged(t, *p)
	for _, want := range []string{"one of these explains the readings best (confidence 70 %)", "less likely: leg t3 is the one", "(confidence 25 %)", "T1 suspect 2", "T2 suspect 1"} {
		if !strings.Contains(text, want) {
			t.Errorf("the page does not say %q", want)
		}
	}
	for _, n := range all {
		if n.Data == "li" && strings.Contains(words(n), "leg t2 is the one") && strings.Contains(words(n), "confidence") {
			t.Errorf("%q has a confidence of its own", words(n))
		}
	}
	if strings.Contains(text, "T1 suspect 3") {
		t.Error("a less likely place is marked on the drawing")
	}
}

// TestSecondVisit holds that the last visit is the one drawn, and that the
// table says how it has moved.
func TestSecondVisit(t *testing.T) {
	p := checked(t, asBuilt, nil)
	for i := range p.Facts.Readings {
		p.Facts.Readings[i].Latest = false
	}
	again := p.Facts.Readings[4] // H2
	expected := 11.48
	again.ID, again.Set, again.Latest, again.Measured, again.Expected = "second-visit/H2", "second-visit", true, 11.48, &expected
	p.Facts.Readings = append(p.Facts.Readings, again)
	p.Facts.Diagnoses = []facts.Diagnosis{{ID: "second-visit/T1", Set: "second-visit", Transformer: "T1", Outcome: "healthy", Latest: true}}
	text, all := paged(t, *p)
	if !strings.Contains(html.UnescapeString(text), "+0.92 V since first-visit") {
		t.Error("the page does not say how the reading has moved")
	}
	marks, order := 0, ""
	for _, n := range all {
		if hasClass(n, "reading") && n.Data == "a" {
			marks++
		}
		if n.Data == "h3" && strings.Contains(words(n), "-visit") {
			order += words(n)
		}
	}
	if marks != 1 || !strings.HasPrefix(order, "second-visit") {
		t.Errorf("%d marks on the drawing, want that of the last visit; visits in the order %q", marks, order)
	}
}

// TestHostileReadings puts markup and controls into what readings are called.
func TestHostileReadings(t *testing.T) {
	p := checked(t, asBuilt, nil)
	for i := range p.Facts.Readings {
		r := &p.Facts.Readings[i]
		r.ID, r.Set, r.Refused = "<script>alert(1)</script>\x1b"+r.ID, r.Set+hostileWords, "</td><img src=x onerror=alert(2)>\u202e"
		if i%2 == 0 {
			r.Expected, r.Tolerance = nil, nil
		}
	}
	for i := range p.Facts.Suspects {
		s := &p.Facts.Suspects[i]
		s.Set, s.Words = s.Set+hostileWords, "</title><script>alert(3)</script>\x07\u2066"
	}
	for i := range p.Facts.Diagnoses {
		p.Facts.Diagnoses[i].Set += hostileWords
	}
	page, all := paged(t, *p)
	for _, n := range all {
		if n.Data == "script" || n.Data == "img" {
			t.Errorf("%s became an element", n.Data)
		}
	}
	drawing, _ := drawn(t, p, report.Layers()...)
	var printed strings.Builder
	if err := report.Readings(&printed, p.Facts); err != nil {
		t.Fatal(err)
	}
	for name, text := range map[string]string{"page": page, "drawing": drawing, "text": printed.String()} {
		if !strings.Contains(text, "alert(3)") {
			t.Errorf("%s: the words are lost", name)
		}
		if strings.ContainsAny(text, "\x1b\x07\u202e\u2066\x00") {
			t.Errorf("%s: a control character came through", name)
		}
	}
}
