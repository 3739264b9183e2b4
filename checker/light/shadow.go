package light

import (
	"slices"

	"gonum.org/v1/gonum/spatial/r3"
)

// obstacles is an indexed set of occluders.
type obstacles struct {
	items   []Occluder
	tree    tree
	inOrder []bounded // as the leaves of the tree stand
	named   map[string][]bounded
}

// bounded is an occluder with the box round it.
type bounded struct {
	Occluder
	bounds r3.Box
}

func newObstacles(items []Occluder) (obstacles, error) {
	o := obstacles{items: items, named: map[string][]bounded{}}
	boxes := make([]r3.Box, len(items))
	for i, item := range items {
		if err := checkOccluder(item); err != nil {
			return obstacles{}, err
		}
		boxes[i] = item.box()
		o.named[item.Name()] = append(o.named[item.Name()], bounded{item, boxes[i]})
	}
	o.tree = newTree(boxes)
	o.inOrder = make([]bounded, 0, len(items))
	for i := range o.tree.nodes {
		if n := &o.tree.nodes[i]; n.left < 0 {
			o.inOrder = append(o.inOrder, bounded{items[n.item], n.box})
		}
	}
	return o, nil
}

// source is where light leaves a luminaire, with what it is mounted on.
type source struct {
	at    r3.Vec
	aim   r3.Vec // which way it shines; see stepOff
	host  string
	hosts []bounded // the indexed occluders of that name
	exits []exit    // out of those hosts that are not to be left out
	// outlook is what may stand in the way, when that is known for this place.
	outlook *outlook
}

// exit is the place just outside a host from which its luminaire shines.
type exit struct {
	bounded
	from r3.Vec
}

// leave puts the source at a place, and finds its way out of its hosts.
func (src *source) leave(at r3.Vec) {
	src.at, src.exits = at, src.exits[:0]
	for _, host := range src.hosts {
		if from, ok := host.stepOff(at, src.aim); ok {
			src.exits = append(src.exits, exit{host, from})
		}
	}
}

// pastHosts is the share of light a luminaire's own hosts let through: the light
// is taken to leave from just outside them.
func (src *source) pastHosts(to r3.Vec) float64 {
	share := 1.0
	for i := range src.exits {
		if e := &src.exits[i]; mayMeet(&e.bounds, e.from, to, GrazeM) {
			share *= e.through(to)
		}
	}
	return share
}

// through is the share of light that the host lets through.
func (e *exit) through(to r3.Vec) float64 {
	s := newRay(e.from, to)
	s.lo = 0
	return passOne(e.Occluder, &s)
}

// through returns the share of light from the source that reaches to: the
// product of the transmissions of everything in the way.
func (o *obstacles) through(src *source, to r3.Vec) float64 {
	if len(o.items) == 0 {
		return 1
	}
	share := src.pastHosts(to)
	s := newRay(src.at, to)
	if src.outlook != nil {
		return src.outlook.through(share, o, &s)
	}
	probe := s.probe()
	var stack [64]int32
	n := 1 // stack[0] is the root
	for n > 0 && share > 0 {
		n--
		node := &o.tree.nodes[stack[n]]
		if !probe.touches(&node.box) {
			continue
		}
		if node.left >= 0 {
			stack[n], stack[n+1] = node.right, node.left
			n += 2
			continue
		}
		item := o.items[node.item]
		if isHost(item, src) {
			continue
		}
		share *= passOne(item, &s)
	}
	return share
}

// isHost reports whether the source is mounted on the occluder.
func isHost(o Occluder, src *source) bool { return src.host != "" && o.Name() == src.host }

// passOne is the share of light one occluder lets through.
func passOne(o Occluder, s *ray) float64 {
	in, out, ok := o.crossing(*s)
	if !ok {
		return 1
	}
	return o.pass(*s, in, out)
}

// extras are a few occluders without an index.
type extras struct {
	items []Occluder
	boxes []r3.Box
}

func newExtras(items []Occluder) (extras, error) {
	e := extras{items: items, boxes: make([]r3.Box, len(items))}
	for i, o := range items {
		if err := checkOccluder(o); err != nil {
			return extras{}, err
		}
		e.boxes[i] = o.box()
	}
	return e, nil
}

// join returns both sets.
func (e *extras) join(more *extras) extras {
	return extras{append(slices.Clone(e.items), more.items...), append(slices.Clone(e.boxes), more.boxes...)}
}

// clearOf reports whether no ray from within reach of from to a point can meet
// any of them.
func (e *extras) clearOf(from, to r3.Vec, reach float64) bool {
	reach += 10 * GrazeM
	for i := range e.boxes {
		if mayMeet(&e.boxes[i], from, to, reach) {
			return false
		}
	}
	return true
}

// mayMeet reports whether the box round a ray, wider by reach where it begins, and
// another have a place in common.
func mayMeet(b *r3.Box, from, to r3.Vec, reach float64) bool {
	return min(from.X-reach, to.X) <= b.Max.X && max(from.X+reach, to.X) >= b.Min.X &&
		min(from.Y-reach, to.Y) <= b.Max.Y && max(from.Y+reach, to.Y) >= b.Min.Y &&
		min(from.Z-reach, to.Z) <= b.Max.Z && max(from.Z+reach, to.Z) >= b.Min.Z
}

// through returns the share of light from the source that reaches to.
func (e *extras) through(src *source, to r3.Vec) float64 {
	s := newRay(src.at, to)
	probe := s.probe()
	share := 1.0
	for i, o := range e.items {
		switch {
		case isHost(o, src):
			if from, ok := o.stepOff(src.at, src.aim); ok {
				out := exit{bounded{o, e.boxes[i]}, from}
				share *= out.through(to)
			}
		case probe.touches(&e.boxes[i]):
			share *= passOne(o, &s)
		}
		if share == 0 {
			break
		}
	}
	return share
}
