package schema

import (
	"bytes"
	"encoding/json"
	"flag"
	"fmt"
	"os"
	"regexp"
	"slices"
	"strings"
	"testing"
)

// The page docs/plan-format.md holds tables and one plan that are written by
// this test from the schema, between marks:
//
//	<!-- fields: leg -->       the fields of a definition, "plan" for the root
//	<!-- quantities -->        the kinds of quantity
//	<!-- plan: NAME -->        a plan of testdata/plans/format
//	<!-- end -->
var update = flag.Bool("update", false, "write the generated parts of docs/plan-format.md")

const (
	formatPage = "../docs/plan-format.md"
	pageUpdate = "go test ./schema -run TestPlanFormatPage -update"
)

var generatedPart = regexp.MustCompile(`(?s)<!-- (fields|quantities|plan)(?:: ([\w.-]+))? -->\n.*?<!-- end -->`)

func readPage(t *testing.T) string {
	t.Helper()
	page, err := os.ReadFile(formatPage)
	if err != nil {
		t.Fatal(err)
	}
	return string(page)
}

func TestPlanFormatPage(t *testing.T) {
	page := readPage(t)
	w := pageWriter{t: t, root: readTree(t, Plan), order: readOrdered(t, readSchema(t, Plan))}
	fresh := generatedPart.ReplaceAllStringFunc(page, func(part string) string {
		mark := generatedPart.FindStringSubmatch(part)
		head, _, _ := strings.Cut(part, "\n")
		return head + "\n" + w.part(mark[1], mark[2]) + "<!-- end -->"
	})
	if fresh == page {
		return
	}
	if !*update {
		t.Fatalf("%s is stale; run: %s", formatPage, pageUpdate)
	}
	if err := os.WriteFile(formatPage, []byte(fresh), 0o644); err != nil {
		t.Fatal(err)
	}
}

// TestPlanFormatPageIsComplete holds that every object of the schema has its
// table on the page, once.
func TestPlanFormatPageIsComplete(t *testing.T) {
	page := readPage(t)
	if n := strings.Count(page, "<!-- fields: plan -->"); n != 1 {
		t.Errorf("%d tables of the root", n)
	}
	for name, def := range readTree(t, Plan)["$defs"].(map[string]any) {
		_, isObject := def.(map[string]any)["properties"]
		if n := strings.Count(page, "<!-- fields: "+name+" -->"); isObject && n != 1 || !isObject && n != 0 {
			t.Errorf("%d tables of %s", n, name)
		}
	}
}

// TestPlanFormatPageExamples holds that every piece of JSON on the page is
// valid: a whole plan, or some members of one.
func TestPlanFormatPageExamples(t *testing.T) {
	s := compileSchema(t, Plan)
	blocks := regexp.MustCompile("(?s)```json\n(.*?)```").FindAllStringSubmatch(readPage(t), -1)
	if len(blocks) < 8 {
		t.Errorf("only %d pieces of JSON found", len(blocks))
	}
	for _, block := range blocks {
		text := block[1]
		if !strings.HasPrefix(text, "{") {
			text = `{"format": "1.0", "units": "ft", ` + text + `}`
		}
		if err := s.Validate(decode(t, block[1], []byte(text))); err != nil {
			t.Errorf("%s\n%#v", block[1], err)
		}
	}
}

// pageWriter writes the generated parts of the page.
type pageWriter struct {
	t     *testing.T
	root  map[string]any
	order *ordered
}

func (w *pageWriter) part(kind, name string) string {
	switch kind {
	case "fields":
		if name == "plan" {
			return w.fields("", w.root, "")
		}
		def, ok := w.defs()[name].(map[string]any)
		if !ok {
			w.t.Fatalf("%s: the schema has no definition %q", formatPage, name)
		}
		return w.fields("#### "+def["title"].(string)+"\n\n"+def["description"].(string)+"\n\n", def, "/$defs/"+name)
	case "quantities":
		return w.quantities()
	default:
		plan, err := os.ReadFile(formatPlans + "/" + name + ".lighting.json")
		if err != nil {
			w.t.Fatal(err)
		}
		return "```json\n" + string(plan) + "```\n"
	}
}

func (w *pageWriter) defs() map[string]any { return w.root["$defs"].(map[string]any) }

// fields writes the table of an object's fields, those that are needed first,
// the others as the schema orders them.
func (w *pageWriter) fields(head string, node map[string]any, pointer string) string {
	var b strings.Builder
	b.WriteString(head + "| field | written as | what it means | example |\n| --- | --- | --- | --- |\n")
	properties := node["properties"].(map[string]any)
	required, _ := node["required"].([]any)
	pointer += "/properties"
	for _, needed := range []bool{true, false} {
		for _, name := range w.order.at(pointer).names {
			if slices.Contains(required, any(name)) != needed {
				continue
			}
			sub := properties[name].(map[string]any)
			fmt.Fprintf(&b, "| %s | %s | %s | %s |\n", fieldCell(name, needed), cell(w.writtenAs(sub)),
				cell(sub["description"].(string)), w.example(pointer+"/"+name))
		}
	}
	return b.String()
}

