package editor

import (
	"bytes"
	"encoding/json"
	"slices"

	"github.com/go-json-experiment/json/jsontext"

	"duskproof/checker/source"
)

// word is one string value in a text.
type word struct {
	text       string
	start, end int    // byte offsets, quotes included
	name       string // the member it is the value of, or of the list it is in
}

// wordsOf lists every string value of a text in order, as far as the text can
// be read.
func wordsOf(text []byte) []word {
	decoder := jsontext.NewDecoder(bytes.NewReader(text), jsontext.AllowDuplicateNames(true), jsontext.AllowInvalidUTF8(true))
	var out []word
	var names []string
	for {
		token, err := decoder.ReadToken()
		if err != nil {
			return out
		}
		depth := decoder.StackDepth()
		names = slices.Grow(names, depth+1)[:max(len(names), depth+1)]
		if token.Kind() != '"' {
			continue
		}
		kind, length := decoder.StackIndex(depth)
		if kind == '{' && length%2 == 1 {
			names[depth] = token.String()
			continue
		}
		name := names[depth]
		if kind == '[' {
			name = nameAbove(names, depth)
		}
		end := int(decoder.InputOffset())
		raw := token.String()
		out = append(out, word{text: raw, end: end, start: startOf(text, end), name: name})
	}
}

// nameAbove is the member that a list belongs to.
func nameAbove(names []string, depth int) string {
	for d := depth - 1; d >= 0; d-- {
		if names[d] != "" {
			return names[d]
		}
	}
	return ""
}

// startOf finds the opening quote of the string that ends at end.
func startOf(text []byte, end int) int {
	for i := end - 2; i >= 0; i-- {
		if text[i] != '"' {
			continue
		}
		slashes := 0
		for k := i - 1; k >= 0 && text[k] == '\\'; k-- {
			slashes++
		}
		if slashes%2 == 0 {
			return i
		}
	}
	return max(0, end-1)
}

// wordAt is the string value at an offset.
func wordAt(text []byte, offset int) (word, bool) {
	words := wordsOf(text)
	i := slices.IndexFunc(words, func(w word) bool { return w.start <= offset && offset <= w.end })
	if i < 0 {
		return word{}, false
	}
	return words[i], true
}

// freeText are members whose value is words for people, never a reference.
var freeText = []string{"title", "text", "reason", "prepared_by", "granted_by", "note", "by", "jurisdiction", "$schema"}

// typeNames are members whose value names something in the catalogue.
var typeNames = []string{"type", "cable", "connector"}

// references lists the words that name an element by its id, its definition
// among them.
func references(text []byte, id string) []word {
	return slices.DeleteFunc(wordsOf(text), func(w word) bool {
		return w.text != id || slices.Contains(freeText, w.name) || slices.Contains(typeNames, w.name)
	})
}

// span is a word's range in the protocol.
func (w word) span(lines *source.Lines) Range { return offsets(lines, w.start, w.end) }

// quoted writes a string as JSON.
func quoted(s string) string {
	data, err := json.Marshal(s)
	if err != nil {
		return `""`
	}
	return string(data)
}
