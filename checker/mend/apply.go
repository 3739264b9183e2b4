package mend

import (
	"bytes"
	"encoding/json"
	"errors"
	"fmt"
	"strconv"
	"strings"

	"github.com/go-json-experiment/json/jsontext"
	"github.com/tailscale/hujson"

	"duskproof/checker/finding"
)

// Apply applies a JSON Patch (RFC 6902) to the text of a plan and changes
// nothing else: order, spacing, numbers as written and "//" fields stay. What is
// added is spaced like its neighbours. The text must be strict JSON that its
// reader has accepted. The operations test, add, replace and remove are known.
func Apply(text []byte, patch []finding.Operation) ([]byte, error) {
	tree, err := hujson.Parse(text)
	if err != nil {
		return nil, fmt.Errorf("read the plan: %w", err)
	}
	if _, err := applyTo(&tree, patch); err != nil {
		return nil, err
	}
	return tree.Pack(), nil
}

// applyTo applies a patch to a tree. When it fails, intact says whether the tree is
// as it was.
func applyTo(tree *hujson.Value, patch []finding.Operation) (intact bool, err error) {
	intact = true
	for i := range patch {
		if err := applyOne(tree, &patch[i]); err != nil {
			return intact && patch[i].Op == "test", fmt.Errorf("operation %d, %s %s: %w", i+1, patch[i].Op, patch[i].Path, err)
		}
		intact = intact && patch[i].Op == "test"
	}
	return intact, nil
}

var (
	errUnknownOperation = errors.New("no such operation")
	errBeyond           = errors.New("the index is beyond the end")
)

// beyond reports whether a pointer leaves a gap in an array of a size.
func beyond(tree *hujson.Value, pointer string, size int) bool {
	parent := tree.Find(parentOf(pointer))
	return parent != nil && parent.Value.Kind() == '[' && indexIn(pointer, size) > size
}

// applyOne applies one operation.
func applyOne(tree *hujson.Value, op *finding.Operation) error {
	name, err := spaced(op.Op)
	if err != nil {
		return err
	}
	path, err := spaced(op.Path)
	if err != nil {
		return err
	}
	single := fmt.Appendf(nil, `[{"op": %s, "path": %s`, name, path)
	switch op.Op {
	case "test", "add", "replace":
		value, err := spaced(op.Value)
		if err != nil {
			return err
		}
		single = fmt.Appendf(single, `, "value": %s`, value)
	case "remove":
		mindFirst(tree, op.Path)
	default:
		return errUnknownOperation
	}
	size := length(tree, parentOf(op.Path))
	if op.Op == "add" && beyond(tree, op.Path, size) {
		return errBeyond
	}
	if err := tree.Patch(append(single, "}]"...)); err != nil {
		return err
	}
	if op.Op == "add" && length(tree, parentOf(op.Path)) > size {
		space(tree, op.Path)
	}
	return nil
}

// spaced writes a value on one line with a space after each colon and comma,
// as people write short objects by hand. Raw values keep their order.
func spaced(value any) (jsontext.Value, error) {
	var text bytes.Buffer
	encoder := json.NewEncoder(&text)
	encoder.SetEscapeHTML(false)
	if err := encoder.Encode(value); err != nil {
		return nil, fmt.Errorf("write a value: %w", err)
	}
	out := jsontext.Value(bytes.TrimSpace(text.Bytes()))
	if err := out.Compact(); err != nil {
		return nil, fmt.Errorf("write a value: %w", err)
	}
	if err := out.Format(jsontext.Multiline(false), jsontext.SpaceAfterColon(true), jsontext.SpaceAfterComma(true)); err != nil {
		return nil, fmt.Errorf("write a value: %w", err)
	}
	return out, nil
}

// parentOf is the pointer of what holds the place of a pointer.
func parentOf(pointer string) string {
	return pointer[:max(0, strings.LastIndexByte(pointer, '/'))]
}

// length is the number of members or elements at a pointer.
func length(tree *hujson.Value, pointer string) int {
	if found := tree.Find(pointer); found != nil {
		switch v := found.Value.(type) {
		case *hujson.Object:
			return len(v.Members)
		case *hujson.Array:
			return len(v.Elements)
		}
	}
	return 0
}

// space gives what was added at a pointer the spacing of its neighbour.
func space(tree *hujson.Value, pointer string) {
	parent := tree.Find(parentOf(pointer))
	if parent == nil {
		return
	}
	switch v := parent.Value.(type) {
	case *hujson.Object:
		spaceMember(v, len(v.Members)-1)
	case *hujson.Array:
		spaceElement(v, indexIn(pointer, len(v.Elements)-1))
	}
}

// indexIn is the index that ends a pointer; "-" stands for end.
func indexIn(pointer string, end int) int {
	if i, err := strconv.Atoi(pointer[strings.LastIndexByte(pointer, '/')+1:]); err == nil {
		return i
	}
	return end
}

// spaceMember spaces the last member of an object like the one before it.
func spaceMember(o *hujson.Object, i int) {
	member := &o.Members[i]
	member.Value.BeforeExtra = hujson.Extra(" ")
	if i == 0 {
		return
	}
	before := &o.Members[i-1]
	member.Name.BeforeExtra = copyExtra(before.Name.BeforeExtra)
	member.Value.BeforeExtra = copyExtra(before.Value.BeforeExtra)
	if i == 1 && len(member.Name.BeforeExtra) == 0 {
		member.Name.BeforeExtra = hujson.Extra(" ") // {"a": 1} has no space before its first
	}
}

// spaceElement spaces an element of an array like its neighbour. The first of
// several on one line has no space before it.
func spaceElement(a *hujson.Array, i int) {
	element := &a.Elements[i]
	switch {
	case i == 0 && len(a.Elements) > 1:
		next := &a.Elements[1]
		element.BeforeExtra = copyExtra(next.BeforeExtra)
		if len(next.BeforeExtra) == 0 {
			next.BeforeExtra = hujson.Extra(" ")
		}
	case i > 0:
		element.BeforeExtra = copyExtra(a.Elements[i-1].BeforeExtra)
		if i == 1 && len(element.BeforeExtra) == 0 {
			element.BeforeExtra = hujson.Extra(" ")
		}
	}
}

// mindFirst gives the spacing of a first element that is about to go to the one
// after it.
func mindFirst(tree *hujson.Value, pointer string) {
	parent := tree.Find(parentOf(pointer))
	if parent == nil {
		return
	}
	switch v := parent.Value.(type) {
	case *hujson.Object:
		if len(v.Members) > 1 && tree.Find(pointer) == &v.Members[0].Value {
			v.Members[1].Name.BeforeExtra = copyExtra(v.Members[0].Name.BeforeExtra)
		}
	case *hujson.Array:
		if len(v.Elements) > 1 && indexIn(pointer, -1) == 0 {
			v.Elements[1].BeforeExtra = copyExtra(v.Elements[0].BeforeExtra)
		}
	}
}

func copyExtra(extra hujson.Extra) hujson.Extra { return append(hujson.Extra(nil), extra...) }