func fieldCell(name string, needed bool) string {
	if needed {
		return "`" + name + "` (needed)"
	}
	return "`" + name + "`"
}

func cell(text string) string { return strings.ReplaceAll(text, "|", "\\|") }

// example returns the first example of a field that fits a cell.
func (w *pageWriter) example(pointer string) string {
	for _, example := range w.order.at(pointer + "/examples").items {
		if text := spaced(w.t, example.raw); len(text) <= mostExample {
			return "`" + cell(text) + "`"
		}
	}
	return ""
}

// mostExample is the longest example, in characters, that goes into a table.
const mostExample = 64

// spaced writes JSON on one line, with a space after its commas and colons.
func spaced(t *testing.T, raw json.RawMessage) string {
	t.Helper()
	var compact bytes.Buffer
	if err := json.Compact(&compact, raw); err != nil {
		t.Fatal(err)
	}
	text := compact.String()
	var b strings.Builder
	quoted := false
	for i, c := range text {
		b.WriteRune(c)
		if c == '"' && (i == 0 || text[i-1] != '\\') {
			quoted = !quoted
		}
		if (c == ',' || c == ':') && !quoted {
			b.WriteByte(' ')
		}
	}
	return b.String()
}

// writtenAs says in words what a field takes.
func (w *pageWriter) writtenAs(node map[string]any) string {
	if ref, ok := node["$ref"].(string); ok {
		return w.reference(strings.TrimPrefix(ref, "#/$defs/"))
	}
	if words, ok := node["enum"].([]any); ok {
		return wordList(words)
	}
	switch node["type"] {
	case "boolean":
		return "`true` or `false`"
	case "integer":
		return fmt.Sprintf("whole number, %v to %v", node["minimum"], node["maximum"])
	case "number":
		return fmt.Sprintf("number, %s to %s", plainNumber(node["minimum"]), plainNumber(node["maximum"]))
	case "array":
		return w.list(node)
	case "object":
		return "one " + w.mapValue(node) + " for each name"
	case "string":
		return "text"
	}
	if types, _ := node["type"].([]any); slices.Contains(types, any("array")) {
		return "`[x, y]` or an id"
	}
	return "number, or text with a unit"
}

func plainNumber(v any) string { return fmt.Sprintf("%.10g", v) }

func wordList(words []any) string {
	quoted := make([]string, len(words))
	for i, word := range words {
		quoted[i] = fmt.Sprintf("`%v`", word)
	}
	if len(quoted) == 1 {
		return quoted[0]
	}
	last := len(quoted) - 1
	return strings.Join(quoted[:last], ", ") + " or " + quoted[last]
}

// reference names a definition: a link to its table, the words it may be, or
// its title.
func (w *pageWriter) reference(name string) string {
	def := w.defs()[name].(map[string]any)
	if words, ok := def["enum"].([]any); ok {
		return wordList(words)
	}
	title := strings.ToLower(def["title"].(string))
	if _, isObject := def["properties"]; isObject {
		return fmt.Sprintf("[%s](#%s)", title, strings.ReplaceAll(strings.ReplaceAll(title, ",", ""), " ", "-"))
	}
	return title
}

func (w *pageWriter) list(node map[string]any) string {
	item := w.writtenAs(node["items"].(map[string]any))
	if node["minItems"] == node["maxItems"] && node["maxItems"] != nil {
		return fmt.Sprintf("list of %v: %s", node["maxItems"], item)
	}
	return "list of " + item
}

func (w *pageWriter) mapValue(node map[string]any) string {
	for pattern, sub := range node["patternProperties"].(map[string]any) {
		if pattern != "^//" {
			return w.writtenAs(sub.(map[string]any))
		}
	}
	w.t.Fatal("a map without values")
	return ""
}

// quantities writes the table of the kinds of quantity.
func (w *pageWriter) quantities() string {
	var b strings.Builder
	b.WriteString("| kind | what it is | examples |\n| --- | --- | --- |\n")
	for _, name := range w.order.at("/$defs").names {
		def := w.defs()[name].(map[string]any)
		types, _ := def["type"].([]any)
		if !slices.Contains(types, any("number")) {
			continue
		}
		var examples []string
		for _, example := range w.order.at("/$defs/" + name + "/examples").items {
			examples = append(examples, "`"+string(example.raw)+"`")
		}
		fmt.Fprintf(&b, "| %s | %s | %s |\n", strings.ToLower(def["title"].(string)), cell(def["description"].(string)), strings.Join(examples, ", "))
	}
	return b.String()
}
