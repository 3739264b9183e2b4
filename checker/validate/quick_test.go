package validate

import (
	"encoding/json"
	"errors"
	"maps"
	"os"
	"path/filepath"
	"slices"
	"strings"
	"testing"

	"duskproof/checker/source"
	published "duskproof/schema"
)

// fitsLibrary is what the library says of a value.
func fitsLibrary(t *testing.T, v *Validator, value any) bool {
	t.Helper()
	engine, err := v.engine()
	if err != nil {
		t.Fatal(err)
	}
	return engine.schema.Validate(value) == nil
}

// agree holds that a quick look, where it is certain, says what the library says.
func agree(t *testing.T, v *Validator, what string, value any) answer {
	t.Helper()
	quick, library := v.quick.check(value), fitsLibrary(t, v, value)
	if quick == fits && !library || quick == misfits && library {
		t.Errorf("%s: a quick look says %d, the library fits: %v", what, quick, library)
	}
	return quick
}

// planFiles are plans that fit their schema.
func planFiles(tb testing.TB) []string {
	tb.Helper()
	var all []string
	for _, pattern := range []string{"../../testdata/plans/*/*.lighting.json", "../../rules/*/*/*.lighting.json"} {
		names, err := filepath.Glob(pattern)
		if err != nil || len(names) < 5 {
			tb.Fatalf("%s: %d plans, %v", pattern, len(names), err)
		}
		all = append(all, names...)
	}
	return all
}

func parsed(tb testing.TB, name string) any {
	tb.Helper()
	data, err := os.ReadFile(name)
	if err != nil {
		tb.Fatal(err)
	}
	doc, problems := source.Parse(name, data, source.Limits{})
	if len(problems) > 0 {
		tb.Fatal(problems)
	}
	return doc.Value()
}

// TestQuickLookTakesPlans holds that plans that fit pass the quick look, so that
// the library is not even asked to compile the schema.
func TestQuickLookTakesPlans(t *testing.T) {
	v := planValidator(t)
	for _, name := range planFiles(t) {
		if got := agree(t, v, name, parsed(t, name)); got != fits {
			t.Errorf("%s: a quick look says %d, want %d", name, got, fits)
		}
	}
}

// substitutes are put in the place of every value.
var substitutes = []any{
	nil, true, "", "x", "12 V", "6 in", "-5 %", "2026-02-30", "2026-06-01", strings.Repeat("é", 300), json.Number("0"), json.Number("-1"),
	json.Number("1.0"), json.Number("1e3"), json.Number("50000"), json.Number("50000.000000000001"), json.Number("4.5"), json.Number("99999999999"),
	map[string]any{}, map[string]any{"//": "note"}, map[string]any{"id": "a", "x": nil}, []any{}, []any{"a", "a"}, []any{json.Number("1"), json.Number("1.0")},
}

// changes calls each with a value after every single change: a member or an
// entry taken away, put twice, renamed or replaced.
func changes(root any, each func(what string)) {
	var visit func(at string, v any)
	visit = func(at string, v any) {
		switch v := v.(type) {
		case map[string]any:
			for _, name := range slices.Sorted(maps.Keys(v)) {
				old := v[name]
				delete(v, name)
				each(at + "/" + name + " taken away")
				v["x"+name] = old
				each(at + "/" + name + " renamed")
				delete(v, "x"+name)
				for _, s := range substitutes {
					v[name] = s
					each(at + "/" + name + " replaced")
				}
				v[name] = old
				visit(at+"/"+name, old)
			}
		case []any:
			for i, old := range v {
				for _, s := range substitutes {
					v[i] = s
					each(at + " entry replaced")
				}
				v[i] = old
				if i < 2 {
					visit(at+"/", old)
				}
			}
		}
	}
	visit("", root)
}

// TestQuickLookAgrees changes plans in every place and compares with the
// library.
func TestQuickLookAgrees(t *testing.T) {
	v := planValidator(t)
	counts := map[answer]int{}
	for i, name := range planFiles(t) {
		if i%20 != 0 {
			continue
		}
		root, n := parsed(t, name), 0
		changes(root, func(what string) {
			if n++; n%5 == 0 {
				counts[agree(t, v, name+what, root)]++
			}
		})
	}
	t.Logf("fits %d, misfits %d, unsure %d", counts[fits], counts[misfits], counts[unsure])
	if counts[fits] < 100 || counts[misfits] < 1000 || counts[unsure]*20 > counts[misfits] {
		t.Errorf("the comparison has lost its meaning: %v", counts)
	}
}

