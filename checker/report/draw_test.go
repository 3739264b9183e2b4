package report_test

import (
	"bytes"
	"context"
	"encoding/xml"
	"errors"
	"io"
	"math"
	"os"
	"path/filepath"
	"regexp"
	"strconv"
	"strings"
	"sync"
	"testing"

	"duskproof/checker"
	"duskproof/checker/facts"
	"duskproof/checker/report"
)

const plans = "../../testdata/plans"

var rules = sync.OnceValues(func() (*checker.Checker, error) { return checker.New(checker.Options{Today: "2026-06-01"}) })

// checked checks a plan of the test data, or a text.
func checked(t testing.TB, name string, text []byte) *report.Plan {
	t.Helper()
	c, err := rules()
	if err != nil {
		t.Fatal(err)
	}
	folder := filepath.Dir(filepath.Join(plans, name))
	if text == nil {
		if text, err = os.ReadFile(filepath.Join(plans, name)); err != nil {
			t.Fatal(err)
		}
	}
	result, err := c.Check(context.Background(), checker.Input{Name: name, Bytes: text, FS: os.DirFS(folder)})
	if err != nil {
		t.Fatal(err)
	}
	for _, p := range result.Problems {
		t.Fatalf("%s:%d: %s", name, p.Line, p.Message)
	}
	if result.Light, err = facts.MapLight(context.Background(), result.Model, result.Facts, os.DirFS(folder), 3000); err != nil {
		t.Fatal(err)
	}
	return &result
}

// drawn draws a plan and parses it with the general XML reader.
func drawn(t testing.TB, p *report.Plan, layers ...string) (string, []element) {
	t.Helper()
	var b bytes.Buffer
	if err := report.Draw(&b, p, report.DrawOptions{Layers: layers, Light: p.Light, Today: "2026-06-01", Caution: report.Caution}); err != nil {
		t.Fatal(err)
	}
	return b.String(), parsed(t, b.String())
}

// element is one element of a document with the text in it.
type element struct {
	name       string
	attributes map[string]string
	text       string
	inside     []string // classes of the elements round it
}

func parsed(t testing.TB, text string) []element {
	t.Helper()
	reader := xml.NewDecoder(strings.NewReader(text))
	reader.Strict = true
	var all []element
	var open []int
	for {
		token, err := reader.Token()
		if errors.Is(err, io.EOF) {
			return all
		}
		if err != nil {
			t.Fatalf("not XML: %v", err)
		}
		switch token := token.(type) {
		case xml.StartElement:
			e := element{name: token.Name.Local, attributes: map[string]string{}}
			for _, a := range token.Attr {
				e.attributes[a.Name.Local] = a.Value
			}
			for _, i := range open {
				e.inside = append(e.inside, all[i].attributes["class"])
			}
			open = append(open, len(all))
			all = append(all, e)
		case xml.EndElement:
			open = open[:len(open)-1]
		case xml.CharData:
			if len(open) > 0 {
				all[open[len(open)-1]].text += string(token)
			}
		}
	}
}

func value(t *testing.T, e element, name string) float64 {
	t.Helper()
	v, err := strconv.ParseFloat(e.attributes[name], 64)
	if err != nil {
		t.Fatalf("%s of %s: %v", name, e.name, err)
	}
	return v
}

// demo is the demo as first drawn.
const demo = "tern-cottage/draft.lighting.json"

// TestDrawingIsToScale measures the drawing: the distance of two lamps whose
// places are written in the plan, against the scale bar and against the scale
// in words and the size of the sheet.
func TestDrawingIsToScale(t *testing.T) {
	text, all := drawn(t, checked(t, demo, nil))
	// M1 stands at [-2.2, -4] and M2 at [-2.2, -13] in the plan: 9 ft.
	places := map[string][2]float64{}
	for i, e := range all {
		if e.name == "use" && i+1 < len(all) && all[i+1].name == "title" {
			id, _, _ := strings.Cut(all[i+1].text, ",")
			places[id] = [2]float64{value(t, e, "x"), value(t, e, "y")}
		}
	}
	unitsPerFt := (places["M2"][1] - places["M1"][1]) / 9
	if math.Abs(places["M2"][0]-places["M1"][0]) > 0.11 || unitsPerFt <= 0 {
		t.Fatalf("M1 at %v, M2 at %v: north is not up", places["M1"], places["M2"])
	}
	bar := regexp.MustCompile(`>(\d+) ft</text>`).FindStringSubmatch(text)
	if bar == nil {
		t.Fatal("no scale bar")
	}
	length, _ := strconv.ParseFloat(bar[1], 64)
	for _, e := range all {
		if e.name == "rect" && e.attributes["class"] == "d-stroke" {
			if width := value(t, e, "width"); math.Abs(width-length*unitsPerFt) > 0.3 {
				t.Errorf("the bar is %.1f units for %g ft; lamps say %.1f", width, length, length*unitsPerFt)
			}
		}
	}
	// Width in millimetres over width in units, times units per foot, is a foot
	// on paper: 304.8 mm over the scale.
	words := regexp.MustCompile(`scale 1:(\d+) `).FindStringSubmatch(text)
	scale, _ := strconv.ParseFloat(words[1], 64)
	view := strings.Fields(all[0].attributes["viewBox"])
	units, _ := strconv.ParseFloat(view[2], 64)
	paper, _ := strconv.ParseFloat(strings.TrimSuffix(all[0].attributes["width"], "mm"), 64)
	if foot := paper / units * unitsPerFt; math.Abs(foot-304.8/scale) > 0.01 {
		t.Errorf("a foot is %.3f mm on paper, want %.3f at 1:%g", foot, 304.8/scale, scale)
	}
}

