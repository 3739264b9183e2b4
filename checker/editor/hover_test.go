package editor

import (
	"context"
	"os"
	"path/filepath"
	"strings"
	"testing"

	"duskproof/checker"
	"duskproof/checker/report"
)

// checkedFile is an open plan that has been checked by the real rules.
func checkedFile(t *testing.T, path string, data []byte) *file {
	t.Helper()
	c, err := checker.New(checker.Options{Today: "2026-06-01", Only: []string{}})
	if err != nil {
		t.Fatal(err)
	}
	var result report.Plan
	if result, err = c.Check(context.Background(), checker.Input{Name: path, Bytes: data, FS: os.DirFS(filepath.Dir(path))}); err != nil {
		t.Fatal(err)
	}
	o := &outcome{Result: Result{Plan: result}, doc: newDocument(data)}
	return &file{uri: "u", data: data, doc: o.doc, good: o, latest: o}
}

// hovered is what hovering over a marked place shows, and over what.
func hovered(t *testing.T, f *file, marked string) (shown, over string) {
	t.Helper()
	text := string(f.data)
	s := &Server{client: client{markdown: true}, options: Options{Judge: &stub{}}}
	answer, err := s.hover(f, placeParams{Position: f.document().position(placeOf(t, text, marked))})
	if err != nil {
		t.Fatal(err)
	}
	h, ok := answer.(Hover)
	if !ok {
		return "", ""
	}
	return h.Contents.Value, text[f.doc.offset(h.Range.Start):f.doc.offset(h.Range.End)]
}

// chained is an invented plan with an array and a chain that comes to one end
// twice.
const chained = `{
  "format": "1.0", "plan": {"title": "Invented: a chain"}, "units": "m",
  "supply": {"volts": 230},
  "catalogue": {
    "fixtures": {"bollard": {"kind": "bollard", "load": "constant-power", "watts": 4, "va": 5, "window": ["20 V", "26 V"], "lumens": 300, "light": {"shape": "downward-ring"}}},
    "cables": {"4": {"conductor": "4 mm2"}},
    "transformers": {"T100": {"kind": "magnetic", "rating": "100 VA", "impedance": "4 %", "taps": ["24 V"]}}
  },
  "site": {"paths": [{"id": "walk", "centreline": [[0, 0], [12, 0]], "width": 1.2}]},
  "transformers": [{"id": "T1", "type": "T100"}],
  "runs": [{"id": "R1", "from": {"transformer": "T1"}, "cable": "4", "method": "buried", "cover": "450 mm",
    "nodes": [{"id": "h1", "kind": "hub"}],
    "chain": [{"to": "h1", "length": 3}, {"to": "B-1", "length": 4}, {"to": "B-2", "length": 5.5, "from": "h1"}, {"to": "B-1", "length": 6.25}]}],
  "fixtures": [{"id": "B", "type": "bollard", "array": {"along": "walk", "count": 2, "side": "left"}, "height": "900 mm"}]
}`

func TestHovers(t *testing.T) {
	f := checkedFile(t, "chained"+planEnding, []byte(chained))
	if len(f.good.Problems) > 0 || f.good.Facts == nil {
		t.Fatalf("the plan of the test: %v", f.good.Problems)
	}
	for _, c := range []struct {
		marked, shown, over string
	}{
		{`{"id": "|B", "type"`, "**B** array of 2 lamps, bollard", `"B"`},
		{`"|height": "900 mm"`, "**B** array of 2 lamps", `{"id": "B", "type": "bollard", "array": {"along": "walk", "count": 2, "side": "left"}, "height": "900 mm"}`},
		{`{"to": "|B-2"`, "**B-2** bollard, constant-power, run R1", `"B-2"`},
		{`"length": |5.5`, "**R1/B-2** h1 to B-2, 4 mm2", `{"to": "B-2", "length": 5.5, "from": "h1"}`},
		{`"length": |6.25`, "**R1/B-1/2** B-2 to B-1, 4 mm2", `{"to": "B-1", "length": 6.25}`},
		{`"from": "|h1"`, "**h1** hub on run R1: 2", `"h1"`},
		{`{"id": "|R1"`, "**R1** from T1 common 1, 24.0 V tap: 2 lamps, 1", `"R1"`},
		{`{"transformer": "|T1"}`, "**T1** T100: 1", `"T1"`},
		{`"along": "|walk"`, "| all | ", `"walk"`},
		{`"|centreline"`, "| scene | least | mean | most | lit by |", `{"id": "walk", "centreline": [[0, 0], [12, 0]], "width": 1.2}`},
	} {
		shown, over := hovered(t, f, c.marked)
		if !strings.Contains(shown, c.shown) || over != c.over {
			t.Errorf("%s: over %q is %q, want %q over %q", c.marked, over, shown, c.shown, c.over)
		}
	}
	for _, marked := range []string{`"|4": {"conductor"`, `"|units"`, `"title": "|Invented`} {
		if shown, over := hovered(t, f, marked); shown != "" {
			t.Errorf("%s: over %q is %q", marked, over, shown)
		}
	}
	lamp, _ := hovered(t, f, `{"to": "|B-2"`)
	for _, row := range []string{"| nominal supply | 2", "| low supply, hot cable | ", "| high supply, cold cable | ", "| **window** | 20.00 V to 26.00 V |", "load 5.0 VA; drop from the loaded tap 0."} {
		if !strings.Contains(lamp, row) {
			t.Errorf("the lamp shows %q, without %q", lamp, row)
		}
	}
	leg, _ := hovered(t, f, `"length": |5.5`)
	if !strings.Contains(leg, "5.50 m long") || !strings.Contains(leg, "| 0 mm | 5.50 m | open ground | 450 mm | ") {
		t.Errorf("the leg shows %q", leg)
	}
}

// TestHoverPages shows the page of a rule that is named, and lets nobody's page
// fetch a picture or bring HTML.
func TestHoverPages(t *testing.T) {
	text := `{"variances": [{"rule": "a.rule"}, {"rule": "no.rule"}]}`
	f := &file{uri: "u", data: []byte(text)}
	if shown, over := hovered(t, f, `"rule": "|a.rule"`); shown != "page of a.rule" || over != `"a.rule"` {
		t.Errorf("over %q is %q", over, shown)
	}
	if shown, _ := hovered(t, f, `"rule": "|no.rule"`); shown != "" {
		t.Errorf("an unknown rule shows %q", shown)
	}
	if page := harmless("![x](http://a.invalid/x) <img src=x> a < b"); strings.Contains(page, "![") || strings.Contains(page, "<") {
		t.Errorf("the page keeps %q", page)
	}
}

// TestHoverOverEveryElement hovers over every id of every plan that can be
// computed; nothing of it may fail, and what light, volts and amps are computed
// for says something.
func TestHoverOverEveryElement(t *testing.T) {
	path := "../../testdata/plans/tern-cottage/issued.lighting.json"
	data, err := os.ReadFile(path)
	if err != nil {
		t.Fatal(err)
	}
	f := checkedFile(t, path, data)
	described := 0
	for id, e := range f.good.Model.Elements {
		text := f.good.describe(id)
		if text != "" {
			described++
		}
		switch e.Kind {
		case "fixture", "leg", "run", "transformer", "node", "array":
			if text == "" {
				t.Errorf("nothing is said of the %s %s", e.Kind, id)
			}
		}
	}
	if described < 90 {
		t.Errorf("only %d elements are described", described)
	}
}
