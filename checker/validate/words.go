package validate

import (
	"bytes"
	"cmp"
	"encoding/json"
	"regexp"
	"slices"
	"strconv"
	"strings"
	"sync"
)

// typeWords words the types of JSON.
var typeWords = map[string]string{
	"string": "text", "number": "a number", "integer": "a whole number", "boolean": "true or false",
	"array": "a list", "object": "an object", "null": "null",
}

// typeOrder is the order in which types are named.
var typeOrder = []string{"integer", "number", "string", "boolean", "array", "object", "null"}

// typesOf returns the types that schemas allow, in the order of typeOrder.
// Branches of oneOf and anyOf add up.
func typesOf(list []schema) []string {
	set := map[string]bool{}
	for _, s := range list {
		switch t := s.raw["type"].(type) {
		case string:
			set[t] = true
		case []any:
			for _, item := range t {
				if name, ok := item.(string); ok {
					set[name] = true
				}
			}
		}
		for _, word := range allowed(s) {
			set[kind(word)] = true
		}
	}
	var types []string
	for _, name := range typeOrder {
		if set[name] && !(name == "integer" && set["number"]) {
			types = append(types, name)
		}
	}
	return types
}

// kind returns the type of a value as schemas name it.
func kind(value any) string {
	switch value.(type) {
	case nil:
		return "null"
	case string:
		return "string"
	case json.Number:
		return "number"
	case bool:
		return "boolean"
	case []any:
		return "array"
	}
	return "object"
}

// sayType says that a value has the wrong type.
func (r *run) sayType(at []string, chain []schema) {
	var all []schema
	for _, s := range chain {
		all = append(all, r.set.inPlace(s)...)
	}
	types := typesOf(all)
	words := make([]string, len(types))
	for i, name := range types {
		words[i] = typeWords[name]
	}
	expected := join(words, "or")
	if expected != "true or false" {
		expected += suchAs(examplesOf(all, 2))
	}
	subject, value := r.subject(at), r.value(at)
	if last := len(at) - 1; last >= 0 {
		if other := beside(chain[len(chain)-1].at.path, at[last]); other != "" {
			subject += ", beside " + quote(other) + ","
		}
	}
	r.say(at, "%s must be %s, not %s%s", subject, expected, found(value), remedy(value, types))
}

// remedy says how to make a value of one of types out of what stands there.
func remedy(value any, types []string) string {
	text, isText := value.(string)
	switch {
	case isText && (slices.Contains(types, "number") || slices.Contains(types, "integer")) && isNumber(text):
		return "; leave out the quotes"
	case isText && slices.Contains(types, "boolean") && (strings.EqualFold(text, "true") || strings.EqualFold(text, "yes")):
		return "; write true, without quotes"
	case isText && slices.Contains(types, "boolean") && (strings.EqualFold(text, "false") || strings.EqualFold(text, "no")):
		return "; write false, without quotes"
	case value == nil:
		return "; leave it out when it is not known"
	case len(types) == 1 && types[0] == "string" && kind(value) == "number":
		return "; put it in double quotes"
	case len(types) == 1 && types[0] == "array" && kind(value) != "object":
		return "; put it in square brackets"
	}
	return ""
}

// isNumber says whether text is a JSON number.
func isNumber(text string) bool {
	_, err := strconv.ParseFloat(text, 64)
	return err == nil && json.Valid([]byte(text))
}

// sayWord says that a value, or the name at the end of the path, is not one of
// the allowed ones.
func (r *run) sayWord(l leaf, words []any) {
	value := r.value(l.at)
	if l.onName {
		value = l.at[len(l.at)-1]
	}
	near := ""
	if text, ok := value.(string); ok {
		near = nearest(text, texts(words))
	}
	list := showAll(words)
	subject := r.subject(l.at)
	other := ""
	if last := len(l.at) - 1; last >= 0 {
		other = beside(l.schema.path, l.at[last])
	}
	switch {
	case l.onName && near != "":
		r.sayOfKey(l.at, "%s cannot be a name in %s%s It may be %s", show(value), r.subject(l.at[:len(l.at)-1]), didYouMean(near), limited(list))
	case l.onName:
		r.sayOfKey(l.at, "%s cannot be a name in %s; it may be %s", show(value), r.subject(l.at[:len(l.at)-1]), limited(list))
	case other != "":
		r.say(l.at, "%s is %s; beside %s it must be %s", subject, show(value), quote(other), limited(list))
	case len(list) == 1:
		r.say(l.at, "%s must be %s, not %s", subject, list[0], show(value))
	case near != "":
		r.say(l.at, "%s is %s%s It may be %s", subject, show(value), didYouMean(near), limited(list))
	default:
		r.say(l.at, "%s is %s; it must be %s", subject, show(value), limited(list))
	}
}

// texts returns those of words that are text.
func texts(words []any) []string {
	var list []string
	for _, word := range words {
		if text, ok := word.(string); ok {
			list = append(list, text)
		}
	}
	return list
}

// didYouMean words a suggestion; "" when there is none.
func didYouMean(word string) string {
	if word == "" {
		return ""
	}
	return "; did you mean " + quote(word) + "?"
}

