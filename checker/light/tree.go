package light

import (
	"cmp"
	"slices"

	"gonum.org/v1/gonum/spatial/r3"
)

// tree is a hierarchy of boxes over items 0..n-1, halved at the median of the
// longest side. Nodes stand in one slice; a leaf holds one item.
type tree struct{ nodes []treeNode }

type treeNode struct {
	box         r3.Box
	left, right int32 // children; left is -1 for a leaf
	item        int32
}

// newTree builds the hierarchy. The order of equal centres is the order of the
// items, so the result is the same every time.
func newTree(boxes []r3.Box) tree {
	if len(boxes) == 0 {
		return tree{}
	}
	order := make([]int32, len(boxes))
	for i := range order {
		order[i] = int32(i)
	}
	t := tree{nodes: make([]treeNode, 0, 2*len(boxes)-1)}
	t.grow(boxes, order)
	return t
}

func (t *tree) grow(boxes []r3.Box, order []int32) int32 {
	at := int32(len(t.nodes))
	box := boxes[order[0]]
	for _, i := range order[1:] {
		box = joinBoxes(box, boxes[i])
	}
	t.nodes = append(t.nodes, treeNode{box: box, left: -1, right: -1, item: order[0]})
	if len(order) == 1 {
		return at
	}
	size := r3.Sub(box.Max, box.Min)
	key := func(i int32) float64 { return boxes[i].Min.X + boxes[i].Max.X }
	if size.Y > size.X && size.Y >= size.Z {
		key = func(i int32) float64 { return boxes[i].Min.Y + boxes[i].Max.Y }
	} else if size.Z > size.X && size.Z > size.Y {
		key = func(i int32) float64 { return boxes[i].Min.Z + boxes[i].Max.Z }
	}
	slices.SortStableFunc(order, func(a, b int32) int { return cmp.Compare(key(a), key(b)) })
	half := len(order) / 2
	left := t.grow(boxes, order[:half])
	right := t.grow(boxes, order[half:])
	t.nodes[at].left, t.nodes[at].right = left, right
	return at
}

func joinBoxes(a, b r3.Box) r3.Box {
	return r3.Box{
		Min: r3.Vec{X: min(a.Min.X, b.Min.X), Y: min(a.Min.Y, b.Min.Y), Z: min(a.Min.Z, b.Min.Z)},
		Max: r3.Vec{X: max(a.Max.X, b.Max.X), Y: max(a.Max.Y, b.Max.Y), Z: max(a.Max.Z, b.Max.Z)},
	}
}

// probe is a ray made ready for many boxes.
type probe struct {
	from r3.Vec
	inv  r3.Vec // one over each component of the direction; infinite for 0
}

func (s *ray) probe() probe {
	return probe{s.from, r3.Vec{X: 1 / s.along.X, Y: 1 / s.along.Y, Z: 1 / s.along.Z}}
}

// touches reports whether the ray passes through the box. A ray that lies in a
// face of it does: the product of nought and infinity is no number, and is
// neither above nor below anything.
func (p *probe) touches(b *r3.Box) bool {
	in, out := narrow(0, 1, (b.Min.X-p.from.X)*p.inv.X, (b.Max.X-p.from.X)*p.inv.X)
	if in > out {
		return false
	}
	in, out = narrow(in, out, (b.Min.Y-p.from.Y)*p.inv.Y, (b.Max.Y-p.from.Y)*p.inv.Y)
	if in > out {
		return false
	}
	in, out = narrow(in, out, (b.Min.Z-p.from.Z)*p.inv.Z, (b.Max.Z-p.from.Z)*p.inv.Z)
	return in <= out
}

// narrow cuts [in, out] down to what lies between t0 and t1.
func narrow(in, out, t0, t1 float64) (float64, float64) {
	if t0 > t1 {
		t0, t1 = t1, t0
	}
	if t0 > in {
		in = t0
	}
	if t1 < out {
		out = t1
	}
	return in, out
}
