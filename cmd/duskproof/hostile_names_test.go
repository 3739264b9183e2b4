package main

import (
	"bytes"
	"encoding/csv"
	"encoding/json"
	"encoding/xml"
	"errors"
	"io"
	"os"
	"path/filepath"
	"regexp"
	"strings"
	"testing"
	"unicode"

	"golang.org/x/net/html"

	"duskproof/checker/report"
)

// hostileWords are what a plan may say where it may say anything: markup of each
// form, quotes, a formula, controls, and a mark that turns the direction of
// writing. They stand as in a JSON string.
const hostileWords = `=1+1 </text></svg></title><script>alert(1)</script><img src=x onerror=alert(2)> \"'&amp; ]]> [a](javascript:b) @team \u001b[31m\u0007\u0085\u202egnp\u2066 -->`

// freeTexts are the fields of a plan that may say anything.
var freeTexts = regexp.MustCompile(`"(title|text|prepared_by|by|reason|granted_by|note|jurisdiction|//)": "[^"]*"`)

// hostilelyNamed writes the demo as built, with hostile words in every free text
// and in the names of its folder and file.
func hostilelyNamed(t *testing.T) string {
	t.Helper()
	text := freeTexts.ReplaceAllFunc(read(t, filepath.Join(ternCottage, "as-built.lighting.json")), func(field []byte) []byte {
		name, _, _ := bytes.Cut(field, []byte(":"))
		return []byte(string(name) + `: "` + hostileWords + `"`)
	})
	text = bytes.Replace(text, []byte(`"readings": [`), []byte(`"variances": [{"rule": "asbuilt.off-reading", "element": "first-visit", "case": "first-visit/H3", "reason": "`+
		hostileWords+`", "granted_by": "`+hostileWords+`", "until": "2027-05-05"}],
  "readings": [`), 1)
	folder := filepath.Join(t.TempDir(), "a<b>'&amp; \u202e\x1b[1m")
	name := filepath.Join(folder, "x<script>alert(3)<.lighting.json")
	if err := os.Mkdir(folder, 0o755); err != nil {
		t.Skip("this machine has no such names: ", err)
	}
	for file, data := range map[string][]byte{name: text, filepath.Join(folder, "stone-spot.ies"): read(t, filepath.Join(ternCottage, "stone-spot.ies"))} {
		if err := os.WriteFile(file, data, 0o644); err != nil {
			t.Skip("this machine has no such names: ", err)
		}
	}
	return name
}

// TestHostileNamesAreInert holds, for everything that the program prints about a
// plan, that nothing a plan says is obeyed: each form is read by a general
// reader of that form.
func TestHostileNamesAreInert(t *testing.T) {
	plan := hostilelyNamed(t)
	forms := map[string][]string{
		"brief":    {"check", "--brief"},
		"readings": {"readings"}, "mend": {"mend"}, "facts": {"facts"},
		"svg":           {"draw", "--layers", strings.Join(report.Layers(), ",")},
		"schedule text": {"schedule"}, "schedule csv": {"schedule", "--as", "csv", "--table", "fixtures"}, "schedule json": {"schedule", "--as", "json"},
	}
	for _, form := range report.FormNames() {
		forms[form] = []string{"check", "--as", form}
	}
	readers := map[string]func(*testing.T, string){
		"html": noMarkup, "markdown": noMarkdown, "svg": isXML, "junit": isXML, "json": isJSON, "sarif": isJSON, "facts": isJSON, "schedule json": isJSON, "schedule csv": noFormula,
	}
	for form, args := range forms {
		t.Run(form, func(t *testing.T) {
			args = append([]string{args[0], "--today", day}, append(args[1:], plan)...)
			status, out, complaints := command(t, "", args...)
			if status > exitHeld {
				t.Fatalf("status %d: %s", status, complaints)
			}
			for i, r := range out + complaints {
				if r != '\n' && r != '\t' && r != '\u2060' && (unicode.IsControl(r) || unicode.Is(unicode.Cf, r)) {
					t.Fatalf("%U comes through after %q", r, (out + complaints)[max(0, i-30):i])
				}
			}
			if readers[form] != nil {
				readers[form](t, out)
			}
		})
	}
}

// noMarkup reads HTML: nothing that acts has become an element, and no attribute
// acts.
func noMarkup(t *testing.T, text string) {
	root, err := html.Parse(strings.NewReader(text))
	if err != nil {
		t.Fatal(err)
	}
	for n := range root.Descendants() {
		if n.Type != html.ElementNode {
			continue
		}
		if n.Data == "script" || n.Data == "img" || n.Data == "iframe" || n.Data == "object" {
			t.Errorf("%s became an element", n.Data)
		}
		for _, a := range n.Attr {
			if strings.HasPrefix(a.Key, "on") || strings.Contains(a.Val, "javascript:") && (a.Key == "href" || a.Key == "src") {
				t.Errorf("%s has %s=%q", n.Data, a.Key, a.Val)
			}
		}
	}
}

// noMarkdown reads the HTML in Markdown, without the code spans, which show their
// text as it is written.
func noMarkdown(t *testing.T, text string) {
	noMarkup(t, regexp.MustCompile("``+ .*? ``+|`[^`\n]*`").ReplaceAllString(text, ""))
}

// isXML reads XML: well formed, and without elements that act.
func isXML(t *testing.T, text string) {
	reader := xml.NewDecoder(strings.NewReader(text))
	for {
		token, err := reader.Token()
		if errors.Is(err, io.EOF) {
			return
		}
		if err != nil {
			t.Fatal(err)
		}
		if start, is := token.(xml.StartElement); is && (start.Name.Local == "script" || start.Name.Local == "img") {
			t.Errorf("%s became an element", start.Name.Local)
		}
	}
}

func isJSON(t *testing.T, text string) {
	if !json.Valid([]byte(text)) {
		t.Error("not JSON")
	}
}

// noFormula reads CSV: no cell is a formula to a spreadsheet.
func noFormula(t *testing.T, text string) {
	reader := csv.NewReader(strings.NewReader(text))
	reader.Comment, reader.FieldsPerRecord = '#', -1
	rows, err := reader.ReadAll()
	if err != nil {
		t.Fatal(err)
	}
	found := false
	for _, row := range rows {
		for _, cell := range row {
			found = found || strings.Contains(cell, "1+1")
			if strings.HasPrefix(cell, "=") || strings.HasPrefix(cell, "@") {
				t.Errorf("a cell is a formula: %.30q", cell)
			}
		}
	}
	if !found {
		t.Error("the words are lost")
	}
}
