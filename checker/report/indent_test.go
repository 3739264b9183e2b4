package report

import (
	"bytes"
	"encoding/json"
	"strings"
	"testing"
)

// TestIndentsAsTheLibraryDoes compares the indented form with that of the
// standard library, and the data of the safe form with the data that went in.
func TestIndentsAsTheLibraryDoes(t *testing.T) {
	p := newPrinter()
	for _, value := range []any{
		nil, true, 1.5, "", "a, [b] {c}: \"d\" \\", []any{}, map[string]any{}, []any{[]any{}, map[string]any{}, []any{nil}},
		map[string]any{"": "", "a\"b": []int{1, 2}, "z": map[string]any{"\\": "\\\"", "y": []any{"x\ny", -1e-9}}},
		"\u007f\u009b\u202e\ufeff\U000e0001 \u2028 é 漢 \x1b[31m <&>", strings.Repeat("\\\"", 50),
	} {
		text, err := p.print(value, "    ")
		if err != nil {
			t.Fatal(err)
		}
		var back, want any
		plain, err := json.Marshal(value)
		if err != nil {
			t.Fatal(err)
		}
		if err := json.Unmarshal(text, &back); err != nil {
			t.Fatalf("%q is no JSON: %v", text, err)
		}
		if err := json.Unmarshal(plain, &want); err != nil {
			t.Fatal(err)
		}
		again, _ := json.Marshal(back)
		first, _ := json.Marshal(want)
		if !bytes.Equal(again, first) {
			t.Errorf("%q holds other data than %q", text, plain)
		}
		if bytes.ContainsFunc(text, func(r rune) bool { return r != '\n' && unsafeRune(r) }) {
			t.Errorf("%q is not safe to look at", text)
		}
		var library bytes.Buffer
		encoder := json.NewEncoder(&library)
		encoder.SetEscapeHTML(false)
		encoder.SetIndent("    ", "  ")
		if err := encoder.Encode(value); err != nil {
			t.Fatal(err)
		}
		if have, want := string(text)+"\n", string(appendSafe(nil, library.Bytes())); have != want {
			t.Errorf("got\n%s\nwant\n%s", have, want)
		}
	}
}
