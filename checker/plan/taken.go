package plan

import "slices"

// dropTaken leaves out what has the id of something else: the first to have an
// id keeps it, the others have been reported, and what judges a plan can look
// everything up by its id.
func (r *resolver) dropTaken() {
	p := r.plan
	if s := p.Supply; s != nil {
		s.Branches = keepOwners(r, s.Branches, func(b *Branch) *Element { return &b.Element })
		s.Receptacles = keepOwners(r, s.Receptacles, func(t *Receptacle) *Element { return &t.Element })
	}
	p.Transformers = keepOwners(r, p.Transformers, func(t *Transformer) *Element { return &t.Element })
	p.Fixtures = keepOwners(r, p.Fixtures, func(f *Fixture) *Element { return &f.Element })
	p.Runs = keepOwners(r, p.Runs, func(run *Run) *Element { return &run.Element })
	for _, run := range p.Runs {
		run.Nodes = keepOwners(r, run.Nodes, func(n *Node) *Element { return &n.Element })
		run.Legs = keepOwners(r, run.Legs, func(l *Leg) *Element { return &l.Element })
	}
	for _, f := range p.Fixtures {
		f.Runs = keepOwners(r, f.Runs, func(run *Run) *Element { return &run.Element })
	}
	p.Controls = keepOwners(r, p.Controls, func(c *Control) *Element { return &c.Element })
	p.Scenes = keepOwners(r, p.Scenes, func(s *Scene) *Element { return &s.Element })
	p.Readings = keepOwners(r, p.Readings, func(s *ReadingSet) *Element { return &s.Element })
	if p.Site != nil {
		r.dropLeftOut(p.Site)
	}
}

// keepOwners keeps what owns its id, and what has none.
func keepOwners[T any](r *resolver, things []*T, element func(*T) *Element) []*T {
	return slices.DeleteFunc(things, func(thing *T) bool { return r.taken(element(thing)) })
}

// taken reports whether an element's id belongs to another.
func (r *resolver) taken(e *Element) bool {
	owner, known := r.plan.Elements[e.ID]
	return known && owner != e
}
