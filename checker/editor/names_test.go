package editor

import (
	"maps"
	"os"
	"slices"
	"sort"
	"strings"
	"testing"

	"duskproof/checker/plan"
)

// applied applies edits to a text as an editor does: none sees another.
func applied(t testing.TB, data []byte, edits []TextEdit) []byte {
	t.Helper()
	text := newText(data)
	sort.Slice(edits, func(i, j int) bool { return before(edits[j].Range.Start, edits[i].Range.Start) })
	out, last := string(data), len(data)
	for _, e := range edits {
		start, end := text.offset(e.Range.Start), text.offset(e.Range.End)
		if start > end || end > last {
			t.Fatalf("edits overlap at %v", e.Range)
		}
		out, last = out[:start]+e.NewText+out[end:], start
	}
	return []byte(out)
}

// renamedText is a plan with a thing called by another name.
func renamedText(t testing.TB, data []byte, m meaning, name string) []byte {
	d := newDocument(data)
	var edits []TextEdit
	for _, u := range d.book.uses(m, name) {
		edits = append(edits, TextEdit{d.span(u.at.start, u.at.end), `"` + u.text + `"`})
	}
	return applied(t, data, edits)
}

// resolved reads a plan with the reader of plans.
func resolved(t testing.TB, data []byte) (*plan.Plan, []plan.Issue) {
	t.Helper()
	document, err := plan.Decode(data)
	if err != nil {
		t.Fatalf("%v in\n%s", err, data)
	}
	return plan.Resolve(document)
}

// TestRenameEverywhere renames every id and every group of every plan, and asks
// the reader of plans whether it still means the same: as many issues, none of a
// name that leads nowhere, and the elements that there were, by their new names.
// Naming it back gives the text that there was.
func TestRenameEverywhere(t *testing.T) {
	const name = "zz-9"
	renamed := 0
	for path, data := range plans(t) {
		was, issues := resolved(t, data)
		book := newBook(newTree(data))
		things := []meaning{}
		for _, e := range book.all {
			things = append(things, meaning{role: defines, name: e.id})
		}
		for group := range book.groups {
			things = append(things, meaning{role: groups, name: group})
		}
		renamed += len(things)
		for _, m := range things {
			mended := renamedText(t, data, m, name)
			now, after := resolved(t, mended)
			if len(after) != len(issues) {
				t.Errorf("%s: %v makes %v of %v", path, m, after, issues)
			}
			if m.role == defines {
				ids := slices.Sorted(maps.Keys(was.Elements))
				for i, id := range ids {
					ids[i] = book.renamed(id, m.name, name)
				}
				slices.Sort(ids)
				if have := slices.Sorted(maps.Keys(now.Elements)); !slices.Equal(have, ids) {
					t.Errorf("%s: %v: the ids are %v, want %v", path, m, have, ids)
				}
			}
			back := renamedText(t, mended, meaning{role: m.role, name: name}, m.name)
			if string(back) != string(data) {
				t.Errorf("%s: %v does not come back", path, m)
			}
		}
	}
	if renamed < 500 {
		t.Errorf("only %d things were renamed", renamed)
	}
}

