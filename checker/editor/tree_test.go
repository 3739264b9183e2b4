package editor

import (
	"bytes"
	"encoding/json"
	"io/fs"
	"os"
	"path/filepath"
	"strings"
	"testing"

	"duskproof/checker/source"
)

// plans are the plans of the repository that a person would write: those of the
// format, the good ones, the demo.
func plans(t testing.TB) map[string][]byte {
	t.Helper()
	out := map[string][]byte{}
	err := filepath.WalkDir("../../testdata/plans", func(path string, entry fs.DirEntry, err error) error {
		if err != nil || entry.IsDir() || !strings.HasSuffix(path, planEnding) {
			return err
		}
		out[path], err = os.ReadFile(path)
		return err
	})
	if err != nil || len(out) < 20 {
		t.Fatalf("%d plans: %v", len(out), err)
	}
	return out
}

// walk lists every value of decoded JSON with its pointer.
func walk(pointer string, value any, visit func(pointer string, value any)) {
	visit(pointer, value)
	switch v := value.(type) {
	case map[string]any:
		for name, below := range v {
			walk(source.Append(pointer, name), below, visit)
		}
	case []any:
		for i, below := range v {
			walk(source.Append(pointer, i), below, visit)
		}
	}
}

// TestTreeOfSoundPlans compares the tree of every plan with what the standard
// library decodes: every value is there, at its pointer, and its stretch of the
// text decodes to the same.
func TestTreeOfSoundPlans(t *testing.T) {
	for path, data := range plans(t) {
		var value any
		if err := json.Unmarshal(data, &value); err != nil {
			t.Fatal(path, err)
		}
		tree, count := newTree(data), 0
		walk("", value, func(pointer string, value any) {
			count++
			at := tree.find(pointer)
			if at < 0 {
				t.Errorf("%s: %s is not found", path, pointer)
				return
			}
			n := tree.nodes[at]
			var have any
			if err := json.Unmarshal(data[n.value.start:n.value.end], &have); err != nil {
				t.Errorf("%s: %s stretches over %q", path, pointer, data[n.value.start:n.value.end])
			}
			want, _ := json.Marshal(value)
			if got, _ := json.Marshal(have); !bytes.Equal(got, want) {
				t.Errorf("%s: %s is %s, want %s", path, pointer, got, want)
			}
			if text, is := value.(string); is && n.text != text {
				t.Errorf("%s: %s is the text %q, want %q", path, pointer, n.text, text)
			}
		})
		if count != len(tree.nodes) || !tree.sound {
			t.Errorf("%s: %d values, want %d; sound: %v", path, len(tree.nodes), count, tree.sound)
		}
	}
}

// TestTreeOfBrokenText holds what is still made out of a text that somebody is
// in the middle of typing.
func TestTreeOfBrokenText(t *testing.T) {
	const whole = `{"fixtures": [{"id": "P1", "type": "ring", "at": [1, 2]}, {"id": "P2", "host": "wall"}], "site": {"walls": [{"id": "wall"}]}}`
	for name, c := range map[string]struct{ old, new string }{
		"a missing brace":       {`[1, 2]}, {`, `[1, 2], {`},
		"a missing comma":       {`[1, 2]}, {`, `[1, 2]} {`},
		"a missing bracket":     {`"wall"}], "site"`, `"wall"}, "site"`},
		"an open text":          {`"at": [1, 2]`, "\"at\": [1, 2], \"mount\": \"sta\n"},
		"a name alone":          {`"type": "ring"`, `"type": "ring", "mount"`},
		"a name and a colon":    {`"type": "ring"`, `"type": "ring", "mount":`},
		"a bracket too many":    {`[1, 2]`, `[1, 2]]`},
		"a word without quotes": {`"ring"`, `ring`},
		"an end that is cut":    {`{"id": "wall"}]}}`, `{"id": "wall"`},
	} {
		t.Run(name, func(t *testing.T) {
			text := strings.Replace(whole, c.old, c.new, 1)
			if text == whole {
				t.Fatal("nothing was broken")
			}
			book := newBook(newTree([]byte(text)))
			for _, id := range []string{"P1", "P2", "wall"} {
				e, ok := book.byID[id]
				if !ok {
					t.Errorf("%s is lost in %s", id, text)
					continue
				}
				if n := book.tree.nodes[e.name]; text[n.value.start:n.value.end] != `"`+id+`"` {
					t.Errorf("%s is said to be %s", id, text[n.value.start:n.value.end])
				}
			}
			m, _ := book.pointed(strings.Index(text, `"wall"`) + 2)
			if m.role != defines || m.name != "wall" {
				t.Errorf("the host is %v", m)
			}
		})
	}
}

