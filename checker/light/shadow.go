package light

import (
	"slices"

	"gonum.org/v1/gonum/spatial/r3"
)

// obstacles is an indexed set of occluders.
type obstacles struct {
	items []Occluder
	tree  tree
}

func newObstacles(items []Occluder) (obstacles, error) {
	boxes := make([]r3.Box, len(items))
	for i, o := range items {
		if err := o.check(); err != nil {
			return obstacles{}, err
		}
		boxes[i] = o.box()
	}
	return obstacles{items: items, tree: newTree(boxes)}, nil
}

// source is where light leaves a luminaire, with what it is mounted on.
type source struct {
	at   r3.Vec
	aim  r3.Vec // world direction of the greatest intensity, leveled out where it has no level part
	host string
}

// through returns the share of light from the source that reaches to: the
// product of the transmissions of everything in the way.
func (o *obstacles) through(src *source, to r3.Vec) float64 {
	return o.throughExcept(src, to, nil)
}

// throughExcept is through without the occluders of the given names.
func (o *obstacles) throughExcept(src *source, to r3.Vec, except []string) float64 {
	if len(o.items) == 0 {
		return 1
	}
	s := newRay(src.at, to)
	share := 1.0
	var stack [64]int32
	n := 1 // stack[0] is the root
	for n > 0 && share > 0 {
		n--
		node := &o.tree.nodes[stack[n]]
		if !touches(&s, &node.box) {
			continue
		}
		if node.left < 0 {
			if item := o.items[node.item]; len(except) == 0 || !slices.Contains(except, item.Name()) {
				share *= passOne(item, src, &s, to)
			}
			continue
		}
		stack[n], stack[n+1] = node.right, node.left
		n += 2
	}
	return share
}

// passOne is the share of light one occluder lets through.
func passOne(o Occluder, src *source, s *ray, to r3.Vec) float64 {
	if src.host != "" && o.Name() == src.host {
		from, ok := o.stepOff(src.at, src.aim)
		if !ok {
			return 1
		}
		moved := newRay(from, to)
		moved.lo = 0
		s = &moved
	}
	in, out, ok := o.crossing(*s)
	if !ok {
		return 1
	}
	return o.pass(*s, in, out)
}

// throughAll is through without an index, for a few extra occluders.
func throughAll(items []Occluder, src *source, to r3.Vec) float64 {
	s := newRay(src.at, to)
	share := 1.0
	for _, o := range items {
		if share *= passOne(o, src, &s, to); share == 0 {
			break
		}
	}
	return share
}