// limited joins words with "or"; a long list is cut.
func limited(words []string) string {
	if more := len(words) - maxListed; more > 1 {
		return strings.Join(words[:maxListed], ", ") + " or one of " + strconv.Itoa(more) + " more"
	}
	return join(words, "or")
}

// formatWords words the formats of the standard that a plan may use.
var formatWords = map[string]string{
	"date":          "a date, year-month-day",
	"time":          "a time of day with its offset",
	"date-time":     "a date and time (RFC 3339)",
	"regex":         "a regular expression",
	"json-pointer":  "a JSON Pointer",
	"uri":           "an address with its scheme",
	"uri-reference": "an address",
	"duration":      "a duration (ISO 8601)",
	"email":         "an e-mail address",
	"uuid":          "a UUID",
}

// sayForm says that text, or the name at the end of the path, is not written in
// the form it should have.
func (r *run) sayForm(l leaf) {
	form := formOf(l.chain)
	if name, _ := l.chain[len(l.chain)-1].raw["format"].(string); l.keyword == "format" && formatWords[name] != "" {
		form = formatWords[name]
	}
	examples := examplesOf(l.chain, 2)
	expected := ", which is not in the form it should have"
	switch {
	case form != "":
		expected = ", which cannot be read; expected: " + form + forExample(examples)
	case len(examples) > 0:
		expected = ", which cannot be read; write it like " + join(examples, "or")
	}
	if l.onName {
		last := len(l.at) - 1
		_, reason, _ := strings.Cut(expected, "; ")
		r.sayOfKey(l.at, "%s cannot be a name in %s; %s", quote(l.at[last]), r.subject(l.at[:last]), cmp.Or(reason, "it is not in the form it should have"))
		return
	}
	text, _ := r.value(l.at).(string)
	pattern, _ := l.chain[len(l.chain)-1].raw["pattern"].(string)
	if meant := likely(text, pattern); meant != "" && l.keyword == "pattern" {
		r.say(l.at, "%s is %s, which cannot be read; did you mean %s?", r.subject(l.at), quote(text), quote(meant))
		return
	}
	number := slices.Contains(typesOf(r.schemasFor(l)), "number")
	r.say(l.at, "%s is %s%s%s", r.subject(l.at), quote(text), expected, formRemedy(text, number))
}

// formRemedy says how to mend text that is near the form of a quantity. number
// says whether a bare number would do as well.
func formRemedy(text string, number bool) string {
	digits := strings.ContainsAny(text, "0123456789")
	switch {
	case number && isNumber(text):
		return "; add the unit, or leave out the quotes"
	case digits && strings.HasSuffix(text, "\""), digits && strings.HasSuffix(text, "″"):
		return "; write in for inches"
	case digits && strings.HasSuffix(text, "'"), digits && strings.HasSuffix(text, "′"):
		return "; write ft for feet"
	case number && strings.Contains(text, ","):
		return "; write the decimal point as a dot"
	}
	return ""
}

// formOf returns what the innermost described schema says of the form of a
// value.
func formOf(chain []schema) string {
	for i := len(chain) - 1; i >= 0; i-- {
		if text := firstSentence(chain[i]); text != "" {
			return lowerFirst(text)
		}
	}
	return ""
}

// sentenceEnd matches a full stop that ends a sentence.
var sentenceEnd = sync.OnceValue(func() *regexp.Regexp {
	return regexp.MustCompile(`\.\s+\p{Lu}`)
})

// firstSentence returns the first sentence of a schema's description, or its
// title, without the full stop.
func firstSentence(s schema) string {
	text, _ := s.raw["description"].(string)
	if text == "" {
		text, _ = s.raw["title"].(string)
	}
	if end := sentenceEnd().FindStringIndex(text); end != nil {
		text = text[:end[0]]
	}
	return strings.TrimSuffix(text, ".")
}

// because returns the first description among schemas, for the end of a
// message.
func because(list ...schema) string {
	for _, s := range list {
		if text := firstSentence(s); text != "" {
			return ": " + lowerFirst(text)
		}
	}
	return ""
}

// examplesOf returns up to n examples, as JSON, of the first schema that has
// any.
func examplesOf(list []schema, n int) []string {
	for _, s := range list {
		examples, _ := s.raw["examples"].([]any)
		var texts []string
		for _, item := range examples {
			if text := compact(item); text != "" && len(texts) < n {
				texts = append(texts, text)
			}
		}
		if len(texts) > 0 {
			return texts
		}
	}
	return nil
}

// maxExample is the longest example shown, in bytes.
const maxExample = 80

// compact writes a value of the schema as JSON on one line; "" when it is long.
func compact(value any) string {
	var b bytes.Buffer
	encoder := json.NewEncoder(&b)
	encoder.SetEscapeHTML(false)
	if err := encoder.Encode(value); err != nil || b.Len() > maxExample {
		return ""
	}
	return strings.TrimSuffix(b.String(), "\n")
}

// forExample words examples after a full statement.
func forExample(examples []string) string {
	if len(examples) == 0 {
		return ""
	}
	return "; for example " + join(examples, "or")
}

// suchAs words examples.
func suchAs(examples []string) string {
	if len(examples) == 0 {
		return ""
	}
	return ", such as " + join(examples, "or")
}
