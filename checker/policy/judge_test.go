package policy

import (
	"context"
	"errors"
	"fmt"
	"reflect"
	"strings"
	"sync"
	"testing"
	"testing/fstest"
	"time"

	"duskproof/checker/rule"
)

// TestHitFields holds that every key of a hit arrives.
func TestHitFields(t *testing.T) {
	program := mustCompile(t, Limits{}, house(map[string]string{"full": `hits contains lib.hit("L1", ["route", 2, "x"], {
	"message": "m", "case": "c", "severity": "advice", "value": 1.5, "limit": 2, "unit": "V",
	"limit_name": "cover", "hint": "h", "basis": "code", "source": "s",
})
`}))
	hits, failures, err := program.Judge(context.Background(), document(t, `{}`))
	if err != nil || len(failures) != 0 || len(hits) != 1 {
		t.Fatal(hits, failures, err)
	}
	value, limit := 1.5, 2.0
	want := rule.Hit{
		Rule: "house.full", Element: "L1", Field: []any{"route", 2, "x"}, Case: "c", Severity: "advice", Message: "m",
		Value: &value, Limit: &limit, Unit: "V", LimitName: "cover", Hint: "h", Basis: "code", Source: "s",
	}
	if !reflect.DeepEqual(hits[0], want) {
		t.Errorf("got  %+v\nwant %+v", hits[0], want)
	}
}

// TestJudgeSorted holds that hits are in order of rule, element and case.
func TestJudgeSorted(t *testing.T) {
	body := `hits contains lib.hit(id, [], {"message": "m", "case": c}) if {
	some id in ["L2", "L10", "L1"]
	some c in ["late", "evening"]
}
`
	program := mustCompile(t, Limits{}, house(map[string]string{"b": body, "a": body}))
	hits, _, err := program.Judge(context.Background(), document(t, `{}`))
	if err != nil {
		t.Fatal(err)
	}
	var got []string
	for _, h := range hits {
		got = append(got, h.Rule+" "+h.Element+" "+h.Case)
	}
	want := "house.a L1 evening|house.a L1 late|house.a L10 evening|house.a L10 late|house.a L2 evening|house.a L2 late|" +
		"house.b L1 evening|house.b L1 late|house.b L10 evening|house.b L10 late|house.b L2 evening|house.b L2 late"
	if strings.Join(got, "|") != want {
		t.Errorf("got  %s\nwant %s", strings.Join(got, "|"), want)
	}
}

// TestTreeAndHouseTogether holds that bundled and house rules are gathered by
// the same query.
func TestTreeAndHouseTogether(t *testing.T) {
	program := mustCompile(t, Limits{}, tree(goodPath, goodMetadata), house(map[string]string{"good": goodBody}))
	doc := document(t, `{"units":"m","limits":[{"name":"cover","value":0.5}],"legs":[{"id":"A","cover_m":0.1}]}`)
	hits, failures, err := program.Judge(context.Background(), doc)
	if err != nil || len(failures) != 0 || len(hits) != 2 {
		t.Fatal(hits, failures, err)
	}
	if hits[0].Rule != "earth.too-shallow" || hits[1].Rule != "house.good" {
		t.Errorf("hits are %v", hits)
	}
}

// TestTimeRunsOut holds that rules that nobody reached are listed, not passed.
func TestTimeRunsOut(t *testing.T) {
	endless := `hits contains 1 if {
	r := numbers.range(1, 2000)
	some a in r
	some b in r
	some c in r
	a * b * c < 0
}
`
	limits := Limits{Rule: 500 * time.Millisecond, Total: 900 * time.Millisecond, Grace: 200 * time.Millisecond}
	program := mustCompile(t, limits, house(map[string]string{
		"a-good": goodBody, "b-endless": endless, "c-endless": endless, "d-good": goodBody,
	}))
	hits, failures, err := program.Judge(context.Background(), document(t, `{}`))
	if err != nil {
		t.Fatal(err)
	}
	got := fmt.Sprintf("%d hits", len(hits))
	for _, f := range failures {
		got += fmt.Sprintf(", %s %s", f.Rule, f.Reason)
	}
	want := "1 hits, house.b-endless slow, house.c-endless slow, house.d-good unreached"
	if got != want {
		t.Errorf("got  %s\nwant %s", got, want)
	}
}

// TestCallerLeaves holds that an evaluation ends when its context does.
func TestCallerLeaves(t *testing.T) {
	program := mustCompile(t, Limits{}, house(map[string]string{"good": goodBody, "slow": `hits contains 1 if {
	r := numbers.range(1, 2000)
	some a in r
	some b in r
	some c in r
	a * b * c < 0
}
`}))
	ctx, cancel := context.WithTimeout(context.Background(), 50*time.Millisecond)
	defer cancel()
	hits, failures, err := program.Judge(ctx, document(t, `{}`))
	if !errors.Is(err, context.DeadlineExceeded) || hits != nil || failures != nil {
		t.Errorf("got %v, %v, %v", hits, failures, err)
	}
}

