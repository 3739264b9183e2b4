package report_test

import (
	"bytes"
	"flag"
	"fmt"
	"path/filepath"
	"strings"
	"testing"

	"duskproof/checker/report"
)

var pictures = flag.String("pictures", "", "folder for pictures of the page and the drawing")

// demoPage is the page of the demo.
func demoPage(t *testing.T) string {
	t.Helper()
	text, _ := paged(t, *checked(t, demo, nil))
	return text
}

// TestAsSeen opens the page of the demo in a browser and looks at it from every
// side.
func TestAsSeen(t *testing.T) {
	b := openBrowser(t)
	text := demoPage(t)
	for _, side := range []struct {
		name string
		look func(*testing.T, *browser, string)
	}{
		{"fits the screen", pageFitsTheScreen},
		{"nothing overlaps", nothingOverlapsAsSeen},
		{"links both ways", linksLeadWhereTheySay},
		{"meter readings", readingsAsSeen},
		{"layers", layersAreSwitchedWithoutScript},
		{"by keyboard and by ear", pageByKeyboardAndByEar},
		{"on paper", pageOnPaper},
		{"drawing alone", drawingInABrowser},
	} {
		t.Run(side.name, func(t *testing.T) {
			b.t, b.said = t, nil
			side.look(t, b, text)
		})
	}
	b.t = t
}

// widths of a telephone and of a desk.
var widthsOfScreens = []int{360, 1280}

// pageFitsTheScreen opens the page by day and by night on a telephone and on
// a desk: nothing hangs over the edge, nothing is said on the console, nothing
// is asked of a network.
func pageFitsTheScreen(t *testing.T, b *browser, text string) {
	for _, light := range []string{"light", "dark"} {
		for _, width := range widthsOfScreens {
			b.open(text, width, 900, scheme(light))
			var wide int
			b.eval("document.documentElement.scrollWidth", &wide)
			if wide > width {
				t.Errorf("%s, %d px: the page is %d px wide", light, width, wide)
			}
			var over []string
			b.eval(fmt.Sprintf(`[...document.querySelectorAll("body *")].filter(e => !e.closest(".scroll,.sheet,.skip") && e.getBoundingClientRect().right > %d.5).map(e => e.outerHTML.slice(0, 80))`, width), &over)
			if len(over) > 0 {
				t.Errorf("%s, %d px: over the edge: %s", light, width, over)
			}
		}
	}
	b.quiet()
}

// nothingOverlapsAsSeen measures labels, marks and tags of the drawing where
// the browser puts them, with every layer on.
func nothingOverlapsAsSeen(t *testing.T, b *browser, text string) {
	b.open(text, 1280, 900, scheme("light"))
	b.eval(`document.querySelector(".t-volts").click()`, nil)
	var labels int
	b.eval(`document.querySelectorAll(".labels text, .mark .shape, .sheet .layer-volts text").length`, &labels)
	if labels < 80 {
		t.Errorf("%d labels", labels)
	}
	var pairs []string
	b.eval(`(() => {
		const all = [...document.querySelectorAll(".labels text, .mark .shape, .reading .shape, .suspicion .shape, .layer-volts text, .scene-0 text")].filter(e => !e.closest(".layer-volts") || e.closest(".sheet"));
		const boxes = all.map(e => e.getBoundingClientRect()).map((r, i) => ({r, e: all[i]})).filter(x => x.r.width > 0);
		const out = [];
		for (let i = 0; i < boxes.length; i++) for (let k = 0; k < i; k++) {
			const a = boxes[i].r, c = boxes[k].r;
			const w = Math.min(a.right, c.right) - Math.max(a.left, c.left), h = Math.min(a.bottom, c.bottom) - Math.max(a.top, c.top);
			if (w > 2 && h > 3) out.push((boxes[i].e.textContent || boxes[i].e.parentNode.textContent).trim().slice(0, 30) + " | " + (boxes[k].e.textContent || boxes[k].e.parentNode.textContent).trim().slice(0, 30));
		}
		return out;
	})()`, &pairs)
	for _, pair := range pairs {
		t.Errorf("overlap: %s", pair)
	}
	var small []string
	b.eval(`[...document.querySelectorAll(".sheet text")].filter(e => e.getBoundingClientRect().height > 0 && parseFloat(getComputedStyle(e).fontSize) * e.getScreenCTM().a < 7.5).map(e => e.textContent)`, &small)
	if len(small) > 0 {
		t.Errorf("too small to read: %.200s", strings.Join(small, ", "))
	}
}

