package editor

import (
	"bytes"
	"encoding/json"

	"duskproof/checker/source"
)

// kind is what a value in a text is.
type kind byte

const (
	other kind = iota // numbers, true, false and null
	object
	list
	word
)

// span is a stretch of bytes, the end exclusive.
type span struct{ start, end int }

func (s span) holds(offset int) bool { return s.start <= offset && offset <= s.end }

// node is one value in a text.
type node struct {
	parent int  // -1 for the first
	kind   kind // of the value
	key    span // its name, quotes included; empty in a list
	name   string
	index  int  // its place in a list
	count  int  // the entries of a list so far
	value  span // quotes included
	text   string
	shape  *shape
}

// tree is a plan's text as far as it can be made out, in the order of the text.
// Unlike the reader of plans it takes whatever it gets: somebody is typing.
type tree struct {
	nodes []node
	// sound is false when brackets or names had to be guessed.
	sound bool
}

// A tree is bounded; the reader of plans refuses larger and deeper files.
const (
	mostNodes = 400_000
	mostDepth = 200
)

// bytesPerNode is about how many bytes of a plan hold one value.
const bytesPerNode = 14

// newTree makes the tree of a text. Of a text that is too large for a plan it
// makes an empty one.
func newTree(data []byte) *tree {
	g := &grower{data: data, tree: &tree{sound: true, nodes: make([]node, 0, min(mostNodes, 16+len(data)/bytesPerNode))}}
	if len(data) > source.DefaultLimits().MaxBytes {
		g.tree.sound = false
		return g.tree
	}
	for g.at < len(data) && len(g.tree.nodes) < mostNodes && len(g.open) < mostDepth {
		g.step()
	}
	g.tree.sound = g.tree.sound && len(g.open) == 0 && g.at >= len(data)
	for len(g.open) > 0 {
		g.shut(len(data))
	}
	return g.tree
}

// grower reads a text from left to right.
type grower struct {
	data []byte
	at   int
	tree *tree
	open []int // objects and lists that are not closed yet
	key  span  // a name that waits for its value
	name string
}

// step reads one token.
func (g *grower) step() {
	switch c := g.data[g.at]; {
	case c == '{':
		g.begin(object)
	case c == '[':
		g.begin(list)
	case c == '}':
		g.close(object)
	case c == ']':
		g.close(list)
	case c == '"':
		g.quoted()
	case c == ',':
		g.key = span{}
		g.at++
	case c <= ' ' || c == ':':
		g.at++
	default:
		start := g.at
		for g.at < len(g.data) && !ends(g.data[g.at]) {
			g.at++
		}
		g.add(other, span{start, g.at}, "")
	}
}

var closers = map[kind]byte{object: '}', list: ']'}

// next is the byte after the white space at an offset, nought at the end.
func (g *grower) next(at int) byte {
	for ; at < len(g.data); at++ {
		if c := g.data[at]; c != ' ' && c != '\t' && c != '\r' && c != '\n' {
			return c
		}
	}
	return 0
}

// ends reports whether a byte ends a number or a bare word.
func ends(c byte) bool {
	switch c {
	case '{', '}', '[', ']', '"', ',', ':', ' ', '\t', '\r', '\n':
		return true
	}
	return false
}

// begin opens an object or a list.
func (g *grower) begin(k kind) {
	g.add(k, span{g.at, g.at + 1}, "")
	g.open = append(g.open, len(g.tree.nodes)-1)
	g.at++
}

// quoted reads a text, which is a name when a colon follows.
func (g *grower) quoted() {
	whole := span{g.at, g.endOfText()}
	g.at = whole.end
	isName := g.next(whole.end) == ':'
	if isName && g.top() >= 0 && g.tree.nodes[g.top()].kind == list {
		g.guess() // a list that was not closed before the next name
		g.shut(whole.start)
	}
	if isName {
		g.key, g.name = whole, unquoted(g.data[whole.start:whole.end])
		return
	}
	g.add(word, whole, unquoted(g.data[whole.start:whole.end]))
}

// endOfText finds the end of the text that begins here: its closing quote, or
// the end of the line.
func (g *grower) endOfText() int {
	for i := g.at + 1; i < len(g.data); i++ {
		switch g.data[i] {
		case '\\':
			i++
		case '"':
			return i + 1
		case '\n', '\r':
			g.guess()
			return i
		}
	}
	g.guess()
	return len(g.data)
}

// add enters a value below what is open.
func (g *grower) add(k kind, value span, text string) {
	top := g.top()
	if top >= 0 && g.tree.nodes[top].kind == object && g.key == (span{}) {
		g.guess() // a value without a name
		if k == object {
			g.shut(value.start) // probably the object before it was not closed
			top = g.top()
		}
	}
	n := node{parent: top, kind: k, key: g.key, value: value, text: text}
	switch {
	case top < 0:
		n.shape = planShape()
	case g.key != span{}:
		n.name, n.shape = g.name, g.tree.nodes[top].shape.member(g.name)
	default:
		n.shape = g.tree.nodes[top].shape.item()
		n.index = g.tree.nodes[top].count
		g.tree.nodes[top].count++
	}
	g.key = span{}
	g.tree.nodes = append(g.tree.nodes, n)
}

func (g *grower) guess() { g.tree.sound = false }

// top is what is open, or -1.
func (g *grower) top() int {
	if len(g.open) == 0 {
		return -1
	}
	return g.open[len(g.open)-1]
}

// close closes the nearest object or list of a kind, and what is open inside it.
// A bracket that nothing opened is passed over, and so is one that stands before
// the bracket that is wanted.
func (g *grower) close(k kind) {
	g.at++
	if top := g.top(); top >= 0 && g.tree.nodes[top].kind != k && g.next(g.at) == closers[g.tree.nodes[top].kind] {
		g.guess()
		return
	}
	for i := len(g.open) - 1; i >= 0; i-- {
		if g.tree.nodes[g.open[i]].kind != k {
			g.guess()
			continue
		}
		for len(g.open) > i+1 {
			g.shut(g.at - 1)
		}
		g.shut(g.at)
		return
	}
	g.guess()
}

// shut ends what is open at an offset.
func (g *grower) shut(end int) {
	g.tree.nodes[g.top()].value.end = end
	g.open, g.key = g.open[:len(g.open)-1], span{}
}

// unquoted is the text that a quoted text stands for, as it is written where it
// is damaged.
func unquoted(raw []byte) string {
	var out string
	if bytes.IndexByte(raw, '\\') >= 0 && json.Unmarshal(raw, &out) == nil {
		return out
	}
	return string(bytes.TrimSuffix(bytes.TrimPrefix(raw, []byte{'"'}), []byte{'"'}))
}
