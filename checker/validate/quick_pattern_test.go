package validate

import (
	"encoding/json"
	"math/rand/v2"
	"regexp"
	"strings"
	"testing"

	published "duskproof/schema"
)

// expressionsOf lists every expression in published schemas.
func expressionsOf(t *testing.T, names ...string) []string {
	t.Helper()
	var list []string
	var walk func(value any)
	walk = func(value any) {
		switch v := value.(type) {
		case map[string]any:
			for name, below := range v {
				if text, isText := below.(string); isText && name == "pattern" {
					list = append(list, text)
				}
				if patterns, isObject := below.(map[string]any); isObject && name == "patternProperties" {
					for text := range patterns {
						list = append(list, text)
					}
				}
				walk(below)
			}
		case []any:
			for _, below := range v {
				walk(below)
			}
		}
	}
	for _, name := range names {
		data, err := published.Files.ReadFile(name)
		if err != nil {
			t.Fatal(err)
		}
		var schema any
		if err := json.Unmarshal(data, &schema); err != nil {
			t.Fatal(err)
		}
		walk(schema)
	}
	return list
}

// odd are expressions that are not plain, or hard to read rightly.
var odd = []string{
	"", "^$", "^a", "a$", "^a$b", "^[-a][+--]{0,9}$", "^[a-c-e][a]{0,0}$", "^[a][b]{0,1000}$", "^[a][b]{0,1001}$",
	"^[^a][b]{0,9}$", `^[\d][b]{0,9}$`, `^\d$`, "^[[:alpha:]]$", "^a{0,+9}$", "^a{0,09}$", "^a{1,9}$", "^a{2}$", "^a{2,}$", "^a{,2}$", "^a{3,2}$",
	"^[z-a]$", "^[é]$", "^é$", "^[]a]$", "^(?:a)$", "^(?i)a$", "^(a|)$", "^()$", "^(a$)$", "^(^a)$", "^a??$", "^a**$", "^(a*)*$", "^(a?b?)*$", "^(ab|a)(bc|c)?$",
	"^a|b$", "^a$|b$", "^a$|^b$|", "^.$", "^a+?$", "^(a|b)+$", "^(aa|aaa){2,3}$", `^\.\+\*\?\(\)\[\]\{\}\|\^\$$`, `^\a$`, "^a)$", "^(a$", "^[a$", "^~$", "^-$", "^}$", "^]$",
}

// TestPlainPatternsMatchAsTheLibrarySays compares the expressions that are matched
// without the library of regular expressions with that library, on texts that are
// made of the expressions' own characters.
func TestPlainPatternsMatchAsTheLibrarySays(t *testing.T) {
	random := rand.New(rand.NewPCG(1, 2))
	plain, matched := 0, 0
	for _, expression := range append(expressionsOf(t, published.Plan, published.Profile), odd...) {
		p := newPattern(expression)
		if p().plain == nil {
			continue
		}
		plain++
		library, err := regexp.Compile(expression)
		if err != nil {
			t.Errorf("%s is taken as plain, but it is no expression: %v", expression, err)
			continue
		}
		letters := []rune(expression + "0019azAZ.-/ \n\x7féaab")
		texts := []string{"", "12 V", "6 in", "6 1/2 in", "12 ft 6 in", "-5 %", "IP65/IP67", "L1", "12:30", "dusk", "2700 K", strings.Repeat("a", 64), strings.Repeat("a", 65), strings.Repeat("a", 1001), "a\n", "\n", "a\x80"}
		for range 3000 {
			text := make([]rune, random.IntN(12))
			for i := range text {
				text[i] = letters[random.IntN(len(letters))]
			}
			texts = append(texts, string(text))
		}
		for _, text := range texts {
			got, want := p.matches(text), yes(library.MatchString(text))
			if want == fits {
				matched++
			}
			if got != want {
				t.Errorf("%s on %q: got %d, the library says %d", expression, text, got, want)
			}
		}
	}
	if plain < 50 || matched < 5000 {
		t.Errorf("%d expressions are plain and %d texts match: too few to tell", plain, matched)
	}
}

// TestPlanPatternsArePlain holds that no expression of plans is left to the library.
func TestPlanPatternsArePlain(t *testing.T) {
	for _, expression := range expressionsOf(t, published.Plan) {
		if newPattern(expression)().plain == nil && expression != "^//" { // which is looked at apart
			t.Errorf("%s is left to the library", expression)
		}
	}
}

// TestLongTextsAreLeftToTheLibrary holds that a text as long as a file may be is not
// matched step by step: a path of a million folders would go a million calls deep.
func TestLongTextsAreLeftToTheLibrary(t *testing.T) {
	p := newPattern("^a(/a)*$")
	if got := p.matches("a" + strings.Repeat("/a", 1_000_000)); got != unsure {
		t.Errorf("got %d", got)
	}
	if got := p.matches("a" + strings.Repeat("/a", 100)); got != fits {
		t.Errorf("a short one: got %d", got)
	}
}
