package main

import (
	"encoding/json"
	"fmt"
	"os"
	"path/filepath"
	"regexp"
	"runtime"
	"slices"
	"sort"
	"strconv"
	"strings"
	"testing"
	"unicode/utf16"
)

// ternOpened copies the demo into a folder of its own and returns that, the path
// of the first draft, and its text.
func ternOpened(t *testing.T) (folder, path, text string) {
	t.Helper()
	folder = t.TempDir()
	if err := copyInto(folder, "tern-cottage"); err != nil {
		t.Fatal(err)
	}
	path = filepath.Join(folder, "tern-cottage", "draft.lighting.json")
	return folder, path, readText(t, path)
}

func readText(t testing.TB, path string) string {
	t.Helper()
	data, err := os.ReadFile(path)
	if err != nil {
		t.Fatal(err)
	}
	return string(data)
}

// utf16Place is the place of a bar in a piece of a text that stands there once,
// worked out with the standard library's UTF-16.
func utf16Place(t *testing.T, text, marked string) position {
	t.Helper()
	plain := strings.Replace(marked, "|", "", 1)
	if n := strings.Count(text, plain); n != 1 {
		t.Fatalf("%q stands %d times in the plan", plain, n)
	}
	before := text[:strings.Index(text, plain)+strings.Index(marked, "|")]
	last := before[strings.LastIndexByte(before, '\n')+1:]
	return position{strings.Count(before, "\n"), len(utf16.Encode([]rune(last)))}
}

// cut is the stretch of a text that a range means, by the standard library's
// UTF-16.
func cut(t *testing.T, text string, r textRange) string {
	t.Helper()
	return text[offsetIn(t, text, r.Start):offsetIn(t, text, r.End)]
}

func offsetIn(t *testing.T, text string, p position) int {
	t.Helper()
	lines := strings.SplitAfter(text, "\n")
	if p.Line >= len(lines) {
		t.Fatalf("there is no line %d", p.Line)
	}
	units := utf16.Encode([]rune(lines[p.Line]))
	if p.Character > len(units) {
		t.Fatalf("line %d has no unit %d", p.Line, p.Character)
	}
	return len(strings.Join(lines[:p.Line], "")) + len(string(utf16.Decode(units[:p.Character])))
}

// edited applies the edits of one version of a plan.
func edited(t *testing.T, text, path string, version int, w workspaceEdit) string {
	t.Helper()
	if len(w.DocumentChanges) != 1 || w.DocumentChanges[0].TextDocument.URI != fileURI(path) || w.DocumentChanges[0].TextDocument.Version != version {
		t.Fatalf("the edit is not of version %d: %+v", version, w)
	}
	edits := w.DocumentChanges[0].Edits
	sort.Slice(edits, func(i, j int) bool {
		return offsetIn(t, text, edits[i].Range.Start) > offsetIn(t, text, edits[j].Range.Start)
	})
	out := text
	for _, e := range edits {
		out = out[:offsetIn(t, text, e.Range.Start)] + e.NewText + out[offsetIn(t, text, e.Range.End):]
	}
	return out
}

// rulesAt lists diagnostics as rule and text, sorted.
func rulesAt(t *testing.T, text string, shown []diagnostic) []string {
	var out []string
	for _, d := range shown {
		out = append(out, d.Code+" "+cut(t, text, d.Range))
	}
	slices.Sort(out)
	return out
}

// proved reports whether fixes have arrived.
func proved(shown []diagnostic) bool {
	return slices.ContainsFunc(shown, func(d diagnostic) bool { return strings.Contains(d.Message, "\nproved fix: ") })
}

// of is the first diagnostic of a rule whose message names something.
func of(t *testing.T, shown []diagnostic, rule, words string) diagnostic {
	t.Helper()
	i := slices.IndexFunc(shown, func(d diagnostic) bool { return d.Code == rule && strings.Contains(d.Message, words) })
	if i < 0 {
		t.Fatalf("no %s with %q", rule, words)
	}
	return shown[i]
}