// partsPlan has every kind of name that is made of another: fixtures of an array,
// legs of a chain, treads of a stair; and one name for a path and a group.
const partsPlan = `{
  "catalogue": {"fixtures": {"ring": {}}, "cables": {"12/2": {}}, "transformers": {"T": {}}},
  "site": {
    "paths": [{"id": "walk"}], "stairs": [{"id": "lower"}],
    "landings": [{"id": "top", "stair": "lower"}]
  },
  "transformers": [{"id": "T1", "type": "T"}],
  "runs": [{"id": "R1", "from": {"transformer": "T1"}, "cable": "12/2", "chain": [{"to": "A-1"}, {"to": "A-2"}, {"to": "S1"}, {"to": "A-1", "from": "A-2"}]}],
  "fixtures": [
    {"id": "A", "type": "ring", "array": {"along": "walk"}, "group": "walk"},
    {"id": "S1", "type": "ring", "at": {"of": "lower"}, "host": "lower/2"},
    {"id": "A-x", "type": "ring", "at": {"tapes": [{"from": "T1"}, {"from": [1, 2]}]}}
  ],
  "controls": [{"id": "C1", "switches": ["walk", "T1"], "scenes": [{"id": "late", "on": ["walk", {"group": "A"}], "from": "dusk"}], "on": "dusk"}],
  "readings": [{"id": "first", "scene": "late", "values": [{"at": "R1/A-1/2"}, {"at": "R1/S1"}]}],
  "take_off": [{"fixture": "ring"}, {"cable": "12/2"}, {"transformer": "T"}],
  "variances": [{"rule": "light.unlit-step", "element": "lower/2", "case": "late"}, {"rule": "wire.undersized", "element": "A-*"}, {"rule": "site.gate-swing", "element": "A-1", "reason": "A"}],
  "notes": [{"about": "walk", "text": "walk"}]
}`

func TestRenameOfParts(t *testing.T) {
	for _, c := range []struct {
		m        meaning
		to       string
		old, new []string // what changes, in order
	}{
		{meaning{role: defines, name: "A"}, "B",
			[]string{`"to": "A-1"}, {"to": "A-2"}`, `"to": "A-1", "from": "A-2"`, `{"id": "A",`, `{"group": "A"}`, `"R1/A-1/2"`, `"element": "A-1"`},
			[]string{`"to": "B-1"}, {"to": "B-2"}`, `"to": "B-1", "from": "B-2"`, `{"id": "B",`, `{"group": "B"}`, `"R1/B-1/2"`, `"element": "B-1"`}},
		{meaning{role: defines, name: "R1"}, "north",
			[]string{`{"id": "R1"`, `"R1/A-1/2"`, `"R1/S1"`}, []string{`{"id": "north"`, `"north/A-1/2"`, `"north/S1"`}},
		{meaning{role: defines, name: "S1"}, "S2",
			[]string{`{"to": "S1"}`, `{"id": "S1"`, `"R1/S1"`}, []string{`{"to": "S2"}`, `{"id": "S2"`, `"R1/S2"`}},
		{meaning{role: defines, name: "lower"}, "low",
			[]string{`{"id": "lower"}`, `"stair": "lower"`, `"of": "lower"`, `"host": "lower/2"`, `"element": "lower/2"`},
			[]string{`{"id": "low"}`, `"stair": "low"`, `"of": "low"`, `"host": "low/2"`, `"element": "low/2"`}},
		{meaning{role: defines, name: "walk"}, "path",
			[]string{`{"id": "walk"}`, `"along": "walk"`, `"about": "walk"`}, []string{`{"id": "path"}`, `"along": "path"`, `"about": "path"`}},
		{meaning{role: groups, name: "walk"}, "steps",
			[]string{`"group": "walk"`, `"switches": ["walk"`, `"on": ["walk"`}, []string{`"group": "steps"`, `"switches": ["steps"`, `"on": ["steps"`}},
		{meaning{role: defines, name: "late"}, "night",
			[]string{`{"id": "late"`, `"scene": "late"`, `"case": "late"`}, []string{`{"id": "night"`, `"scene": "night"`, `"case": "night"`}},
		{meaning{role: defines, name: "T1"}, "main",
			[]string{`{"id": "T1"`, `"transformer": "T1"`, `"from": "T1"`, `, "T1"]`}, []string{`{"id": "main"`, `"transformer": "main"`, `"from": "main"`, `, "main"]`}},
	} {
		want := partsPlan
		for i := range c.old {
			if strings.Count(want, c.old[i]) != 1 {
				t.Fatalf("%s stands %d times in the plan of the test", c.old[i], strings.Count(want, c.old[i]))
			}
			want = strings.Replace(want, c.old[i], c.new[i], 1)
		}
		if have := string(renamedText(t, []byte(partsPlan), c.m, c.to)); have != want {
			t.Errorf("%v to %s gives\n%s\nwant\n%s", c.m, c.to, have, want)
		}
	}
}