// checkTree holds what must be true of every tree, of whatever text.
func checkTree(t *testing.T, data []byte) {
	d := newDocument(data)
	for i, n := range d.tree.nodes {
		if n.value.start < 0 || n.value.end > len(data) || n.value.start > n.value.end || n.parent >= i {
			t.Fatalf("%q: node %d is %+v", data, i, n)
		}
		if n.parent >= 0 {
			if p := d.tree.nodes[n.parent].value; n.value.start < p.start || n.value.end > p.end {
				t.Fatalf("%q: node %d %+v lies outside its parent %+v", data, i, n.value, p)
			}
		}
		if i > 0 && n.value.start < d.tree.nodes[i-1].value.start {
			t.Fatalf("%q: node %d is out of order", data, i)
		}
	}
	if json.Valid(data) && (!d.tree.sound || len(d.tree.nodes) == 0) {
		t.Fatalf("%q is JSON, with %d values, sound: %v", data, len(d.tree.nodes), d.tree.sound)
	}
	for offset := range len(data) + 1 {
		m, at := d.book.pointed(offset)
		if m.role != none && !at.holds(offset) {
			t.Fatalf("%q: at %d is %+v at %+v", data, offset, m, at)
		}
		for _, e := range d.book.around(d.tree.at(offset)) {
			// The name of a member belongs to its value.
			if n := d.tree.nodes[e.node]; !n.value.holds(offset) && !n.key.holds(offset) {
				t.Fatalf("%q: %s is not around %d", data, e.id, offset)
			}
		}
	}
	d.symbols()
}

// TestTreeOfEveryTruncation cuts a plan after every byte, and takes every byte
// out.
func TestTreeOfEveryTruncation(t *testing.T) {
	data, err := os.ReadFile("../../testdata/plans/format/ten-lines.lighting.json")
	if err != nil {
		t.Fatal(err)
	}
	for i := range data {
		checkTree(t, data[:i])
		checkTree(t, append(bytes.Clone(data[:i]), data[i+1:]...))
	}
}

func FuzzTree(f *testing.F) {
	for _, seed := range []string{"", "{", "[[[", `{"a":{"id":"x"}}`, `{"runs":[{"id":"R","chain":[{"to":"P"}]}]}`, "\"\\", "]}{,:", "{\"id\r\n"} {
		f.Add([]byte(seed))
	}
	f.Fuzz(func(t *testing.T, data []byte) {
		if len(data) < 2000 {
			checkTree(t, data)
		}
	})
}

// TestTreeIsBounded holds that no text is too much: neither depth nor size.
func TestTreeIsBounded(t *testing.T) {
	for name, text := range map[string]string{
		"deep lists":   strings.Repeat("[", 1<<20),
		"deep objects": strings.Repeat(`{"a":`, 1<<18),
		"many values":  "[" + strings.Repeat("1,", 1<<19),
		"no end":       strings.Repeat("]", 1<<20),
		"one text":     `"` + strings.Repeat("\\", 1<<20),
	} {
		d := newDocument([]byte(text))
		if len(d.tree.nodes) > mostNodes || d.tree.sound {
			t.Errorf("%s: %d nodes, sound: %v", name, len(d.tree.nodes), d.tree.sound)
		}
		d.symbols()
	}
	if d := newDocument(bytes.Repeat([]byte(" "), source.DefaultLimits().MaxBytes+1)); len(d.tree.nodes) != 0 || d.tree.sound {
		t.Error("a text that is too large for a plan has a tree")
	}
}