// reported is the report of the command on a plan.
func reported(t *testing.T, path string) (findings []struct {
	Rule, Severity, Message          string
	Line, Column, EndLine, EndColumn int
}) {
	t.Helper()
	var r struct {
		Plans []struct {
			Findings json.RawMessage `json:"findings"`
		} `json:"plans"`
	}
	o := process(t, "check", "--today", day, "--fixes", "hint", "--as", "json", path)
	if err := json.Unmarshal([]byte(o.out), &r); err != nil {
		t.Fatal(err, o.errors)
	}
	if err := json.Unmarshal(r.Plans[0].Findings, &findings); err != nil {
		t.Fatal(err)
	}
	return findings
}

// TestEditorShowsTheFindings compares what the editor is shown of Tern Cottage
// with what the command reports: the same findings, at the same places, as grave.
func TestEditorShowsTheFindings(t *testing.T) {
	t.Parallel()
	folder, path, text := ternOpened(t)
	c := startEditor(t, folder, "--pages", "docs/rules")
	c.begin(folder)
	c.open(path, 1, text)
	shown := c.findings(path, 1)
	severities := map[string]int{"danger": 1, "defect": 1, "advice": 2, "caution": 3}
	want := reported(t, path)
	if len(shown) != len(want) || len(want) < 20 {
		t.Fatalf("%d findings, the command has %d", len(shown), len(want))
	}
	for i, f := range want {
		d := shown[i]
		place := textRange{position{f.Line - 1, f.Column - 1}, position{f.EndLine - 1, f.EndColumn - 1}} // the text is ASCII
		if d.Code != f.Rule || d.Range != place || d.Severity != severities[f.Severity] || d.Source != "duskproof" {
			t.Errorf("shows %+v for %+v", d, f)
		}
		first, rest, _ := strings.Cut(d.Message, "\n")
		if first != f.Message || !strings.HasPrefix(rest, f.Severity+" (") {
			t.Errorf("says %q for %q", d.Message, f.Message)
		}
		if want := fileURI(filepath.Join(folder, "docs", "rules", f.Rule+".md")); d.CodeDescription.Href != want {
			t.Errorf("links to %q, want %q", d.CodeDescription.Href, want)
		}
	}
	related := map[string]string{ // rule and words, what else is shown
		"earth.shallow-cable leg d2":   `leg d2 "d2"`,
		"site.gate-swing P3":           `gate side-gate "side-gate"`,
		"wire.lamp-starved lamp H1":    `run tree-run "tree-run"`,
		"light.unlit-step scene late;": `scene late "late"`,
	}
	for key, place := range related {
		rule, words, _ := strings.Cut(key, " ")
		d := of(t, shown, rule, words)
		if len(d.Related) == 0 || d.Related[0].Message+" "+cut(t, text, d.Related[0].Location.Range) != place {
			t.Errorf("beside %s is %+v, want %s", key, d.Related, place)
		}
	}
	if status := c.end(); status != 0 {
		t.Errorf("ends with %d: %s", status, c.errors.String())
	}
	if !slices.Contains(c.asked, "client/registerCapability") {
		t.Error("the server does not ask to be told of changed files")
	}
}

// TestEditorCountsUTF16 puts characters outside the basic plane before a finding
// on its line. Each is one character, two UTF-16 units, four bytes (The Unicode
// Standard, section 2.5).
func TestEditorCountsUTF16(t *testing.T) {
	t.Parallel()
	folder, path, text := ternOpened(t)
	text = strings.Replace(text, `{"id": "RC1", `, `{"id": "RC1", "//": "🌲🌲 café 🌲", `, 1)
	c := startEditor(t, folder)
	c.begin(folder)
	c.open(path, 1, text)
	d := of(t, c.findings(path, 1), "power.gfci", "RC1")
	start := utf16Place(t, text, `"fed_by": "wiring", "gfci": |false, "in_use_cover": true`)
	if d.Range != (textRange{start, position{start.Line, start.Character + len("false")}}) || cut(t, text, d.Range) != "false" {
		t.Errorf("the finding stands at %+v, on %q", d.Range, cut(t, text, d.Range))
	}
	h := ask[struct {
		Range textRange `json:"range"`
	}](c, "textDocument/hover", at(path, utf16Place(t, text, `"plugged_into": "R|C1"`)))
	if cut(t, text, h.Range) == "" {
		t.Error("nothing to hover over")
	}
	actions := ask[[]codeAction](c, "textDocument/codeAction", map[string]any{
		"textDocument": map[string]any{"uri": fileURI(path)}, "range": d.Range, "context": map[string]any{"diagnostics": []any{}}})
	if len(actions) != 1 || actions[0].Title != "Write a variance of power.gfci on RC1" {
		t.Errorf("offers %+v", actions)
	}
	renamed := ask[workspaceEdit](c, "textDocument/rename", at(path, utf16Place(t, text, `{"id": "|RC1", "//"`), "newName", "outlet"))
	if have, want := edited(t, text, path, 1, renamed), strings.ReplaceAll(text, `"RC1"`, `"outlet"`); have != want {
		t.Error("the rename misses its places")
	}
	c.end()
}