// TestQuickLookKnowsItsLimits holds that a schema with more than a quick look
// knows is left to the library.
func TestQuickLookKnowsItsLimits(t *testing.T) {
	for _, schema := range []string{
		`{"const": 1}`, `{"oneOf": [{}]}`, `{"not": {}}`, `{"$ref": "other.json"}`, `{"$ref": "#/$defs/gone"}`, `{"enum": [1]}`,
		`{"format": "uuid"}`, `{"minimum": 0.12345678901234567}`, `{"unevaluatedProperties": false}`, `true`, `[]`, ``, `{`,
	} {
		if q, err := newQuick([]byte(schema)); err == nil {
			t.Errorf("%s passes as %+v", schema, q.root)
		}
	}
	if _, err := newQuick([]byte(`{"const": 1}`)); !errors.Is(err, errBeyond) {
		t.Errorf("%v", err)
	}
	circle, err := newQuick([]byte(`{"$ref": "#/$defs/a", "$defs": {"a": {"$ref": "#/$defs/a"}}}`))
	if err != nil || circle.check("x") != unsure {
		t.Errorf("a reference to itself: %v", err)
	}
}

// TestTrusted holds that a trusted schema says the same as another, and that one
// that does not compile after all says so.
func TestTrusted(t *testing.T) {
	data, err := published.Files.ReadFile(published.Plan)
	if err != nil {
		t.Fatal(err)
	}
	v := Trusted(map[string][]byte{published.Plan: data}, published.Plan)
	doc, _ := source.Parse("p", []byte(`{"format": "1.0", "unit": "ft"}`), source.Limits{})
	if got, want := brief(v.Validate(doc)), brief(planValidator(t).Validate(doc)); got != want || got == "" {
		t.Errorf("trusted says\n%s\nwant\n%s", got, want)
	}
	broken := Trusted(map[string][]byte{"a.json": []byte(`{"$ref": "b.json"}`)}, "a.json")
	if problems := broken.Validate(doc); len(problems) != 1 || !strings.Contains(problems[0].Message, "cannot be checked against its schema") {
		t.Errorf("%v", problems)
	}
}

// FuzzQuickLook compares a quick look with the library.
func FuzzQuickLook(f *testing.F) {
	for _, name := range planFiles(f)[:20] {
		data, err := os.ReadFile(name)
		if err != nil {
			f.Fatal(err)
		}
		f.Add(data)
	}
	v := planValidator(f)
	f.Fuzz(func(t *testing.T, data []byte) {
		if doc, _ := source.Parse("p", data, source.Limits{}); doc != nil {
			agree(t, v, string(data), doc.Value())
		}
	})
}

// TestQuickLookSuitsOwnSchemas holds that the schemas of what a check reads are
// within a quick look.
func TestQuickLookSuitsOwnSchemas(t *testing.T) {
	for _, name := range []string{published.Plan, published.Config, published.Carried, published.Rule} {
		data, err := published.Files.ReadFile(name)
		if err != nil {
			t.Fatal(err)
		}
		if _, err := newQuick(data); err != nil {
			t.Errorf("%s: %v", name, err)
		}
	}
}

// TestQuickLookAtBounds holds that a number with more digits than a float64 has
// is on the right side of a bound, or left to the library.
func TestQuickLookAtBounds(t *testing.T) {
	schema := []byte(`{"items": {"minimum": 0.1, "maximum": 360}}`)
	q, err := newQuick(schema)
	if err != nil {
		t.Fatal(err)
	}
	v, err := New(map[string][]byte{"bounds.json": schema}, "bounds.json")
	if err != nil {
		t.Fatal(err)
	}
	sure := map[answer]int{}
	for _, number := range []string{
		"12.345678901234567890123", "0.1", "0.10000000000000001", "0.1000000000000000000000001", "0.0999999999999999999", "0.09999999999999999",
		"360", "360.0", "360.00000000000000001", "359.99999999999999999999", "360.00000000000006", "359.99999999999994", "1e400", "-1e400",
	} {
		doc, problems := source.Parse("p", []byte("["+number+"]"), source.Limits{})
		if len(problems) > 0 {
			continue // refused before any schema
		}
		have, want := q.check(doc.Value()), len(v.Validate(doc)) == 0
		if sure[have]++; have != unsure && (have == fits) != want {
			t.Errorf("%s: a quick look says %v, the library %t", number, have, want)
		}
	}
	if sure[fits] < 3 || sure[misfits] < 1 {
		t.Errorf("answers: %v", sure)
	}
}
