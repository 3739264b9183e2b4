package takeoff_test

import (
	"encoding/json"
	"go/ast"
	"os"
	"reflect"
	"regexp"
	"strconv"
	"strings"
	"testing"
	"unicode"
)

// fieldNames matches the names of the fields of a struct.
func fieldNames(s *ast.StructType) *regexp.Regexp {
	var names []string
	for _, field := range s.Fields.List {
		for _, name := range field.Names {
			names = append(names, name.Name)
		}
	}
	return regexp.MustCompile(`\b(` + strings.Join(names, "|") + `)\b`)
}

// jsonName is what a field of a struct is called in JSON.
func jsonName(s *ast.StructType, word string) string {
	for _, field := range s.Fields.List {
		for _, name := range field.Names {
			if name.Name == word {
				json, _, _ := strings.Cut(reflect.StructTag(strings.Trim(field.Tag.Value, "`")).Get("json"), ",")
				return json
			}
		}
	}
	return word
}

// unitWords are the units at the ends of names.
var unitWords = map[string]string{"m": "m", "va": "VA", "v": "V", "w": "W", "deg": "degrees"}

// ownTitles are the titles of names that do not make one.
var ownTitles = map[string]string{
	"va": "Load, VA", "min_volts": "Least volts", "max_volts": "Most volts", "lux_min": "Least light, lx", "lux_avg": "Average light, lx",
	"lux_centre": "Light in the middle, lx", "drop_share": "Drop as a share", "one_lines": "One-line diagrams", "of": "What it is about",
}

// titleOf makes a title of a name: "spare_va" is "Spare, VA".
func titleOf(name string) string {
	if title, own := ownTitles[name]; own {
		return title
	}
	words := strings.Split(name, "_")
	last := len(words) - 1
	unit, has := unitWords[words[last]]
	if has && last > 0 {
		words = words[:last]
	}
	title := strings.Join(words, " ")
	title = strings.ToUpper(title[:1]) + title[1:]
	if has && last > 0 {
		title += ", " + unit
	}
	return title
}

// snake turns the name of a type into words with underscores.
func snake(name string) string {
	var b strings.Builder
	for i, r := range name {
		if unicode.IsUpper(r) && i > 0 {
			b.WriteByte('_')
		}
		b.WriteRune(unicode.ToLower(r))
	}
	return b.String()
}

// publishedExamples are the examples of the published schema by type and name, so
// that they stay as they are; those that it lacks are taken from schedules of the
// demo when the schema is renewed.
func publishedExamples(t *testing.T) map[string][]any {
	t.Helper()
	text, err := os.ReadFile(published)
	if err != nil {
		t.Fatal(err)
	}
	var root struct {
		Properties map[string]struct{ Examples []any }
		Defs       map[string]struct {
			Properties map[string]struct{ Examples []any }
		} `json:"$defs"`
	}
	if err := json.Unmarshal(text, &root); err != nil {
		t.Fatal(err)
	}
	out := map[string][]any{}
	for name, p := range root.Properties {
		out["Schedule."+name] = p.Examples
	}
	for owner, def := range root.Defs {
		for name, p := range def.Properties {
			out[owner+"."+name] = p.Examples
		}
	}
	if *update {
		for _, plan := range []string{"tern-cottage/issued.lighting.json", demo, "format/lane-to-door.lighting.json", "too-far.lighting.json", "good/survey.lighting.json", "good/wiring-only.lighting.json", "format/ten-lines.lighting.json"} {
			collect(t, reflect.ValueOf(*scheduled(t, plan, "")), out)
		}
	}
	return out
}

// collect takes, for a schema that is being renewed, an example of each field that has a value and no example yet.
func collect(t *testing.T, v reflect.Value, into map[string][]any) {
	switch v.Kind() {
	case reflect.Pointer:
		if !v.IsNil() {
			collect(t, v.Elem(), into)
		}
	case reflect.Slice:
		for i := range v.Len() {
			collect(t, v.Index(i), into)
		}
	case reflect.Struct:
		for i := range v.NumField() {
			field := v.Field(i)
			name, _, _ := strings.Cut(v.Type().Field(i).Tag.Get("json"), ",")
			key := v.Type().Name() + "." + name
			if len(into[key]) == 0 && !field.IsZero() && !(field.Kind() == reflect.Slice && field.Len() == 0) {
				if field.Kind() == reflect.Slice {
					field = field.Slice(0, 1) // one entry shows what the others are like
				}
				into[key] = []any{exampleOf(t, field.Interface())}
			}
			collect(t, field, into)
		}
	}
}

// exampleOf is a value as JSON with four digits to each number.
func exampleOf(t *testing.T, v any) any {
	t.Helper()
	text, err := json.Marshal(v)
	if err != nil {
		t.Fatal(err)
	}
	var out any
	if err := json.Unmarshal(text, &out); err != nil {
		t.Fatal(err)
	}
	return shortened(out)
}

func shortened(v any) any {
	switch v := v.(type) {
	case float64:
		short, _ := strconv.ParseFloat(strconv.FormatFloat(v, 'g', 4, 64), 64)
		return short
	case []any:
		for i := range v {
			v[i] = shortened(v[i])
		}
	case map[string]any:
		for k := range v {
			v[k] = shortened(v[k])
		}
	}
	return v
}
