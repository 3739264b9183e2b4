package policy

import (
	"fmt"
	"math"
	"slices"
	"strings"
	"unicode/utf8"

	"duskproof/checker/finding"
	"duskproof/checker/policy/machine"
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
func decodeHits(r *Rule, set machine.Value, limits Limits) (hits []rule.Hit, reason Reason, complaints []string) {
	if set.Kind() != machine.Set {
		return nil, BadHit, []string{"hits must be a partial set: write \"hits contains hit if { ... }\""}
	}
	if set.Len() == 0 {
		return nil, "", nil
	}
	if set.Len() > limits.Hits {
		return nil, Large, []string{fmt.Sprintf("the rule made %d hits; at most %d are taken", set.Len(), limits.Hits)}
	}
	size := 0
	identities := map[[2]string]bool{}
	set.Each(func(_, member machine.Value) {
		hit, bytes, complaint := decodeHit(r, member)
		size += bytes
		identity := [2]string{hit.Element, hit.Case}
		switch {
		case complaint != "":
			complaints = append(complaints, complaint)
		case identities[identity]:
			complaints = append(complaints, fmt.Sprintf("two hits name element %q and case %q; give each its own case", hit.Element, hit.Case))
		default:
			identities[identity] = true
			hits = append(hits, hit)
		}
	})
	if size > limits.HitBytes {
		return nil, Large, []string{fmt.Sprintf("the rule's hits are larger than %d bytes together", limits.HitBytes)}
	}
	return hits, BadHit, slices.Compact(complaints)
}

// decodeHit reads one hit, and says what is wrong with one that cannot be used.
func decodeHit(r *Rule, object machine.Value) (hit rule.Hit, size int, complaint string) {
	if object.Kind() != machine.Object {
		return hit, 0, "a hit must be an object made with lib.hit"
	}
	hit.Rule = r.ID
	var err error
	object.Each(func(key, value machine.Value) {
		switch {
		case err != nil: // the first mistake is enough
		case key.Kind() != machine.Text:
			err = fmt.Errorf("a hit has a key that is not text: %s", key)
		default:
			var n int
			n, err = setField(&hit, key.Text(), value)
			size += n
		}
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

// textField returns where a hit keeps a key that is text, nil for another key.
func textField(hit *rule.Hit, name string) *string {
	switch name {
	case "element":
		return &hit.Element
	case "case":
		return &hit.Case
	case "severity":
		return &hit.Severity
	case "message":
		return &hit.Message
	case "unit":
		return &hit.Unit
	case "limit_name":
		return &hit.LimitName
	case "hint":
		return &hit.Hint
	case "basis":
		return &hit.Basis
	case "source":
		return &hit.Source
	}
	return nil
}

// setField stores one key of a hit and returns its size in bytes.
func setField(hit *rule.Hit, name string, value machine.Value) (int, error) {
	if target := textField(hit, name); target != nil {
		if value.Kind() != machine.Text {
			return 0, fmt.Errorf("a hit's %s is not text", name)
		}
		*target = cut(value.Text())
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
func setNumber(target **float64, name string, value machine.Value) error {
	if value.Kind() != machine.Number {
		return fmt.Errorf("a hit's %s is not a number", name)
	}
	f := value.Float()
	if math.IsInf(f, 0) || math.IsNaN(f) {
		return fmt.Errorf("a hit's %s is too large a number", name)
	}
	*target = &f
	return nil
}

// setPath stores the path of keys and indices below the element.
func setPath(hit *rule.Hit, value machine.Value) (size int, err error) {
	if value.Kind() != machine.Array || value.Len() > 20 {
		return 0, fmt.Errorf("a hit's field is not a short array of keys and indices")
	}
	value.Each(func(_, step machine.Value) {
		n, whole := step.Int()
		switch {
		case step.Kind() == machine.Text:
			text := cut(step.Text())
			hit.Field, size = append(hit.Field, text), size+len(text)
		case whole && n >= 0:
			hit.Field, size = append(hit.Field, n), size+8
		case err == nil:
			err = fmt.Errorf("a hit's field holds %s, which is neither a key nor an index", step)
		}
	})
	return size, err
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
