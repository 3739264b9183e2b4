package validate

import (
	"encoding/json"
	"fmt"
	"strconv"
	"strings"
	"unicode"
	"unicode/utf8"
)

// value returns the value at an instance path; nil when there is none.
func (r *run) value(at []string) any {
	return descend(r.doc.Value(), at)
}

// descend follows tokens down from a value; nil when there is nothing.
func descend(node any, tokens []string) any {
	for _, token := range tokens {
		switch n := node.(type) {
		case map[string]any:
			node = n[token]
		case []any:
			i, err := strconv.Atoi(token)
			if err != nil || i < 0 || i >= len(n) {
				return nil
			}
			node = n[i]
		default:
			return nil
		}
	}
	return node
}

// subject names the value at a path as a person would: `"cover" of leg w2`,
// `entry 2 of "route" of leg w2`, `leg w2`, "the file".
func (r *run) subject(at []string) string {
	owner, depth := r.owner(at)
	phrase := r.relative(at, depth)
	switch {
	case phrase == "" && owner == "":
		return "the file"
	case phrase == "":
		return owner
	case owner == "":
		return phrase
	}
	return phrase + " of " + owner
}

// owner names the nearest thing at or above a path that has a name of its own,
// an entry with an id or an entry under a free name, and tells how many tokens
// lead to it. It is "" and 0 when there is none.
func (r *run) owner(at []string) (string, int) {
	label, depth := "", 0
	list := r.set.inPlace(r.set.root)
	for i, token := range at {
		next, named := r.set.step(list, token)
		object, isObject := r.value(at[:i+1]).(map[string]any)
		id, hasID := object["id"].(string)
		switch {
		case !isObject:
		case hasID && id != "" && r.inList(at, i):
			label, depth = r.noun(nil, at[:i+1])+" "+clip(id), i+1
		case !named && !r.inList(at, i):
			label, depth = r.noun(next, at[:i+1])+" "+clip(token), i+1
		}
		list = next
	}
	return label, depth
}

// noun names the kind of thing at a path: by the short title of one of list,
// else by the singular of the name that it stands under.
func (r *run) noun(list []schema, at []string) string {
	for _, s := range list {
		title, _ := s.raw["title"].(string)
		if title != "" && len(strings.Fields(title)) <= 3 {
			return lowerFirst(title)
		}
	}
	for i := len(at) - 2; i >= 0; i-- {
		if _, err := strconv.Atoi(at[i]); err != nil {
			return singular(at[i])
		}
	}
	return "entry"
}

// lowerFirst writes the first letter small, unless the word is an abbreviation.
func lowerFirst(text string) string {
	first, size := utf8.DecodeRuneInString(text)
	second, _ := utf8.DecodeRuneInString(text[size:])
	if unicode.IsUpper(second) {
		return text
	}
	return string(unicode.ToLower(first)) + text[size:]
}

// singular makes "leg" of "legs" and "branch circuit" of "branch_circuits".
func singular(name string) string {
	name = strings.ReplaceAll(name, "_", " ")
	switch {
	case strings.HasSuffix(name, "ies") && len(name) > 4:
		return name[:len(name)-3] + "y"
	case strings.HasSuffix(name, "ches"), strings.HasSuffix(name, "shes"), strings.HasSuffix(name, "xes"), strings.HasSuffix(name, "sses"):
		return name[:len(name)-2]
	case strings.HasSuffix(name, "s") && !strings.HasSuffix(name, "ss"):
		return name[:len(name)-1]
	}
	return name
}

// relative words the part of a path after its first depth tokens.
func (r *run) relative(at []string, depth int) string {
	var parts []string
	for end := len(at); end > depth; {
		i := end - 1
		if r.inList(at, i) {
			n, _ := strconv.Atoi(at[i])
			parts = append(parts, fmt.Sprintf("entry %d", n+1))
			end = i
			continue
		}
		for i > depth && !r.inList(at, i-1) {
			i--
		}
		parts = append(parts, quote(strings.Join(at[i:end], ".")))
		end = i
	}
	return strings.Join(parts, " of ")
}

// inList says whether token i of a path is the number of an entry of a list.
func (r *run) inList(at []string, i int) bool {
	_, ok := r.value(at[:i]).([]any)
	return ok
}

// maxQuoted is how many characters of the file's own text a message repeats.
const maxQuoted = 40

// clip shortens text for a message and takes control characters out of it.
func clip(text string) string {
	quoted := quote(text)
	return quoted[1 : len(quoted)-1]
}

// quote writes text for a message, in double quotes, shortened.
func quote(text string) string {
	if utf8.RuneCountInString(text) > maxQuoted {
		text = string([]rune(text)[:maxQuoted]) + "…"
	}
	return strconv.Quote(text)
}

// show writes a value for a message.
func show(value any) string {
	switch v := value.(type) {
	case nil:
		return "null"
	case string:
		return quote(v)
	case json.Number:
		return clip(string(v))
	case bool:
		return strconv.FormatBool(v)
	case []any:
		return "a list"
	}
	return "an object"
}

// found words what stands in the file, with its kind.
func found(value any) string {
	switch value.(type) {
	case string:
		return "the text " + show(value)
	case json.Number:
		return "the number " + show(value)
	}
	return show(value)
}
