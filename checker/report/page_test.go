package report_test

import (
	"bytes"
	"os"
	"path/filepath"
	"regexp"
	"strings"
	"testing"

	"golang.org/x/net/html"

	"duskproof/checker/report"
)

// paged writes a page and parses it with the general HTML reader.
func paged(t testing.TB, plans ...report.Plan) (string, []*html.Node) {
	t.Helper()
	var b bytes.Buffer
	if err := report.HTML(&b, pageReport(plans...), report.Options{}); err != nil {
		t.Fatal(err)
	}
	root, err := html.Parse(bytes.NewReader(b.Bytes()))
	if err != nil {
		t.Fatal(err)
	}
	var all []*html.Node
	for n := range root.Descendants() {
		if n.Type == html.ElementNode {
			all = append(all, n)
		}
	}
	return b.String(), all
}

func attribute(n *html.Node, name string) string {
	for _, a := range n.Attr {
		if a.Key == name {
			return a.Val
		}
	}
	return ""
}

func hasClass(n *html.Node, class string) bool {
	for _, c := range strings.Fields(attribute(n, "class")) {
		if c == class {
			return true
		}
	}
	return false
}

// TestPageNeedsNothing holds that the page has no script, loads nothing, and
// that every link leads to a place on it.
func TestPageNeedsNothing(t *testing.T) {
	text, all := paged(t, *checked(t, demo, nil), *checked(t, "format/lane-to-door.lighting.json", nil))
	ids := map[string]bool{}
	for _, n := range all {
		if id := attribute(n, "id"); id != "" {
			if ids[id] {
				t.Errorf("id %s is there twice", id)
			}
			ids[id] = true
		}
	}
	for _, n := range all {
		switch n.Data {
		case "script", "link", "img", "iframe", "object", "embed", "image", "audio", "video", "base", "form":
			t.Errorf("the page has an element %s", n.Data)
		}
		for _, a := range n.Attr {
			if strings.HasPrefix(strings.ToLower(a.Key), "on") || a.Key == "src" || a.Key == "srcset" || a.Key == "action" {
				t.Errorf("%s has %s=%q", n.Data, a.Key, a.Val)
			}
			if a.Key == "href" && (!strings.HasPrefix(a.Val, "#") || !ids[a.Val[1:]]) {
				t.Errorf("%s leads to %q", n.Data, a.Val)
			}
			for _, used := range regexp.MustCompile(`url\(#([^)]*)\)`).FindAllStringSubmatch(a.Val, -1) {
				if !ids[used[1]] {
					t.Errorf("%s uses %s", n.Data, used[0])
				}
			}
		}
	}
	if regexp.MustCompile(`(?i)https?:|@import|url\((?:[^#)])`).MatchString(text) {
		t.Error("the page names an address")
	}
}

// TestFindingsAndDrawingLinkBothWays follows the links of each finding that has
// a place to its mark, and back.
func TestFindingsAndDrawingLinkBothWays(t *testing.T) {
	p := checked(t, demo, nil)
	_, all := paged(t, *p)
	marks, cards := map[string]string{}, map[string]string{}
	for _, n := range all {
		if n.Data == "a" && hasClass(n, "mark") {
			marks["#"+attribute(n, "id")] = attribute(n, "href")
			if first := n.FirstChild; first == nil || first.NextSibling == nil || first.NextSibling.Data != "title" {
				t.Errorf("mark %s has no name", attribute(n, "id"))
			}
		}
		if n.Data == "li" && hasClass(n, "finding") {
			cards["#"+attribute(n, "id")] = ""
			for inner := range n.Descendants() {
				if hasClass(inner, "go") {
					cards["#"+attribute(n, "id")] = attribute(inner, "href")
				}
			}
		}
	}
	if len(cards) != len(p.Findings) {
		t.Errorf("%d cards for %d findings", len(cards), len(p.Findings))
	}
	linked := 0
	for card, mark := range cards {
		if mark == "" {
			continue
		}
		linked++
		if marks[mark] != card {
			t.Errorf("%s leads to %s, which leads to %s", card, mark, marks[mark])
		}
	}
	if linked != len(marks) || linked < 30 {
		t.Errorf("%d findings lead to %d marks", linked, len(marks))
	}
}