// hoverText is what hovering over a place shows.
func hoverText(c *editorClient, path string, p position) string {
	c.t.Helper()
	h := ask[struct {
		Contents struct{ Kind, Value string } `json:"contents"`
	}](c, "textDocument/hover", at(path, p))
	return h.Contents.Value
}

// computed is some of the facts of Tern Cottage, as the command prints them.
type computed struct {
	Fixtures []struct {
		ID           string
		NominalVolts float64 `json:"nominal_volts"`
		LowVolts     float64 `json:"low_volts"`
		HighVolts    float64 `json:"high_volts"`
		MinVolts     float64 `json:"min_volts"`
		MaxVolts     float64 `json:"max_volts"`
	}
	Legs []struct {
		ID    string
		Amps  float64
		DropV float64 `json:"drop_v"`
	}
	Treads []struct {
		ID, Scene string
		LuxCentre float64 `json:"lux_centre"`
		Lamps     []string
	}
	Paths []struct {
		ID, Scene string
		LuxMin    float64 `json:"lux_min"`
		LuxAvg    float64 `json:"lux_avg"`
	}
}

// TestEditorHovers compares what is shown of every lamp, leg, tread and path of
// Tern Cottage with the facts.
func TestEditorHovers(t *testing.T) {
	t.Parallel()
	folder, path, text := ternOpened(t)
	var doc computed
	o := process(t, "facts", "--today", day, path)
	if err := json.Unmarshal([]byte(o.out), &doc); err != nil {
		t.Fatal(err, o.errors)
	}
	c := startEditor(t, folder)
	c.begin(folder)
	c.open(path, 1, text)
	c.findings(path, 1)
	has := func(id, shown string, wanted ...string) {
		t.Helper()
		for _, w := range wanted {
			if !strings.Contains(shown, w) {
				t.Errorf("over %s is %q, which lacks %q", id, shown, w)
			}
		}
	}
	number := func(v float64, decimals int, unit string) string {
		return strconv.FormatFloat(v, 'f', decimals, 64) + " " + unit
	}
	for _, f := range doc.Fixtures {
		has(f.ID, hoverText(c, path, utf16Place(t, text, `{"id": "|`+f.ID+`", "type"`)),
			"nominal supply | "+number(f.NominalVolts, 2, "V"), "low supply, hot cable | ", "high supply, cold cable | ",
			number(f.LowVolts, 2, "V"), number(f.HighVolts, 2, "V"), "window** | "+number(f.MinVolts, 2, "V")+" to "+number(f.MaxVolts, 2, "V"))
	}
	for _, l := range doc.Legs {
		has(l.ID, hoverText(c, path, utf16Place(t, text, `{"id": "|`+l.ID+`", "from"`)), number(l.Amps, 2, "A")+" at most", "drop "+number(l.DropV, 2, "V"))
	}
	has("d2", hoverText(c, path, utf16Place(t, text, `{"id": "d2", "from|"`)), "| home-drive | 8 in | 18 in |") // the demo's shallow leg, beside its id
	for _, tread := range doc.Treads {
		stair, _, isTread := strings.Cut(tread.ID, "/")
		if !isTread {
			stair = tread.ID
		}
		lit := "nothing"
		if len(tread.Lamps) > 0 {
			lit = strings.Join(tread.Lamps, ", ")
		}
		has(tread.ID, hoverText(c, path, utf16Place(t, text, `{"id": "|`+stair+`", `)), fmt.Sprintf("| %s | %s | %s |", tread.ID, tread.Scene, number(tread.LuxCentre, 1, "lx")), "| "+lit+" |")
	}
	for _, p := range doc.Paths {
		has(p.ID, hoverText(c, path, utf16Place(t, text, `{"id": "|`+p.ID+`", `)), fmt.Sprintf("| %s | %s | %s |", p.Scene, number(p.LuxMin, 1, "lx"), number(p.LuxAvg, 1, "lx")))
	}
	has("walk", hoverText(c, path, utf16Place(t, text, `{"id": "|walk", `)), "| P4, P2,") // the two lights nearest to it
	if len(doc.Fixtures) < 32 || len(doc.Legs) < 30 || len(doc.Treads) < 20 || len(doc.Paths) < 4 {
		t.Error("the facts are not those of Tern Cottage")
	}
	c.end()
}

