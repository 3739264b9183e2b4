package validate

import (
	"encoding/json"
	"fmt"
	"strings"
	"sync"
	"testing"

	"duskproof/checker/source"
)

// TestFloodIsCutShort gives files with thousands of faults.
func TestFloodIsCutShort(t *testing.T) {
	v := garden(t)
	for name, c := range map[string]struct {
		text string
		more int
	}{
		"values":  {`{"format": "1.0", "legs": [` + strings.Repeat("7, ", 4999) + `7]}`, 4800},
		"names":   {`{"format": "1.0"` + members(5000) + `}`, 4800},
		"repeats": {`{"format": "1.0", "notes": [` + strings.Repeat(`"a", `, 4999) + `"a"]}`, 4800},
		"mixed":   {`{"format": 1, "legs": [{"id": "w1"` + members(3000) + `}` + strings.Repeat(`, {"id": "w1"}`, 2000) + `]}`, 4802},
	} {
		problems := check(t, v, c.text)
		last := problems[len(problems)-1]
		want := fmt.Sprintf("there are %d more faults in the file; mend those above first", c.more)
		if len(problems) > maxProblems+1 || last.Message != want {
			t.Errorf("%s: %d problems, the last: %v", name, len(problems), last)
		}
		if again := check(t, v, c.text); brief(again) != brief(problems) {
			t.Errorf("%s: another list the second time", name)
		}
	}
}

// members makes n members with names that no schema knows.
func members(n int) string {
	var b strings.Builder
	for i := range n {
		fmt.Fprintf(&b, `, "qq%d": 1`, i)
	}
	return b.String()
}

func TestValidateAtTheSameTime(t *testing.T) {
	v := garden(t)
	doc, problems := source.Parse("p", []byte(`{"format": "1.0", "legs": [{"id": "w1", "cabel": "x", "cover": []}], "cables": {"A": 1}}`), source.Limits{})
	if len(problems) > 0 {
		t.Fatal(problems)
	}
	got := make([]string, 16)
	var all sync.WaitGroup
	for i := range got {
		all.Go(func() { got[i] = brief(v.Validate(doc)) })
	}
	all.Wait()
	for i := range got {
		if got[i] != got[0] || got[i] == "" {
			t.Fatalf("%d says\n%s\n0 says\n%s", i, got[i], got[0])
		}
	}
}

func TestNearest(t *testing.T) {
	words := []string{"at", "cable", "cover", "colour", "transformer", "branch_circuit", "in_use_cover", "id", "tap"}
	for text, want := range map[string]string{
		"cabel": "cable", "CABLE": "cable", "coverr": "cover", "color": "colour", "ocver": "cover",
		"trans": "transformer", "tranfsormer": "transformer", "branchCircuit": "branch_circuit", "branch-circuit": "branch_circuit",
		"inUseCover": "in_use_cover", "ID": "id", "tpa": "tap", "AT": "at",
		// Too far, or too short to tell.
		"it": "", "cat": "", "zebra": "", "": "", "t": "", "depth": "", strings.Repeat("cover", 100): "",
	} {
		if got := nearest(text, words); got != want {
			t.Errorf("%.20q: %q, want %q", text, got, want)
		}
	}
}

func TestSingular(t *testing.T) {
	for many, want := range map[string]string{
		"legs": "leg", "branch_circuits": "branch circuit", "switches": "switch", "bodies": "body", "boxes": "box",
		"hedges": "hedge", "services": "service", "glass": "glass", "water": "water", "stairs": "stair", "bushes": "bush",
	} {
		if got := singular(many); got != want {
			t.Errorf("%s: %q, want %q", many, got, want)
		}
	}
}

// FuzzValidate compares the verdict with the library's and checks that every
// problem stands in the document, in order, on one line.
func FuzzValidate(f *testing.F) {
	for _, c := range damaged {
		f.Add([]byte(whole(c.text)))
	}
	f.Add([]byte(`{"format": "1.0", "cables": {"\u0000\n": {}, "~/%41": 1}, "lights": [[], {"shape": []}], "gates": [{"at": 1, "not": 2}]}`))
	v := garden(f)
	f.Fuzz(func(t *testing.T, data []byte) {
		doc, _ := source.Parse("p", data, source.Limits{})
		if doc == nil {
			return
		}
		problems := v.Validate(doc)
		if fit := fitsLibrary(t, v, doc.Value()); fit != (len(problems) == 0) {
			t.Fatalf("%q fits: %v, but %v", data, fit, problems)
		}
		for i, p := range problems {
			if strings.ContainsFunc(p.Message, func(r rune) bool { return r < ' ' || r >= 0x7F && r < 0xA0 }) || strings.Contains(p.Message, "%!") {
				t.Fatalf("%q: %q", data, p.Message)
			}
			if i > 0 && problems[i-1].Compare(p) >= 0 && !strings.HasPrefix(p.Message, "there are ") {
				t.Fatalf("%q: out of order or twice: %v", data, problems)
			}
			if place := doc.Locate(p.Pointer)[0]; !place.Exists {
				t.Fatalf("%q: %q does not exist", data, p.Pointer)
			}
		}
	})
}

// TestPointersWithEverySign has names with every character that a pointer or an
// address treats in a special way: the library percent-encodes them.
func TestPointersWithEverySign(t *testing.T) {
	v := garden(t)
	for r := rune(1); r < 0x180; r++ {
		name := "x" + string(r) + "y"
		key, err := json.Marshal(name)
		if err != nil {
			t.Fatal(err)
		}
		text := fmt.Sprintf(`{"format": "1.0", "cables": {"a": {"conductor": "1 AWG", %s: 1}}}`, key)
		problems := check(t, v, text)
		if len(problems) != 1 || problems[0].Pointer != source.Pointer("cables", "a", name) || problems[0].Column != 58 {
			t.Errorf("%q: %v", name, problems)
		}
		if problems = check(t, v, fmt.Sprintf(`{"format": "1.0", "cables": {%s: {"conductor": 1}}}`, key)); len(problems) < 1 {
			t.Errorf("%q: %v", name, problems)
		}
		for _, p := range problems {
			if !strings.HasPrefix(p.Pointer, source.Pointer("cables", name)) {
				t.Errorf("%q: pointer %q", name, p.Pointer)
			}
		}
	}
}
