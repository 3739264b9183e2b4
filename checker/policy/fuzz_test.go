package policy

import (
	"context"
	"io/fs"
	"strings"
	"testing"
	"testing/fstest"
	"time"

	"duskproof/rules"
)

// FuzzLoad holds that no bytes break the reader of rules: a file is refused with a
// problem that has a place, or it compiles and is judged beside a good rule, which
// it neither breaks nor hides.
func FuzzLoad(f *testing.F) {
	for _, body := range []string{goodBody, "hits contains http.send({})\n", "f(x) := f(x + 1)\n\nhits contains f(1)\n", "# \xff\n", "x := [[[[1]]]]\n"} {
		f.Add([]byte(header("bad") + withLibrary(body)))
	}
	err := fs.WalkDir(rules.Files, ".", func(name string, entry fs.DirEntry, err error) error {
		if err != nil || entry.IsDir() || !strings.HasSuffix(name, ".rego") || strings.HasSuffix(name, "_test.rego") {
			return err
		}
		text, err := fs.ReadFile(rules.Files, name)
		if err == nil && strings.Contains(string(text), "\npackage rules.") {
			house := strings.NewReplacer("package rules.", "package house.", "#   id: ", "#   id: house.").Replace(string(text))
			f.Add([]byte(house))
		}
		return err
	})
	if err != nil {
		f.Fatal(err)
	}
	limits := Limits{Rule: 200 * time.Millisecond, Total: time.Second, Grace: 100 * time.Millisecond, Hits: 100, HitBytes: 1 << 16, Memory: 64 << 20}
	schema := factsSchema(f)
	facts, err := NewDocument([]byte(`{"today": "2026-06-01", "units": "m", "limits": [], "legs": [], "fixtures": []}`))
	if err != nil {
		f.Fatal(err)
	}
	f.Fuzz(func(t *testing.T, text []byte) {
		catalogue, problems := Load(House("house-rules", fstest.MapFS{
			"bad.rego":  {Data: text},
			"good.rego": {Data: []byte(header("good") + withLibrary(goodBody))},
		}))
		options := Options{Limits: limits}
		if len(text)%8 == 0 {
			options.Facts = schema // dear
		}
		program, more := catalogue.Compile(options)
		for _, p := range append(problems, more...) {
			if p.File == "" || p.Message == "" || p.Line < 0 || p.Column < 0 {
				t.Fatalf("a problem without a place: %+v", p)
			}
		}
		if program == nil {
			t.Fatalf("nothing compiled: %v %v", problems, more)
		}
		hits, failures, err := program.Judge(context.Background(), facts)
		if err != nil {
			t.Fatal(err)
		}
		for _, h := range hits {
			if h.Rule == "house.good" {
				return
			}
		}
		for _, p := range problems {
			if strings.Contains(p.Message, "good") {
				return // it calls itself by the same name
			}
		}
		t.Fatalf("the good rule was hidden: %v %v %v", problems, more, failures)
	})
}