// TestEditorGoesBetweenNames goes from references to elements and back, lists the
// outline, and renames.
func TestEditorGoesBetweenNames(t *testing.T) {
	t.Parallel()
	folder, path, text := ternOpened(t)
	c := startEditor(t, folder)
	c.begin(folder)
	c.open(path, 1, text)
	c.findings(path, 1)
	for from, to := range map[string]string{
		`"host": "|lower-west-cheek"`:                        `{"id": "|lower-west-cheek"`,
		`"id": "w2", "from": "h1", "to": "|P1"`:              `{"id": "|P1", "type"`,
		`"id": "d1", "from": "|T1"`:                          `{"id": "|T1", "type"`,
		`"plugged_into": "|RC1"`:                             `{"id": "|RC1"`,
		`"id": "P1", "type": "|ring-path"`:                   `"|ring-path": {`,
		`"P1", "type": "ring-path", "at": {"along": "|walk"`: `{"id": "|walk"`,
	} {
		l := ask[location](c, "textDocument/definition", at(path, utf16Place(t, text, from)))
		if want := utf16Place(t, text, to); l.Range.Start != (position{want.Line, want.Character - 1}) {
			t.Errorf("%s leads to %+v, want %+v", from, l.Range, want)
		}
	}
	references := ask[[]location](c, "textDocument/references", at(path, utf16Place(t, text, `{"id": "|P3", "type"`), "context", map[string]any{"includeDeclaration": false}))
	if len(references) != 2 || cut(t, text, references[0].Range) != `"P3"` { // legs w4 and w5
		t.Errorf("P3 is named at %+v", references)
	}
	type symbol struct {
		Name     string
		Children []json.RawMessage
	}
	var names []string
	for _, s := range ask[[]symbol](c, "textDocument/documentSymbol", map[string]any{"textDocument": map[string]any{"uri": fileURI(path)}}) {
		names = append(names, fmt.Sprint(s.Name, " ", len(s.Children)))
	}
	if want := []string{"supply 2", "catalogue 4", "site 16", "transformers 2", "runs 6", "fixtures 32", "controls 1"}; !slices.Equal(names, want) {
		t.Errorf("the outline is %q, want %q", names, want)
	}

	// The path "walk" and the group "walk" are two things.
	place := utf16Place(t, text, `{"id": "|walk"`)
	if r := ask[struct{ Placeholder string }](c, "textDocument/prepareRename", at(path, place)); r.Placeholder != "walk" {
		t.Errorf("would rename %q", r.Placeholder)
	}
	renamed := edited(t, text, path, 1, ask[workspaceEdit](c, "textDocument/rename", at(path, place, "newName", "promenade")))
	if strings.Count(renamed, `"promenade"`) != 5 || strings.Count(renamed, `"group": "walk"`) != strings.Count(text, `"group": "walk"`) {
		t.Errorf("the path's name stands %d times", strings.Count(renamed, `"promenade"`))
	}
	c.change(path, 2, renamed)
	before, after := rulesAt(t, text, c.findings(path, 1)), rulesAt(t, renamed, c.findings(path, 2))
	for i := range before {
		before[i] = strings.ReplaceAll(before[i], `"walk"`, `"promenade"`)
	}
	if !slices.Equal(before, after) {
		t.Errorf("after the rename\n%s\nbefore\n%s", strings.Join(after, "\n"), strings.Join(before, "\n"))
	}
	if a := c.call("textDocument/rename", at(path, place, "newName", "lower")); a.Error == nil || !strings.Contains(a.Error.Message, "the id lower is taken") {
		t.Errorf("a taken name: %+v", a.Error)
	}
	c.end()
}

