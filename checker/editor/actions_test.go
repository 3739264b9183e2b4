package editor

import (
	"bytes"
	"encoding/json"
	"fmt"
	"math/rand/v2"
	"strings"
	"testing"

	"duskproof/checker/finding"
	"duskproof/checker/mend"
)

// TestEditsMakeTheOtherText turns texts into others by their edits, as an editor
// applies them.
func TestEditsMakeTheOtherText(t *testing.T) {
	r := rand.New(rand.NewPCG(5, 6))
	for range 400 {
		a := randomText(r, 60)
		b := a
		for range 1 + r.IntN(4) {
			i := r.IntN(len([]rune(b)) + 1)
			j := min(len([]rune(b)), i+r.IntN(6))
			b = string([]rune(b)[:i]) + randomText(r, r.IntN(5)) + string([]rune(b)[j:])
		}
		edits := newDocument([]byte(a)).edits([]byte(b))
		if have := applied(t, []byte(a), edits); string(have) != b {
			t.Fatalf("%q becomes %q, want %q, by %+v", a, have, b, edits)
		}
		if a == b && len(edits) > 0 {
			t.Fatalf("%q is edited into itself by %+v", a, edits)
		}
	}
}

// TestEditsAreSmall holds that what does not change is not touched, so that
// folds, marks and the cursor stay where they are.
func TestEditsAreSmall(t *testing.T) {
	var a, b strings.Builder
	for i := range 3000 {
		fmt.Fprintf(&a, "line %d\n", i)
		if i == 10 || i == 900 {
			b.WriteString("changed ")
		}
		fmt.Fprintf(&b, "line %d\n", i)
	}
	d := newDocument([]byte(a.String()))
	edits := d.edits([]byte(b.String()))
	if len(edits) != 2 || edits[0].NewText != "changed " || edits[0].Range != (Range{Position{10, 0}, Position{10, 0}}) {
		t.Errorf("edits %+v", edits)
	}
	far := strings.Replace(b.String(), "line 2999\n", "line 2999", 1)
	edits = d.edits([]byte(far))
	if have := applied(t, d.data, edits); string(have) != far {
		t.Error("a long change does not make the text")
	}
}

// TestVarianceIsLeftToAPerson writes a variance into plans with and without
// others. It is what the plan format wants but for the reason and who granted
// it, and the rest of the text stays.
func TestVarianceIsLeftToAPerson(t *testing.T) {
	found := &finding.Finding{Rule: "site.gate-swing", Element: "P3", Case: "side-gate"}
	for _, text := range []string{
		"{\n  \"format\": \"1.0\"\n}\n",
		"{\n  \"format\": \"1.0\",\n  \"variances\": [\n    {\"rule\": \"x.y\", \"element\": \"z\"}\n  ]\n}\n",
		`{"variances": []}`,
	} {
		patch := variance(newDocument([]byte(text)), "2026-06-01", found)
		mended, err := mend.Apply([]byte(text), patch)
		if err != nil {
			t.Fatal(err)
		}
		var have struct {
			Variances []map[string]string `json:"variances"`
		}
		if err := json.Unmarshal(mended, &have); err != nil {
			t.Fatal(err)
		}
		last := have.Variances[len(have.Variances)-1]
		want := map[string]string{"rule": "site.gate-swing", "element": "P3", "case": "side-gate", "reason": "", "granted_by": "", "on": "2026-06-01", "until": "2027-06-01"}
		if fmt.Sprint(last) != fmt.Sprint(want) {
			t.Errorf("%q: the variance is %v, want %v", text, last, want)
		}
		edits := newDocument([]byte(text)).edits(mended)
		if len(edits) != 1 || !bytes.Equal(applied(t, []byte(text), edits), mended) {
			t.Errorf("%q: edits %+v", text, edits)
		}
	}
	if patch := variance(newDocument([]byte("{}")), "no date", found); patch != nil {
		t.Errorf("a variance without a date: %v", patch)
	}
}

func TestWantedKinds(t *testing.T) {
	for _, c := range []struct {
		only []string
		want bool
	}{
		{nil, true}, {[]string{"quickfix"}, true}, {[]string{""}, true}, {[]string{"refactor", "quickfix"}, true},
		{[]string{"refactor"}, false}, {[]string{"quickfix.other"}, false}, {[]string{"source.organizeImports"}, false},
	} {
		if have := wanted(c.only); have != c.want {
			t.Errorf("only %q: %v, want %v", c.only, have, c.want)
		}
	}
}