// TestEveryFindingWithAPlaceIsMarked holds that each finding about something on
// the ground has its mark, with the number that the page gives it.
func TestEveryFindingWithAPlaceIsMarked(t *testing.T) {
	p := checked(t, demo, nil)
	_, all := drawn(t, p)
	marks := map[string]bool{}
	for _, e := range all {
		if e.name == "title" && strings.HasPrefix(e.text, "finding ") {
			_, message, _ := strings.Cut(e.text, ": ")
			marks[message] = true
		}
	}
	for _, f := range p.Findings {
		placeless := f.Element == "plan" || f.Element == "permissions" || f.Element == "supply"
		if marks[report.Clean(f.Message)] == placeless {
			t.Errorf("%s on %s: marked %v", f.Rule, f.Element, marks[report.Clean(f.Message)])
		}
	}
}

// TestLabelsAreClear holds that labels, marks and tags do not overlap each
// other, with every layer on. Widths are measured as the drawing estimates
// them; a browser measures them in the tests of the page.
func TestLabelsAreClear(t *testing.T) {
	_, all := drawn(t, checked(t, demo, nil), report.Layers()...)
	type label struct {
		words          string
		x0, y0, x1, y1 float64
	}
	var labels []label
	for _, e := range all {
		inside := strings.Join(e.inside, " ")
		if e.name != "text" || !strings.Contains(inside, "labels") && !strings.Contains(inside, "mark") && !strings.Contains(inside, "layer-volts") {
			continue
		}
		if value(t, e, "y") > 1150 {
			continue // the legend
		}
		half := float64(len([]rune(e.text))) * 4.4 / 2
		x, y := value(t, e, "x"), value(t, e, "y")
		labels = append(labels, label{e.text, x - half, y - 7, x + half, y + 1})
	}
	if len(labels) < 80 {
		t.Fatalf("%d labels", len(labels))
	}
	for i, a := range labels {
		for _, b := range labels[:i] {
			if a.x0 < b.x1 && b.x0 < a.x1 && a.y0 < b.y1 && b.y0 < a.y1 {
				t.Errorf("%q at %.0f, %.0f overlaps %q at %.0f, %.0f", a.words, a.x0, a.y0, b.words, b.x0, b.y0)
			}
		}
	}
}

// TestLayers holds that a layer is drawn when it is asked for, and only then.
func TestLayers(t *testing.T) {
	p := checked(t, demo, nil)
	for _, layer := range []string{report.LayerLight, report.LayerVolts, report.LayerFindings} {
		with, _ := drawn(t, p, layer)
		without, _ := drawn(t, p, report.LayerPlan)
		class := `class="layer-` + layer
		if !strings.Contains(with, class) || strings.Contains(without, class) {
			t.Errorf("layer %s: with %v, without %v", layer, strings.Contains(with, class), strings.Contains(without, class))
		}
	}
	var b bytes.Buffer
	if err := report.Draw(&b, p, report.DrawOptions{Light: p.Light, Scene: "never"}); err == nil || b.Len() > 0 {
		t.Errorf("a scene that is not there: %v and %d bytes", err, b.Len())
	}
}

// TestDrawingIsTheSameEachTime draws one plan, checked anew, several times.
func TestDrawingIsTheSameEachTime(t *testing.T) {
	first, _ := drawn(t, checked(t, demo, nil), report.Layers()...)
	for range 3 {
		if again, _ := drawn(t, checked(t, demo, nil), report.Layers()...); again != first {
			t.Fatal("the drawing differs from run to run")
		}
	}
	_, first, _ = strings.Cut(first, "</style>") // colours look like numbers
	if strings.Contains(first, "NaN") || strings.Contains(first, "Inf") || regexp.MustCompile(`[0-9]e[-+]?[0-9]`).MatchString(first) {
		t.Error("a number that readers do not know")
	}
}

// TestNothingToDraw says so for a plan without places.
func TestNothingToDraw(t *testing.T) {
	p := checked(t, "too-far.lighting.json", []byte(`{"format": "1.0", "plan": {"title": "Invented"}, "units": "ft"}`))
	if err := report.Draw(io.Discard, p, report.DrawOptions{}); !errors.Is(err, report.ErrNothingPlaced) {
		t.Errorf("%v", err)
	}
	if err := report.Draw(io.Discard, &report.Plan{Path: "x"}, report.DrawOptions{}); err == nil {
		t.Error("a plan that could not be read was drawn")
	}
}

// hostileWords are what a plan may say; nothing of it may act.
const hostileWords = `</text></svg><script>alert(1)</script>\"'&amp; \u202egnp \u0007 ]]>`

// TestHostileNamesAreInertInDrawings draws a plan whose texts are markup.
func TestHostileNamesAreInertInDrawings(t *testing.T) {
	text, err := os.ReadFile(filepath.Join(plans, demo))
	if err != nil {
		t.Fatal(err)
	}
	hostile := regexp.MustCompile(`"title": "[^"]*"`).ReplaceAll(text, []byte(`"title": "`+hostileWords+`"`))
	p := checked(t, demo, hostile)
	p.Path = "a\x1b[31m<b>.json"
	svg, all := drawn(t, p, report.Layers()...)
	for _, e := range all {
		if e.name == "script" || e.name == "b" {
			t.Errorf("%s became an element", e.name)
		}
	}
	if strings.ContainsAny(svg, "\x1b\x07\u202e") {
		t.Error("a control character came through")
	}
	if !strings.Contains(svg, "&lt;script&gt;") {
		t.Error("the title is lost")
	}
}