// TestManyAtOnce holds that one program judges many documents at once, and that
// a rule that fails on one does not disturb the others.
func TestManyAtOnce(t *testing.T) {
	program := mustCompile(t, Limits{}, tree(goodPath, goodMetadata), house(map[string]string{
		"number": `hits contains lib.hit(f.id, [], {"message": sprintf("%d", [n])}) if {
	some f in input.fixtures
	n := to_number(f.id)
}
`}))
	var wait sync.WaitGroup
	for worker := range 8 {
		wait.Go(func() {
			for i := range 20 {
				id := fmt.Sprint(1000*worker + i)
				if i%5 == 4 {
					id = "x" + id
				}
				text := fmt.Sprintf(`{"units":"m","limits":[{"name":"cover","value":0.5}],"legs":[{"id":"A%s","cover_m":0.1}],"fixtures":[{"id":%q}]}`, id, id)
				checkOne(t, program, id, text)
			}
		})
	}
	wait.Wait()
}

func checkOne(t *testing.T, program *Program, id, text string) {
	doc, err := NewDocument([]byte(text))
	if err != nil {
		t.Error(err)
		return
	}
	hits, failures, err := program.Judge(context.Background(), doc)
	switch {
	case err != nil:
		t.Error(err)
	case id[0] == 'x':
		if len(hits) != 1 || len(failures) != 1 || failures[0].Rule != "house.number" {
			t.Errorf("%s: %v %v", id, hits, failures)
		}
	case len(hits) != 2 || len(failures) != 0 || hits[0].Element != "A"+id || hits[1].Message != id:
		t.Errorf("%s: %v %v", id, hits, failures)
	}
}

// TestMemoryBesideOthers holds that only the rule that uses too much memory is
// blamed, though others run beside it in the same process.
func TestMemoryBesideOthers(t *testing.T) {
	limits := Limits{Rule: 5 * time.Second, Total: 20 * time.Second, Memory: 64 << 20}
	bomb := mustCompile(t, limits, house(map[string]string{"bomb": "s0 := sprintf(\"%0*d\", [1000000, 0])\n" +
		repeat(12, func(i int) string { return fmt.Sprintf("s%d := concat(\"\", [s%d, s%d])\n", i+1, i, i) }) +
		"hits contains s12\n"}))
	steady := mustCompile(t, limits, house(map[string]string{"steady": `hits contains lib.hit("L1", [], {"message": "m"}) if {
	some a in numbers.range(1, 100)
	some b in numbers.range(1, 500)
	a * b == 50000
}
`}))
	var wait sync.WaitGroup
	for range 2 {
		wait.Go(func() {
			hits, failures, err := steady.Judge(context.Background(), document(t, `{}`))
			if err != nil || len(failures) != 0 || len(hits) != 1 {
				t.Errorf("the steady rule: %v %v %v", hits, failures, err)
			}
		})
		wait.Go(func() {
			hits, failures, err := bomb.Judge(context.Background(), document(t, `{}`))
			if err != nil || len(hits) != 0 || len(failures) != 1 || failures[0].Reason != Large {
				t.Errorf("the bomb: %v %v %v", hits, failures, err)
			}
		})
	}
	wait.Wait()
}

// TestFailuresOfOnePlace holds that a rule that fails on every element says so
// once.
func TestFailuresOfOnePlace(t *testing.T) {
	program := mustCompile(t, Limits{}, house(map[string]string{"number": `hits contains lib.hit(f.id, [], {"message": "m"}) if {
	some f in input.fixtures
	to_number(f.id) > 3
}
`}))
	doc := document(t, `{"fixtures": [{"id": "a"}, {"id": "b"}, {"id": "c"}, {"id": "4"}]}`)
	hits, failures, err := program.Judge(context.Background(), doc)
	if err != nil || len(hits) != 1 || len(failures) != 1 {
		t.Fatal(hits, failures, err)
	}
	want := `house-rules/number.rego:19:2: the rule could not be evaluated: to_number: strconv.ParseFloat: parsing "a": invalid syntax (and 2 more times)`
	if got := failures[0].Error(); got != want {
		t.Errorf("got  %s\nwant %s", got, want)
	}
}

// TestShares holds that every rule has a share and the shares add up.
func TestShares(t *testing.T) {
	program := mustCompile(t, Limits{}, tree(goodPath, goodMetadata), house(map[string]string{"good": goodBody}))
	doc := document(t, `{"units":"m","limits":[{"name":"cover","value":0.5}],"legs":[{"id":"A","cover_m":0.1}]}`)
	shares, err := program.Shares(context.Background(), doc, 3)
	if err != nil || len(shares) != 2 {
		t.Fatal(shares, err)
	}
	if sum := shares[0].Part + shares[1].Part; sum < 0.999 || sum > 1.001 {
		t.Errorf("the shares add up to %v", sum)
	}
	lines, err := program.Profile(context.Background(), doc, 5)
	if err != nil || len(lines) != 5 || lines[0].Times == 0 {
		t.Errorf("lines %v, %v", lines, err)
	}
}

