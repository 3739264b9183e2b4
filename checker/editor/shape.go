package editor

import (
	"encoding/json"
	"fmt"
	"strings"
	"sync"

	"duskproof/schema"
)

// role says what a text in a plan stands for.
type role int

const (
	none     role = iota
	defines       // the id of the element that it stands in
	names         // the id of an element elsewhere
	groups        // the name of a switching group
	switches      // a group, or the id of something that can be switched
	types         // the name of a type in the catalogue
	ruleID        // the id of a rule
	excepted      // an id, a pattern or free words in a variance
)

// shape is what the plan's schema says of one place: what a text there stands
// for, and what may be below it. The nil shape knows nothing.
type shape struct {
	role role
	// section is, for the name of a type, the section of the catalogue that
	// has it.
	section string
	// entries is the section of the catalogue whose names are the keys here.
	entries string
	members map[string]*shape
	others  *shape // members with names of the user's own
	items   *shape
}

// member is the shape of a member of an object.
func (s *shape) member(name string) *shape {
	if s == nil || strings.HasPrefix(name, "//") {
		return nil
	}
	if m, known := s.members[name]; known {
		return m
	}
	return s.others
}

// item is the shape of the entries of a list.
func (s *shape) item() *shape {
	if s == nil {
		return nil
	}
	return s.items
}

// planShape is the shape of a plan. The schema is the program's own, so it
// fails only where the program was built wrongly; then nothing is known of any
// place.
var planShape = sync.OnceValue(func() *shape {
	s, err := readShape()
	if err != nil {
		return nil
	}
	return s
})

func readShape() (*shape, error) {
	raw, err := schema.Files.ReadFile(schema.Plan)
	if err != nil {
		return nil, fmt.Errorf("read the plan schema: %w", err)
	}
	var root schemaNode
	if err := json.Unmarshal(raw, &root); err != nil {
		return nil, fmt.Errorf("decode the plan schema: %w", err)
	}
	b := shaper{defs: root.Defs, made: map[string]*shape{}}
	return b.of(&root, "", ""), nil
}

// schemaNode is as much of a JSON Schema as places need.
type schemaNode struct {
	Ref        string                 `json:"$ref"`
	Defs       map[string]*schemaNode `json:"$defs"`
	Pattern    string                 `json:"pattern"`
	Properties map[string]*schemaNode `json:"properties"`
	Free       map[string]*schemaNode `json:"patternProperties"`
	Items      *schemaNode            `json:"items"`
}

// shaper turns a schema into shapes; each definition becomes one.
type shaper struct {
	defs map[string]*schemaNode
	made map[string]*shape
}

// leaves are the definitions of texts that stand for something.
var leaves = map[string]role{"id": defines, "idRef": names, "typeName": types}

// of makes the shape of a node that stands under a name in an owner, which is a
// definition.
func (b *shaper) of(node *schemaNode, name, owner string) *shape {
	def := strings.TrimPrefix(node.Ref, "#/$defs/")
	if r, leaf := leaves[def]; leaf {
		return leafShape(r, name, owner)
	}
	key := def + " " + name
	if s := b.made[key]; s != nil && def != "" {
		return s
	}
	s := &shape{}
	if def != "" {
		b.made[key] = s
		node, owner = b.defs[def], def
	}
	b.fill(s, node, name, owner)
	return s
}

// fill writes what may stand at a node.
func (b *shaper) fill(s *shape, node *schemaNode, name, owner string) {
	switch {
	case owner == "variance" && name == "rule":
		s.role = ruleID
	case owner == "variance" && (name == "element" || name == "case"):
		s.role = excepted
	case node.Pattern != "" && node.Pattern == b.defs["idRef"].Pattern:
		s.role = leafShape(names, name, owner).role
	}
	if len(node.Properties) > 0 {
		s.members = make(map[string]*shape, len(node.Properties))
	}
	for property, below := range node.Properties {
		s.members[property] = b.of(below, property, owner)
	}
	for pattern, below := range node.Free {
		if pattern != "^//" {
			s.others, s.entries = b.of(below, name, owner), name
		}
	}
	if node.Items != nil {
		s.items = b.of(node.Items, name, owner)
	}
}

// leafShape is the shape of a text that stands for something.
func leafShape(r role, name, owner string) *shape {
	switch {
	case r == defines && name == "group":
		r = groups
	case r == names && (name == "switches" || name == "on" || name == "group"):
		r = switches
	}
	s := &shape{role: r}
	if r == types {
		s.section = name + "s"
		if name == "type" {
			s.section = owner + "s"
		}
	}
	return s
}