// linksLeadWhereTheySay follows a finding to its mark and back: each is then
// in sight, the drawing beside the list.
func linksLeadWhereTheySay(t *testing.T, b *browser, text string) {
	b.open(text, 1280, 800, scheme("light"))
	seen := func(selector string) bool {
		var inside bool
		b.eval(fmt.Sprintf(`(() => { const r = document.querySelector(%q).getBoundingClientRect(); return r.top >= 0 && r.bottom <= innerHeight && r.left >= 0 && r.right <= innerWidth; })()`, selector), &inside)
		return inside
	}
	for _, n := range []int{2, 11, 20, 30} {
		card, mark := fmt.Sprintf("#p1-f%d", n), fmt.Sprintf("#p1-m%d", n)
		b.eval(fmt.Sprintf(`document.querySelector(%q).scrollIntoView()`, card), nil)
		b.eval(fmt.Sprintf(`document.querySelector("%s .go").click()`, card), nil)
		if !seen(mark + " .shape") {
			t.Errorf("finding %d: its mark is not in sight", n)
		}
		b.eval("scrollTo(0, 0)", nil)
		b.eval(fmt.Sprintf(`document.querySelector("%s").dispatchEvent(new MouseEvent("click", {bubbles: true}))`, mark), nil)
		var hash string
		b.eval("location.hash", &hash)
		if hash != card || !seen(card+" .message") {
			t.Errorf("mark %d leads to %q, and its finding is in sight: %v", n, hash, seen(card+" .message"))
		}
	}
	b.quiet()
}

// readingsAsSeen looks at the page of the plan with readings: they fit, nothing
// covers another, and a row leads to its mark.
func readingsAsSeen(t *testing.T, b *browser, _ string) {
	text, _ := paged(t, *checked(t, asBuilt, nil))
	pageFitsTheScreen(t, b, text)
	nothingOverlapsAsSeen(t, b, text)
	b.open(text, 1280, 800, scheme("light"))
	var seen bool
	b.eval(`(() => {
		document.querySelector(".astray th a").click();
		const r = document.querySelector(location.hash + " .shape").getBoundingClientRect();
		return r.top >= 0 && r.bottom <= innerHeight;
	})()`, &seen)
	if !seen {
		t.Error("the mark of a reading that is off is not in sight")
	}
	b.quiet()
}

// layersAreSwitchedWithoutScript switches layers and scenes by their boxes.
func layersAreSwitchedWithoutScript(t *testing.T, b *browser, text string) {
	b.open(text, 1280, 800, scheme("light"))
	shown := func(selector string) bool {
		var display string
		b.eval(fmt.Sprintf(`getComputedStyle(document.querySelector(%q)).display`, selector), &display)
		return display != "none"
	}
	steps := []struct {
		click                          string
		light, volts, findings, second bool
	}{
		{"", true, false, true, false},
		{".t-volts", true, true, true, false},
		{".t-scene-1", true, true, true, true},
		{".t-light", false, true, true, true},
		{".t-findings", false, true, false, true},
	}
	for _, s := range steps {
		if s.click != "" {
			b.eval(fmt.Sprintf("document.querySelector(%q).click()", s.click), nil)
		}
		if shown(".layer-light") != s.light || shown(".layer-volts") != s.volts || shown(".layer-findings") != s.findings ||
			shown(".scene-1") != s.second || shown(".scene-0") == s.second {
			t.Errorf("after %q: light %v, volts %v, findings %v, second scene %v", s.click, shown(".layer-light"), shown(".layer-volts"), shown(".layer-findings"), shown(".scene-1"))
		}
	}
}

