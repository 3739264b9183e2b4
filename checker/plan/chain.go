package plan

import "fmt"

// chainLegs expands a chain into legs with the ids "<run>/<to>"; where a chain
// reaches an end twice, the second is "<run>/<to>/2". Positions are used where
// there are any.
func (r *resolver) chainLegs(run *Run, e *RunEntry) []*Leg {
	c := chain{r: r, run: run, entry: e, reached: map[string]bool{}, times: map[string]int{}}
	if run.Transformer != nil {
		c.last = run.Transformer.ID
		c.reached[c.last] = true
	}
	for _, l := range run.Legs {
		c.reached[l.From], c.reached[l.To] = true, true
	}
	var legs []*Leg
	for i := range e.Chain {
		if l := c.step(i); l != nil {
			legs = append(legs, l)
		}
	}
	return legs
}

// chain is the expansion of one run's chain.
type chain struct {
	r       *resolver
	run     *Run
	entry   *RunEntry
	last    string          // where the step before ended
	reached map[string]bool // ends that a step may branch from
	times   map[string]int  // how often the chain has come to an end
}

// step expands one step; nil when it cannot be part of the network.
func (c *chain) step(i int) *Leg {
	e := &c.entry.Chain[i]
	l := &Leg{Run: c.run, From: orText(e.From, c.last), To: e.To, Chained: true}
	l.Element = Element{ID: c.id(e.To), Kind: "leg", Pointer: spotOf(&c.run.Element).at("chain", i).pointer}
	s := spotOf(&l.Element)
	if e.To != "" {
		c.r.claim(s, "", &l.Element, l)
	}
	if e.From != "" && !c.reached[e.From] && c.r.things[e.From] != nil {
		c.r.conflict(s.key("from"), "%q is not an end that the run has reached before this step", e.From)
	}
	c.last = e.To
	c.reached[e.To] = true
	as := &LegEntry{From: l.From, To: e.To, Cable: e.Cable, Length: e.Length, Cover: e.Cover, Method: e.Method}
	if !c.r.resolveLeg(l, as) {
		c.r.gaps = true
		return nil
	}
	return l
}

// id is the id of the leg to an end.
func (c *chain) id(to string) string {
	if c.times[to]++; c.times[to] > 1 {
		return fmt.Sprintf("%s/%s/%d", c.run.ID, to, c.times[to])
	}
	return c.run.ID + "/" + to
}