// TestEditorMends takes what is offered for the light in the gate's way: the
// proved fix, and a variance.
func TestEditorMends(t *testing.T) {
	t.Parallel()
	folder, path, text := ternOpened(t)
	c := startEditor(t, folder)
	c.begin(folder)
	c.open(path, 1, text)
	hit := of(t, c.findings(path, 1, proved), "site.gate-swing", "P3")
	asking := map[string]any{"textDocument": map[string]any{"uri": fileURI(path)}, "range": hit.Range, "context": map[string]any{"diagnostics": []any{}}}
	actions := ask[[]codeAction](c, "textDocument/codeAction", asking)
	if len(actions) < 2 || !strings.HasPrefix(actions[0].Title, "Move P3 ") || !actions[0].IsPreferred || actions[0].Diagnostics[0].Code != "site.gate-swing" {
		t.Fatalf("offers %+v", actions)
	}
	mended := edited(t, text, path, 1, actions[0].Edit)
	c.change(path, 2, mended)
	want := slices.DeleteFunc(rulesAt(t, text, c.findings(path, 1)), func(r string) bool { return strings.HasPrefix(r, "site.gate-swing ") })
	if have := rulesAt(t, mended, c.findings(path, 2)); !slices.Equal(have, want) {
		t.Errorf("after the fix\n%s\nwant\n%s", strings.Join(have, "\n"), strings.Join(want, "\n"))
	}

	c.change(path, 3, text)
	c.findings(path, 3)
	actions = ask[[]codeAction](c, "textDocument/codeAction", asking)
	last := actions[len(actions)-1]
	if last.Title != "Write a variance of site.gate-swing on P3" {
		t.Fatalf("offers %q last", last.Title)
	}
	excepted := edited(t, text, path, 3, last.Edit)
	c.change(path, 4, excepted)
	shown := c.findings(path, 4)
	if len(shown) != 2 || shown[0].Code != "plan.schema" || cut(t, excepted, shown[0].Range) != `""` {
		t.Errorf("a variance without reason shows %+v", shown)
	}
	if over := hoverText(c, path, utf16Place(t, excepted, `{"id": "|H1", "type"`)); !strings.Contains(over, "nominal supply") {
		t.Errorf("the last computation is lost: %q", over)
	}
	signed := strings.Replace(excepted, `"reason": ""`, `"reason": "the gate is to be taken down"`, 1)
	signed = strings.Replace(signed, `"granted_by": ""`, `"granted_by": "invented"`, 1)
	c.change(path, 5, signed)
	if have := rulesAt(t, signed, c.findings(path, 5)); !slices.Equal(have, want) {
		t.Errorf("after the variance\n%s\nwant\n%s", strings.Join(have, "\n"), strings.Join(want, "\n"))
	}
	page := hoverText(c, path, utf16Place(t, signed, `"rule": "|site.gate-swing"`))
	if !strings.HasPrefix(page, "# site.gate-swing\n") || !strings.Contains(page, "## What to do") || strings.Contains(page, "```json") {
		t.Errorf("the rule's page is %q", page)
	}
	c.end()
}

// TestEditorOnBrokenText types a plan wrong in the middle: the place is shown,
// and the last computation stays under the pointer, before and after it.
func TestEditorOnBrokenText(t *testing.T) {
	t.Parallel()
	folder, path, text := ternOpened(t)
	c := startEditor(t, folder)
	c.begin(folder)
	c.open(path, 1, text)
	c.findings(path, 1)
	broken := strings.Replace(text, `"id": "P3", "type": "ring-path",`, `"id": "P3", "type": ring-path",`, 1)
	c.change(path, 2, broken)
	if shown := c.findings(path, 2); len(shown) != 1 || shown[0].Code != "plan.syntax" || shown[0].Severity != 1 || shown[0].Range.Start.Line != 251 {
		t.Errorf("shows %+v", shown)
	}
	for _, marked := range []string{`{"id": "|K1", "type"`, `{"id": "|P3", "type"`, `{"id": "|D4", "type"`, `"from": "D3", "to": "|D4"`} {
		if over := hoverText(c, path, utf16Place(t, broken, marked)); !strings.Contains(over, "nominal supply") {
			t.Errorf("over %s is %q", marked, over)
		}
	}
	for i, text := range []string{"", "{", "\x00\xff", strings.Repeat("[", 1<<16), text[:len(text)/2], strings.Repeat("🌲", 1<<18), "{\"format\": \"1.0\"}"} {
		c.change(path, 3+i, text)
		if shown := c.findings(path, 3+i); len(shown) == 0 {
			t.Errorf("nothing is wrong with %.20q", text)
		}
		hoverText(c, path, position{0, 1})
		ask[[]json.RawMessage](c, "textDocument/documentSymbol", map[string]any{"textDocument": map[string]any{"uri": fileURI(path)}})
	}
	huge := `{"format": "1.0", "notes": [` + strings.Repeat(`{"text": "so many words"},`, 700_000) + `]}`
	c.change(path, 50, huge)
	if shown := c.findings(path, 50); len(shown) != 1 || !strings.Contains(shown[0].Message, "the limit is") {
		t.Errorf("of a huge text it shows %+v", shown)
	}
	c.change(path, 51, text)
	if shown := c.findings(path, 51); len(shown) < 20 {
		t.Errorf("afterwards it shows %d findings", len(shown))
	}
	if status := c.end(); status != 0 {
		t.Errorf("ends with %d: %s", status, c.errors.String())
	}
}