// pageByKeyboardAndByEar walks the page with the tab key, and holds that
// whatever it stops at has a name for those who listen.
func pageByKeyboardAndByEar(t *testing.T, b *browser, text string) {
	b.open(text, 1280, 800, scheme("light"))
	reached := map[string]bool{}
	for range 140 {
		b.press("Tab", 9)
		var at string
		b.eval(`(e => e.classList.contains("go") ? "go" : e.closest(".mark") ? "mark" : e.className || e.tagName)(document.activeElement)`, &at)
		reached[at] = true
	}
	for _, want := range []string{"skip", "count", "t-light", "t-volts", "t-findings", "sheet", "mark", "go"} {
		if !reached[want] {
			t.Errorf("the tab key does not reach %s", want)
		}
	}
	var tree struct {
		Nodes []struct {
			Ignored    bool
			Role, Name struct{ Value any }
		}
	}
	b.call("Accessibility.getFullAXTree", nil, &tree)
	counted := map[string]int{}
	for _, n := range tree.Nodes {
		role := fmt.Sprint(n.Role.Value)
		switch role {
		case "link", "checkbox", "radio", "region", "table", "image", "graphics-document", "article", "navigation":
			counted[role]++
			if n.Name.Value == nil || n.Name.Value == "" {
				t.Errorf("a %s has no name", role)
			}
		}
	}
	if counted["link"] < 60 || counted["checkbox"] != 3 || counted["radio"] != 2 || counted["table"] < 10 {
		t.Errorf("roles: %v", counted)
	}
}

// pageOnPaper prints on A4 and on letter paper, and holds that nothing is
// wider than the paper.
func pageOnPaper(t *testing.T, b *browser, text string) {
	for name, size := range map[string][2]float64{"A4": {8.27, 11.69}, "letter": {8.5, 11}} {
		width := int((size[0] - 2*12/25.4) * 96)
		b.open(text, width, 1000, map[string]any{"media": "print"})
		var wide int
		b.eval("document.documentElement.scrollWidth", &wide)
		if wide > width {
			t.Errorf("%s: %d px on %d px of paper", name, wide, width)
		}
		var file struct{ Data []byte }
		b.call("Page.printToPDF", map[string]any{"printBackground": true, "paperWidth": size[0], "paperHeight": size[1]}, &file)
		if !bytes.HasPrefix(file.Data, []byte("%PDF-")) || len(file.Data) < 50_000 {
			t.Errorf("%s: %d bytes", name, len(file.Data))
		}
	}
}

// drawingInABrowser opens a drawing of its own by itself.
func drawingInABrowser(t *testing.T, b *browser, _ string) {
	var svg bytes.Buffer
	p := checked(t, demo, nil)
	if err := report.Draw(&svg, p, report.DrawOptions{Light: p.Light, Layers: report.Layers(), Today: "2026-06-01", Caution: report.Caution}); err != nil {
		t.Fatal(err)
	}
	_, body, _ := strings.Cut(svg.String(), "?>")
	b.open("<!doctype html><main>"+body+"</main>", 900, 1500, scheme("light"))
	var black int
	// A symbol without its style is black, not the colour of a lamp.
	b.eval(`[...document.querySelectorAll("defs .d-lamp")].filter(e => getComputedStyle(e).fill === "rgb(0, 0, 0)").length`, &black)
	if black > 0 {
		t.Errorf("%d symbols lost their style", black)
	}
	b.quiet()
}

// TestPictures writes the pictures of the documentation, when it is asked to:
// go test ./checker/report -run TestPictures -pictures ../../docs/images
func TestPictures(t *testing.T) {
	if *pictures == "" {
		t.Skip("writes pictures only when -pictures names a folder")
	}
	b := openBrowser(t)
	text := demoPage(t)
	b.open(text, 1280, 860, scheme("light"))
	b.picture(filepath.Join(*pictures, "page.png"))
	b.open(text, 1280, 860, scheme("light"))
	b.eval(`document.querySelector("#p1-volts").scrollIntoView(); scrollBy(0, 130)`, nil)
	b.picture(filepath.Join(*pictures, "volts.png"))
	built, _ := paged(t, *checked(t, asBuilt, nil))
	b.open(built, 1280, 860, scheme("light"))
	b.eval(`document.querySelector(".astray th a").click(); document.querySelector("#p1-m1").scrollIntoView({block: "center"})`, nil)
	b.picture(filepath.Join(*pictures, "readings.png"))
}
