package rules_test

import (
	"context"
	"encoding/json"
	"io/fs"
	"maps"
	"math/rand/v2"
	"os"
	"path/filepath"
	"reflect"
	"slices"
	"strings"
	"testing"

	"duskproof/checker"
	"duskproof/checker/policy"
)

// twins are the rules compiled beforehand, and the same as the policy engine reads
// them from their text.
type twins struct{ ready, engine *policy.Program }

func bothPrograms(t testing.TB) twins {
	t.Helper()
	opened, problems := policy.Open()
	loaded, more := policy.Load(policy.Bundled())
	ready, again := opened.Compile(policy.Options{})
	engine, last := loaded.Compile(policy.Options{})
	if all := slices.Concat(problems, more, again, last); len(all) > 0 {
		t.Fatal(all)
	}
	return twins{ready, engine}
}

// agree holds that both say the same of a plan's facts.
func (w twins) agree(t *testing.T, facts any) (hits int) {
	t.Helper()
	document, err := policy.NewDocument(facts)
	if err != nil {
		t.Fatal(err)
	}
	got, failed, err := w.ready.Judge(context.Background(), document)
	if err != nil {
		t.Fatal(err)
	}
	want, wantFailed, err := w.engine.Judge(context.Background(), document)
	if err != nil {
		t.Fatal(err)
	}
	if !reflect.DeepEqual(got, want) || !reflect.DeepEqual(failed, wantFailed) {
		t.Errorf("the rules that are ready:\n%s\n%v\nthe engine:\n%s\n%v", asText(t, got), failed, asText(t, want), wantFailed)
	}
	return len(want)
}

func asText(t *testing.T, v any) string {
	t.Helper()
	text, err := json.MarshalIndent(v, "", "  ")
	if err != nil {
		t.Fatal(err)
	}
	return string(text)
}

// everyPlan returns the facts of every plan there is: the examples of all rules, and
// the plans of the tests. Plans that cannot be used have none.
func everyPlan(t testing.TB) map[string][]byte {
	t.Helper()
	c, err := checker.New(checker.Options{Today: today})
	if err != nil {
		t.Fatal(err)
	}
	var files []string
	for _, root := range []string{".", filepath.Join("..", "testdata", "plans")} {
		err := filepath.WalkDir(root, func(path string, _ fs.DirEntry, err error) error {
			if strings.HasSuffix(path, ".lighting.json") {
				files = append(files, path)
			}
			return err
		})
		if err != nil {
			t.Fatal(err)
		}
	}
	all := map[string][]byte{}
	for _, file := range files {
		text, err := os.ReadFile(file)
		if err != nil {
			t.Fatal(err)
		}
		result, err := c.Check(context.Background(), checker.Input{Name: file, Bytes: text, FS: os.DirFS(filepath.Dir(file))})
		if err != nil {
			t.Fatal(err)
		}
		if result.Facts == nil {
			continue
		}
		if all[file], err = json.Marshal(result.Facts); err != nil {
			t.Fatal(err)
		}
	}
	if len(all) < 100 {
		t.Fatalf("only %d plans", len(all))
	}
	return all
}

// variations is how many variations of each plan's facts are judged.
const variations = 3

// TestReadyRulesSayWhatTheEngineSays holds that the rules compiled beforehand make
// the same hits, to the last letter, and fail at the same places, as the policy
// engine does with their text: on every plan, and on facts that are varied at
// random.
func TestReadyRulesSayWhatTheEngineSays(t *testing.T) {
	programs, plans, hits := bothPrograms(t), everyPlan(t), 0
	for number, name := range slices.Sorted(maps.Keys(plans)) {
		t.Run(name, func(t *testing.T) {
			hits += programs.agree(t, plans[name])
			for v := range variations {
				hits += programs.agree(t, varied(t, plans[name], rand.New(rand.NewPCG(uint64(number), uint64(v)))))
			}
		})
	}
	t.Logf("%d plans, %d hits", len(plans), hits)
}

// varied returns facts of which about one value in twenty is another one: left out,
// a limit or beside it, twice as much, a word from elsewhere, or its opposite.
func varied(t testing.TB, facts []byte, random *rand.Rand) []byte {
	t.Helper()
	var whole map[string]any
	if err := json.Unmarshal(facts, &whole); err != nil {
		t.Fatal(err)
	}
	v := variation{random: random}
	v.collect(whole)
	out, err := json.Marshal(v.value(whole))
	if err != nil {
		t.Fatal(err)
	}
	return out
}

type variation struct {
	random  *rand.Rand
	numbers []float64
	words   []string
}

// collect gathers the numbers and words of facts.
func (v *variation) collect(value any) {
	switch value := value.(type) {
	case map[string]any:
		for _, key := range slices.Sorted(maps.Keys(value)) {
			v.collect(value[key])
		}
	case []any:
		for _, member := range value {
			v.collect(member)
		}
	case float64:
		v.numbers = append(v.numbers, value)
	case string:
		v.words = append(v.words, value)
	}
}

func (v *variation) value(value any) any {
	change := v.random.IntN(20) == 0
	switch value := value.(type) {
	case map[string]any:
		for _, key := range slices.Sorted(maps.Keys(value)) {
			if v.random.IntN(60) == 0 {
				delete(value, key)
				continue
			}
			value[key] = v.value(value[key])
		}
	case []any:
		for i := range value {
			value[i] = v.value(value[i])
		}
	case bool:
		return value != change
	case float64:
		if change {
			return v.number(value)
		}
	case string:
		if change {
			return v.words[v.random.IntN(len(v.words))]
		}
	}
	return value
}

func (v *variation) number(was float64) float64 {
	other := v.numbers[v.random.IntN(len(v.numbers))]
	switch v.random.IntN(5) {
	case 0:
		return other
	case 1:
		return other - 0.005 // a tolerance of the rules
	case 2:
		return 2 * was
	case 3:
		return -was
	}
	return 0
}

// FuzzReadyRules looks for facts on which the rules compiled beforehand and the
// policy engine do not agree.
func FuzzReadyRules(f *testing.F) {
	programs, plans := bothPrograms(f), everyPlan(f)
	names := slices.Sorted(maps.Keys(plans))
	f.Add(uint64(0), uint64(1))
	f.Fuzz(func(t *testing.T, plan, seed uint64) {
		name := names[plan%uint64(len(names))]
		programs.agree(t, varied(t, plans[name], rand.New(rand.NewPCG(plan, seed))))
	})
}