// TestDefinitions goes from each reference to what it names.
func TestDefinitions(t *testing.T) {
	d := newDocument([]byte(partsPlan))
	for from, want := range map[string]string{
		`"along": "|walk"`:                    `{"id": "|walk"}`,
		`"group": "|walk"`:                    `"group": "|walk"`,
		`"switches": ["|walk"`:                `"group": "|walk"`,
		`"host": "|lower/2"`:                  `{"id": "|lower"}`,
		`{"to": "|A-2"}`:                      `{"id": "|A",`,
		`"at": "|R1/S1"`:                      `{"to": "|S1"}`,
		`"at": "|R1/A-1/2"`:                   `{"to": "|A-1", "from"`,
		`"type": "|T"`:                        `"transformers": {"|T"`,
		`"id": "A", "type": "|ring"`:          `"fixtures": {"|ring"`,
		`"R1", "from": {"transformer": "|T1"`: `{"id": "|T1"`,
		`{"fixture": "|ring"}`:                `"fixtures": {"|ring"`,
		`{"transformer": "|T"}`:               `"transformers": {"|T"`,
		`"cable": "|12/2", "chain"`:           `"cables": {"|12/2"`,
		`{"group": "|A"}`:                     `{"id": "|A",`,
		`"case": "|late"`:                     `{"id": "|late"`,
	} {
		m, _ := d.book.pointed(placeOf(t, partsPlan, from))
		at, ok := d.book.definition(m)
		if !ok || at.start+1 != placeOf(t, partsPlan, want) {
			t.Errorf("%s leads to %q (%v), want %s", from, partsPlan[at.start:], ok, want)
		}
	}
	for _, nowhere := range []string{`"from": "|dusk"`, `"element": "|A-*"`, `"reason": "|A"`, `"text": "|walk"`, `"rule": "|wire.undersized"`} {
		m, _ := d.book.pointed(placeOf(t, partsPlan, nowhere))
		if at, ok := d.book.definition(m); ok {
			t.Errorf("%s leads to %q", nowhere, partsPlan[at.start:at.end])
		}
	}
}

// placeOf is the offset of the bar in a piece of a text that stands there once.
func placeOf(t testing.TB, text, marked string) int {
	t.Helper()
	plain := strings.Replace(marked, "|", "", 1)
	if strings.Count(text, plain) != 1 {
		t.Fatalf("%q stands %d times", plain, strings.Count(text, plain))
	}
	return strings.Index(text, plain) + strings.Index(marked, "|")
}

// TestReferences counts the places that name a thing by another way: the text
// itself, without those that mean something else.
func TestReferences(t *testing.T) {
	d := newDocument([]byte(partsPlan))
	for marked, want := range map[string][]string{
		`{"id": "|lower"}`:         {`"lower"`, `"lower"`, `"lower"`, `"lower/2"`, `"lower/2"`},
		`"host": "|lower/2"`:       {`"lower"`, `"lower"`, `"lower"`, `"lower/2"`, `"lower/2"`},
		`"fixtures": {"|ring"`:     {`"ring"`, `"ring"`, `"ring"`, `"ring"`, `"ring"`},
		`"group": "|walk"`:         {`"walk"`, `"walk"`, `"walk"`},
		`{"cable": "|12/2"}`:       {`"12/2"`, `"12/2"`, `"12/2"`},
		`"transformers": {"|T"`:    {`"T"`, `"T"`, `"T"`},
		`"text": "|walk"`:          {},
		`{"id": "C1", "|switches"`: {},
	} {
		f := &file{uri: "u", data: []byte(partsPlan), doc: d}
		p := placeParams{Position: d.position(placeOf(t, partsPlan, marked))}
		p.Context.IncludeDeclaration = true
		answer, err := (&Server{}).references(f, p)
		if err != nil {
			t.Fatal(err)
		}
		have := []string{}
		for _, l := range answer.([]Location) {
			have = append(have, partsPlan[d.offset(l.Range.Start):d.offset(l.Range.End)])
		}
		if !slices.Equal(have, want) {
			t.Errorf("%s: %v, want %v", marked, have, want)
		}
		p.Context.IncludeDeclaration = false
		answer, _ = (&Server{}).references(f, p)
		if fewer := len(answer.([]Location)); len(want) > 0 && fewer != len(want)-1 {
			t.Errorf("%s: %d without the definition, want %d", marked, fewer, len(want)-1)
		}
	}
}

