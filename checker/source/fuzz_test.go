package source

import (
	"fmt"
	"strings"
	"testing"
)

// FuzzParse reads any bytes, and finds every value of what it could read.
func FuzzParse(f *testing.F) {
	f.Add([]byte(plan))
	f.Add([]byte(rfcDocument))
	for _, c := range damaged {
		f.Add([]byte(c.text))
	}
	f.Fuzz(func(t *testing.T, data []byte) {
		checkAgainstStandard(t, string(data))
		if doc, _ := Parse("p", data, Limits{}); doc != nil {
			checkEverything(t, doc)
		}
	})
}

// FuzzLocate asks a document for any pointer: what is found must be an ancestor
// of what was asked for, and be inside the document.
func FuzzLocate(f *testing.F) {
	for _, pointer := range []string{"", "/", "/legs/0/cover", "/legs/-1", "/legs/18446744073709551616", "legs", "/~", "/~2", "//", "/text/0", "/list/0"} {
		f.Add(pointer)
	}
	f.Fuzz(func(t *testing.T, pointer string) {
		doc := mustParse(t, plan)
		place := doc.Locate(pointer)[0]
		full := pointer
		if full != "" && !strings.HasPrefix(full, "/") {
			full = "/" + full
		}
		if !strings.HasPrefix(full, place.Found) || place.Value.Start < 0 || place.Value.End > len(plan) || place.Value.End <= place.Value.Start {
			t.Fatalf("%q: %+v", pointer, place)
		}
		if place.Exists != (place.Found == full) {
			t.Fatalf("%q exists: %v, found %q", pointer, place.Exists, place.Found)
		}
	})
}

// large is a document of about 780 KB with 10,000 elements.
func large() string {
	var b strings.Builder
	b.WriteString(`{"fixtures": [`)
	for i := range 10_000 {
		if i > 0 {
			b.WriteString(",")
		}
		fmt.Fprintf(&b, "\n  {\"id\": \"P%d\", \"type\": \"ring-path\", \"at\": [%d, %d.5], \"height\": \"18 in\"}", i, i%97, i%89)
	}
	b.WriteString("\n]}\n")
	return b.String()
}

func BenchmarkParse(b *testing.B) {
	data := []byte(large())
	b.SetBytes(int64(len(data)))
	for b.Loop() {
		if _, problems := Parse("p", data, Limits{}); len(problems) > 0 {
			b.Fatal(problems)
		}
	}
}

func BenchmarkLocate(b *testing.B) {
	doc := mustParse(b, large())
	for _, count := range []int{1, 50, 1000} {
		pointers := make([]string, count)
		for i := range pointers {
			pointers[i] = Pointer("fixtures", i*(10_000/count), "height")
		}
		b.Run(fmt.Sprint(count), func(b *testing.B) {
			b.SetBytes(int64(len(doc.Bytes())))
			for b.Loop() {
				doc.Locate(pointers...)
			}
		})
	}
}