// TestDocument holds what is and is not a facts document.
func TestDocument(t *testing.T) {
	type small struct {
		Units string `json:"units"`
	}
	for _, facts := range []any{[]byte(`{"units":"m"}`), small{"m"}, &small{"m"}, map[string]any{"units": "m"}} {
		if doc, err := NewDocument(facts); err != nil || doc.facts.String() != `{"units": "m"}` {
			t.Errorf("%T: %v %v", facts, doc.facts, err)
		}
	}
	for _, facts := range []any{[]byte(`[]`), []byte(`{`), []byte(`null`), []byte(`{} {}`), []byte(`{"a":1,"a":2}`), "text", func() {}} {
		if _, err := NewDocument(facts); err == nil {
			t.Errorf("%T %v is no document, yet it was taken", facts, facts)
		}
	}
}

// TestFactDigits holds that facts keep 12 significant digits, and that what is
// written with fewer is not touched.
func TestFactDigits(t *testing.T) {
	doc := document(t, `{"a": [0.1524, 12, 12.0, 1e3, -0.5, 123456789012345678, 0.123456789012345678, 1.23456789012345e-9]}`)
	want := `{"a": [0.1524, 12, 12.0, 1e3, -0.5, 1.23456789012e+17, 0.123456789012, 1.23456789012e-09]}`
	if got := doc.facts.String(); got != want {
		t.Errorf("got  %s\nwant %s", got, want)
	}
}

// TestLacking holds which elements a need finds wanting.
func TestLacking(t *testing.T) {
	doc := document(t, `{
		"legs": [
			{"id": "A", "method": "buried"},
			{"id": "B", "method": "buried", "cover_m": 0},
			{"id": "C", "method": "surface"},
			{"id": "D"},
			{"id": "E", "method": "sleeved", "amps": 1}
		],
		"joints": [
			{"id": "J1", "buried": true, "listing": ["direct-burial", "wet"]},
			{"id": "J2", "buried": true, "listing": []},
			{"id": "J3", "buried": false}
		],
		"supply": {"low_factor": 0.9},
		"commons": [{"id": "T1/1", "number": 2}]
	}`)
	metas := []*rule.Meta{
		{ID: "earth.cover", Needs: []rule.Need{
			{Each: "legs", Where: map[string][]string{"method": {"buried", "sleeved"}}, Has: []string{"cover_m", "amps"}},
		}},
		{ID: "earth.splice", Needs: []rule.Need{
			{Each: "joints", Where: map[string][]string{"buried": {"true"}, "listing": {"wet"}}, Has: []string{"place"}},
		}},
		{ID: "power.supply", Needs: []rule.Need{
			{Each: "supply", Has: []string{"volts", "low_factor"}},
			{Each: "plan", Has: []string{"stage"}},
			{Each: "commons", Where: map[string][]string{"number": {"2"}}, Has: []string{"amps"}},
			{Each: "fixtures", Has: []string{"x_m"}},
		}},
	}
	got := fmt.Sprint(Lacking(metas, doc))
	want := "[{earth.cover legs A amps} {earth.cover legs A cover_m} {earth.cover legs B amps} {earth.cover legs E cover_m} " +
		"{earth.splice joints J1 place} " +
		"{power.supply commons T1/1 amps} {power.supply plan plan stage} {power.supply supply supply volts}]"
	if got != want {
		t.Errorf("got  %s\nwant %s", got, want)
	}
	if lacks := Lacking(metas, Document{}); len(lacks) != 0 {
		t.Errorf("an empty document lacks %v", lacks)
	}
}

// TestExample holds that a rule's example plans are found beside it.
func TestExample(t *testing.T) {
	files := fstest.MapFS{
		goodPath:                               {Data: []byte(goodMetadata)},
		"earth/too-shallow/bad.lighting.json":  {Data: []byte(`{"bad": 1}`)},
		"earth/too-shallow/good.lighting.json": {Data: []byte(`{"good": 1}`)},
	}
	catalogue, problems := Load(Source{Name: "tree", FS: files})
	if len(problems) != 0 {
		t.Fatal(problems)
	}
	if text, err := catalogue.Rules[0].Example("bad"); err != nil || string(text) != `{"bad": 1}` {
		t.Errorf("%s %v", text, err)
	}
	if _, err := catalogue.Rules[0].Example("ugly"); err == nil {
		t.Error("an example that is not there was read")
	}
	if _, found := catalogue.Rule("earth.other"); found {
		t.Error("a rule that is not there was found")
	}
}