// TestEditorExitStatus: an exit without shutdown, and an editor that is gone, are
// status 1 (Language Server Protocol 3.17, exit).
func TestEditorExitStatus(t *testing.T) {
	t.Parallel()
	for name, leave := range map[string]func(*editorClient){
		"exit": func(c *editorClient) { c.notify("exit", nil) },
		"close": func(c *editorClient) {
			c.mu.Lock()
			defer c.mu.Unlock()
			c.finished = true // what the server asks from now on gets no answer
			c.in.Close()
		},
	} {
		c := startEditor(t, t.TempDir(), "--stdio")
		c.begin()
		leave(c)
		if status := c.status(); status != 1 {
			t.Errorf("%s: status %d", name, status)
		}
	}
	if o := process(t, "editor", "--hold", "never"); o.status != exitUnusable || !strings.Contains(o.errors, "--hold") {
		t.Errorf("a wrong flag: status %d, %s", o.status, o.errors)
	}
}

// residentKB is the memory of a process that is in use, in kB.
func residentKB(t *testing.T, pid int) int {
	t.Helper()
	if runtime.GOOS != "linux" {
		t.Skip("the memory of a process is read as Linux tells it")
	}
	status := readText(t, fmt.Sprintf("/proc/%d/status", pid))
	kb, err := strconv.Atoi(regexp.MustCompile(`VmRSS:\s+(\d+)`).FindStringSubmatch(status)[1])
	if err != nil {
		t.Fatal(err)
	}
	return kb
}

// TestEditorIsFlat makes 200 edits in a row, three times over. The last text is
// the one that is judged, and memory does not grow with the edits.
func TestEditorIsFlat(t *testing.T) {
	t.Parallel()
	folder, path, text := ternOpened(t)
	c := startEditor(t, folder)
	c.begin(folder)
	c.open(path, 1, text)
	c.findings(path, 1)
	moved := func(inches int) string {
		return strings.Replace(text, `"P3", "type": "ring-path", "at": [-2.8, 16.6]`, fmt.Sprintf(`"P3", "type": "ring-path", "at": ["%d in", 16.6]`, -34-inches), 1)
	}
	version, kb := 1, []int{}
	for range 3 {
		for i := range 200 {
			version++
			c.change(path, version, moved(i%50))
			if i%20 == 0 {
				c.findings(path, version)
			}
		}
		// 83 in from the hinge is out of the swing of a leaf of 4 ft 6 in.
		shown := c.findings(path, version)
		if slices.ContainsFunc(shown, func(d diagnostic) bool { return d.Code == "site.gate-swing" && strings.Contains(d.Message, "P3") }) {
			t.Error("the findings are not those of the last text")
		}
		kb = append(kb, residentKB(t, c.process.Process.Pid))
	}
	t.Logf("%d texts were shown of %d edits; resident %d kB", c.count, version, kb)
	// The collector lets the heap double between its rounds; growth with the
	// edits would be 200 plans of facts a round.
	if kb[2] > 2*kb[0] {
		t.Errorf("resident memory grows: %d kB", kb)
	}
	c.end()
}
