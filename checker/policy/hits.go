package policy

import (
	"fmt"
	"math"
	"slices"
	"strings"
	"unicode/utf8"

	"github.com/open-policy-agent/opa/v1/ast"

	"duskproof/checker/finding"
	"duskproof/checker/rule"
)

// maxHitText is how many bytes one text of a hit may have.
const maxHitText = 2000

// hitFields are the keys that a hit may have.
var hitFields = []string{
	"basis", "case", "element", "field", "hint", "limit", "limit_name",
	"message", "severity", "source", "unit", "value",
}

// decodeHits reads a rule's hits. Complaints say what is wrong with hits that
// cannot be used; the others are returned all the same, except when there are
// too many of them.
func decodeHits(r *Rule, value ast.Value, limits Limits) (hits []rule.Hit, reason Reason, complaints []string) {
	set, ok := value.(ast.Set)
	if !ok {
		return nil, BadHit, []string{"hits must be a partial set: write \"hits contains hit if { ... }\""}
	}
	if set.Len() > limits.Hits {
		return nil, Large, []string{fmt.Sprintf("the rule made %d hits; at most %d are taken", set.Len(), limits.Hits)}
	}
	size := 0
	identities := map[[2]string]bool{}
	for _, term := range set.Slice() {
		hit, bytes, complaint := decodeHit(r, term.Value)
		size += bytes
		identity := [2]string{hit.Element, hit.Case}
		switch {
		case size > limits.HitBytes:
			return nil, Large, []string{fmt.Sprintf("the rule's hits are larger than %d bytes together", limits.HitBytes)}
		case complaint != "":
			complaints = append(complaints, complaint)
		case identities[identity]:
			complaints = append(complaints, fmt.Sprintf("two hits name element %q and case %q; give each its own case", hit.Element, hit.Case))
		default:
			identities[identity] = true
			hits = append(hits, hit)
		}
	}
	return hits, BadHit, slices.Compact(complaints)
}

// decodeHit reads one hit, and says what is wrong with one that cannot be used.
func decodeHit(r *Rule, value ast.Value) (hit rule.Hit, size int, complaint string) {
	object, ok := value.(ast.Object)
	if !ok {
		return hit, 0, "a hit must be an object made with lib.hit"
	}
	hit.Rule = r.ID
	err := object.Iter(func(key, value *ast.Term) error {
		name, ok := key.Value.(ast.String)
		if !ok {
			return fmt.Errorf("a hit has a key that is not text: %s", key)
		}
		n, err := setField(&hit, string(name), value.Value)
		size += n
		return err
	})
	switch {
	case err != nil:
		return hit, size, err.Error()
	case hit.Element == "":
		return hit, size, "a hit names no element"
	case hit.Message == "":
		return hit, size, "a hit has no message"
	}
	return hit, size, gradeComplaint(r, &hit)
}

// gradeComplaint checks severity and basis of a hit against its rule.
func gradeComplaint(r *Rule, hit *rule.Hit) string {
	if hit.Severity != "" {
		severity, err := finding.ParseSeverity(hit.Severity)
		if err != nil {
			return "a hit's severity: " + err.Error()
		}
		if severity > r.Severity {
			return fmt.Sprintf("a hit has severity %s, graver than the rule's own %s", severity, r.Severity)
		}
	}
	bases := []string{"", "code", "listing", "standard", "practice", "house"}
	if !slices.Contains(bases, hit.Basis) {
		return fmt.Sprintf("a hit has basis %q; it must be one of %s", hit.Basis, strings.Join(bases[1:], ", "))
	}
	return ""
}

// setField stores one key of a hit and returns its size in bytes.
func setField(hit *rule.Hit, name string, value ast.Value) (int, error) {
	texts := map[string]*string{
		"element": &hit.Element, "case": &hit.Case, "severity": &hit.Severity, "message": &hit.Message,
		"unit": &hit.Unit, "limit_name": &hit.LimitName, "hint": &hit.Hint, "basis": &hit.Basis, "source": &hit.Source,
	}
	if target, ok := texts[name]; ok {
		text, isText := value.(ast.String)
		if !isText {
			return 0, fmt.Errorf("a hit's %s is not text", name)
		}
		*target = cut(string(text))
		return len(*target), nil
	}
	switch name {
	case "value":
		return 8, setNumber(&hit.Value, name, value)
	case "limit":
		return 8, setNumber(&hit.Limit, name, value)
	case "field":
		return setPath(hit, value)
	}
	return 0, fmt.Errorf("a hit has no key %q%s; it has %s", name, suggestion(name, hitFields), strings.Join(hitFields, ", "))
}

// setNumber stores a number that JSON can write.
func setNumber(target **float64, name string, value ast.Value) error {
	number, ok := value.(ast.Number)
	if !ok {
		return fmt.Errorf("a hit's %s is not a number", name)
	}
	f, ok := number.Float64()
	if !ok || math.IsInf(f, 0) || math.IsNaN(f) {
		return fmt.Errorf("a hit's %s is too large a number", name)
	}
	*target = &f
	return nil
}

// setPath stores the path of keys and indices below the element.
func setPath(hit *rule.Hit, value ast.Value) (int, error) {
	array, ok := value.(*ast.Array)
	if !ok || array.Len() > 20 {
		return 0, fmt.Errorf("a hit's field is not a short array of keys and indices")
	}
	size := 0
	for i := range array.Len() {
		switch step := array.Elem(i).Value.(type) {
		case ast.String:
			text := cut(string(step))
			hit.Field, size = append(hit.Field, text), size+len(text)
		case ast.Number:
			n, whole := step.Int()
			if !whole || n < 0 {
				return 0, fmt.Errorf("a hit's field holds %s, which is neither a key nor an index", step)
			}
			hit.Field, size = append(hit.Field, n), size+8
		default:
			return 0, fmt.Errorf("a hit's field holds %s, which is neither a key nor an index", step)
		}
	}
	return size, nil
}

// cut shortens a text that is too long for a report, at a whole character.
func cut(text string) string {
	if len(text) <= maxHitText {
		return text
	}
	end := maxHitText
	for end > 0 && !utf8.RuneStart(text[end]) {
		end--
	}
	return text[:end] + "..."
}