// TestRefusedRenames holds why something cannot be renamed.
func TestRefusedRenames(t *testing.T) {
	for _, c := range []struct{ marked, to, why string }{
		{`"host": "|lower/2"`, "x", "lower/2 is part of the stair lower"},
		{`{"to": "|A-2"}`, "x", "A-2 is part of the array A"},
		{`{"id": "|A",`, "R1", "the id R1 is taken already"},
		{`{"id": "|A",`, "a b", "cannot be an id"},
		{`{"id": "|A",`, "", "cannot be an id"},
		{`{"id": "|S1"`, "A-2", "the id A-2 is taken already"},
		{`{"id": "|lower"}`, "R1/1", "cannot be an id"},
		{`"type": "|T"`, "x", "only ids of elements"},
		{`"text": "|walk"`, "x", "only ids of elements"},
		{`"element": "|A-*"`, "x", "only ids of elements"},
	} {
		f := &file{uri: "u", data: []byte(partsPlan)}
		p := placeParams{Position: f.document().position(placeOf(t, partsPlan, c.marked)), NewName: c.to}
		if answer, err := (&Server{}).rename(f, p); err == nil || !strings.Contains(err.Error(), c.why) {
			t.Errorf("%s to %q: %v, %v; want %q", c.marked, c.to, answer, err, c.why)
		}
	}
	array := `{"fixtures": [{"id": "A", "array": {}}, {"id": "B-1"}, {"id": "`
	f := &file{uri: "u", data: []byte(array + `x"}]}`)}
	p := placeParams{Position: f.document().position(placeOf(t, array, `"|A"`)), NewName: "B"}
	if _, err := (&Server{}).rename(f, p); err == nil || !strings.Contains(err.Error(), "the id B-1 is taken") {
		t.Errorf("an array may take the id of a fixture: %v", err)
	}
	f = &file{uri: "u", data: []byte(array)}
	if _, err := (&Server{}).rename(f, p); err == nil || !strings.Contains(err.Error(), "cannot be read") {
		t.Errorf("a broken plan may be renamed in: %v", err)
	}
}

// TestShapeKnowsEveryId holds that the schema's ids are known to be ids: of every
// plan of the repository each element is found, and of the right kind.
func TestShapeKnowsEveryId(t *testing.T) {
	if _, err := readShape(); err != nil {
		t.Fatal(err)
	}
	for path, data := range plans(t) {
		p, _ := resolved(t, data)
		book := newBook(newTree(data))
		for id, e := range p.Elements {
			found, rest, ok := book.owner(id)
			if !ok {
				t.Errorf("%s: %s %s is not found", path, e.Kind, id)
				continue
			}
			kind := book.tree.kindOf(found)
			if rest == "" && kind != e.Kind && !strings.Contains(e.Kind, kind) {
				t.Errorf("%s: %s is a %s, want a %s", path, id, kind, e.Kind)
			}
		}
		for _, e := range book.all {
			if p.Elements[e.id] == nil {
				t.Errorf("%s: %s is no element", path, e.id)
			}
		}
	}
}

// TestDamagedPlansHaveNames runs over plans with wrong references and
// contradictions: nothing of it may fail.
func TestDamagedPlansHaveNames(t *testing.T) {
	for _, name := range []string{"references.json", "contradictions.json"} {
		data, err := os.ReadFile("../../testdata/damaged/" + name)
		if err != nil {
			t.Fatal(err)
		}
		checkTree(t, data[:min(len(data), 20_000)])
	}
}