// TestPageHasEverything holds that the page says all that a report has.
func TestPageHasEverything(t *testing.T) {
	text, all := paged(t, *checked(t, "format/lane-to-door.lighting.json", nil))
	for _, want := range []string{
		"Volts along the cable", "Load of transformers and commons", "One-line diagrams", "Commissioning sheet", "Standing cautions",
		"Variances", "granted by invented", "drawn for scale 1:", "light on the ground", report.Caution,
	} {
		if !strings.Contains(text, want) {
			t.Errorf("the page does not say %q", want)
		}
	}
	headings := ""
	for _, n := range all {
		if regexp.MustCompile(`^h[1-6]$`).MatchString(n.Data) {
			headings += n.Data
		}
		if n.Data == "table" {
			head := false
			for inner := range n.Descendants() {
				head = head || inner.Data == "th" && attribute(inner, "scope") == "col"
			}
			if !head {
				t.Error("a table has no headings")
			}
		}
		if n.Data == "svg" && attribute(n, "aria-label") == "" && attribute(n, "aria-hidden") != "true" {
			t.Error("a picture has no words")
		}
		if attribute(n, "tabindex") == "0" && attribute(n, "aria-label") == "" {
			t.Errorf("%s can be reached by keyboard and has no name", n.Data)
		}
	}
	if strings.HasPrefix(headings, "h1h3") || !strings.HasPrefix(headings, "h1") {
		t.Errorf("headings begin %.20s", headings)
	}
}

// TestHostileNamesAreInertOnPages puts markup, quotes, controls and marks of
// direction into every text of a plan.
func TestHostileNamesAreInertOnPages(t *testing.T) {
	source, err := os.ReadFile(filepath.Join(plans, demo))
	if err != nil {
		t.Fatal(err)
	}
	text := regexp.MustCompile(`"(title|text|prepared_by|number|by|jurisdiction)": "[^"]*"`).ReplaceAll(source, []byte(`"$1": "`+hostileWords+`"`))
	p := checked(t, demo, text)
	p.Path = `"><script>alert(3)</script>` + "\x1b\u202e"
	p.Findings[0].Message = "</p></li><style>*{display:none}</style>\x07"
	p.Findings[0].Excerpt = "</pre><script>alert(4)</script>\u2066"
	p.Variances = append(p.Variances, report.Variance{Rule: "<b>", Element: "<i>", Reason: "<u>\u202e", GrantedBy: "<s>", State: "applied"})
	p.Unjudged = append(p.Unjudged, report.UnjudgedRule{Rule: "a.b", Missing: "<b>", Elements: []string{"<svg onload=alert(1)>"}})
	page, all := paged(t, *p)
	styles := 0
	for _, n := range all {
		switch n.Data {
		case "script", "b", "i", "u", "s":
			t.Errorf("%s became an element", n.Data)
		case "style":
			styles++
		}
		for _, a := range n.Attr {
			if strings.HasPrefix(a.Key, "on") {
				t.Errorf("%s became a handler", a.Key)
			}
		}
	}
	if styles != 1 {
		t.Errorf("%d styles, want the page's own", styles)
	}
	if strings.ContainsAny(page, "\x1b\x07\u202e\u2066\x00") {
		t.Error("a control character came through")
	}
}

// TestPageOfABrokenPlan holds that a plan that could not be used says why, and
// that no plan at all is a page too.
func TestPageOfABrokenPlan(t *testing.T) {
	text, _ := paged(t, report.Plan{Path: "b.lighting.json", Verdict: report.Unjudged,
		Problems: []report.Problem{{Rule: "plan.syntax", Line: 3, Column: 2, EndLine: 3, EndColumn: 3, Message: "a comma is missing", Excerpt: "  {"}}})
	for _, want := range []string{"Not judged", "a comma is missing", "line 3, column 2"} {
		if !strings.Contains(text, want) {
			t.Errorf("the page does not say %q", want)
		}
	}
	if text, _ := paged(t); !strings.Contains(text, "0 plans") {
		t.Error("a report on nothing does not say so")
	}
}

// TestPageIsTheSameEachTime writes one page several times.
func TestPageIsTheSameEachTime(t *testing.T) {
	first, _ := paged(t, *checked(t, demo, nil))
	for range 3 {
		if again, _ := paged(t, *checked(t, demo, nil)); again != first {
			t.Fatal("the page differs from run to run")
		}
	}
}
