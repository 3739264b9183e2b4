package report

import (
	"cmp"
	"fmt"
	"math"
	"slices"
	"strings"

	"gonum.org/v1/gonum/spatial/r2"

	"duskproof/checker/facts"
	"duskproof/checker/plan"
	"duskproof/checker/site"
)

// cableWidth is how wide the line of a cable is: by the conductor's area, so
// that twice the copper is seen at once.
func cableWidth(areaMM2 float64) float64 {
	if areaMM2 <= 0 {
		return 1
	}
	return max(0.8, min(3.4, 0.9*math.Sqrt(areaMM2)))
}

// cables draws the legs by gauge and method, those of one look together.
func (d *drawing) cables() {
	byID := map[string]*facts.Leg{}
	for i := range d.facts.Legs {
		byID[d.facts.Legs[i].ID] = &d.facts.Legs[i]
	}
	var sizes []*facts.Leg
	looks := &strokes{}
	for _, run := range d.plan.Runs {
		for _, leg := range run.Legs {
			fact := byID[leg.ID]
			if len(leg.Route) < 2 || fact == nil {
				continue
			}
			d.leg(looks, leg, fact)
			if !slices.ContainsFunc(sizes, func(l *facts.Leg) bool { return l.Conductor == fact.Conductor }) {
				sizes = append(sizes, fact)
			}
		}
	}
	d.open("g", "class", "cables")
	for _, under := range []bool{true, false} {
		for _, s := range looks.all {
			if under == (s.class == "under" || s.class == "sleeve") {
				d.tag("path", "class", s.class, "stroke-width", s.width, "d", s.path.String())
			}
		}
	}
	d.shut("g")
	slices.SortStableFunc(sizes, func(a, b *facts.Leg) int { return cmp.Compare(b.AreaMM2, a.AreaMM2) })
	for _, fact := range sizes {
		d.keySized("leg", "cable, "+cmp.Or(fact.Conductor, "size not stated"), cableWidth(fact.AreaMM2))
	}
}

// strokes gathers lines by how they are drawn, in order of first use.
type strokes struct{ all []*stroke }

type stroke struct {
	class, width string
	path         strings.Builder
}

func (s *strokes) add(class string, width float64, path string) {
	w := decimal(width)
	for _, have := range s.all {
		if have.class == class && have.width == w {
			have.path.WriteString(path)
			return
		}
	}
	one := &stroke{class: class, width: w}
	one.path.WriteString(path)
	s.all = append(s.all, one)
}

func (d *drawing) leg(looks *strokes, leg *plan.Leg, fact *facts.Leg) {
	path := line(d.all(leg.Route))
	width := cableWidth(fact.AreaMM2)
	if leg.Sleeve != nil && leg.Sleeve.Where != "crossings" {
		looks.add("sleeve", width+4, path)
		d.key("sleeve", "sleeve the whole way")
	} else {
		looks.add("under", width+2, path)
	}
	class := "leg"
	if !buriedMethod(leg.Method) {
		class = "leg surface"
		d.key("leg surface", "cable above ground")
	}
	looks.add(class, width, path)
}

func buriedMethod(method string) bool {
	return method == "" || method == "buried" || method == "sleeved"
}

// midway is the middle of a leg as drawn.
func midway(route []r2.Vec) (r2.Vec, bool) {
	l := site.Line(route)
	p, _, ok := l.Along(l.Length() / 2)
	return p, ok
}

// legNames writes the ids of legs where there is room.
func (d *drawing) legNames() {
	for _, run := range d.plan.Runs {
		for _, leg := range run.Legs {
			p, ok := midway(leg.Route)
			if !ok || !d.holds(d.at(p)) {
				continue
			}
			words := cut(Clean(leg.ID), 16)
			if centre, ok := d.room.settle(d.at(p), textWidth(words, 8.5), 9, 1, 1, 4); ok {
				d.text(centre.x, centre.y+3, "small faint halo", words, "text-anchor", "middle")
			}
		}
	}
}

// devices draws what feeds and joins: receptacles, transformers, hubs, sensors.
func (d *drawing) devices() {
	if d.plan.Supply != nil {
		for _, r := range d.plan.Supply.Receptacles {
			if r.At != nil {
				d.symbol(*r.At, "receptacle", "receptacle")
			}
		}
	}
	for _, run := range d.plan.Runs {
		for _, n := range run.Nodes {
			if n.At != nil {
				kind := nodeKind(n.Kind)
				d.symbol(*n.At, kind, kind)
			}
		}
	}
	for _, t := range d.plan.Transformers {
		if t.At != nil {
			d.symbol(*t.At, "transformer", "transformer")
		}
	}
	for _, c := range d.plan.Controls {
		if c.SensorAt != nil {
			d.sensor(*c.SensorAt)
		}
	}
}

// sensor draws the sensor of a control, beside what it is mounted over.
func (d *drawing) sensor(p r2.Vec) {
	for _, t := range d.plan.Transformers {
		if t.At == nil {
			continue
		}
		if at, over := d.at(p), d.at(*t.At); math.Hypot(at.x-over.x, at.y-over.y) < 12 {
			p = r2.Add(*t.At, r2.Scale(1/d.unitsPerM, r2.Vec{X: 11, Y: 11}))
		}
	}
	d.symbol(p, "sensor", "light sensor of a control")
}

func nodeKind(kind string) string {
	switch kind {
	case "tee", "splice":
		return kind
	}
	return "hub"
}

// symbol puts a symbol at a place and keeps labels off it.
func (d *drawing) symbol(p r2.Vec, name, meaning string) {
	at := d.at(p)
	d.tag("use", "href", "#"+d.prefix+"s-"+name, "x", at.x, "y", at.y)
	size := symbolSize(name)
	d.room.take(boxAt(at, size, size))
	if d.holds(at) {
		d.key("s-"+name, meaning)
	}
}

// labels writes the ids of fixtures, hubs, transformers and receptacles.
func (d *drawing) labels() {
	d.open("g", "class", "labels")
	for _, t := range d.plan.Transformers {
		if t.At != nil {
			d.label(*t.At, t.ID, symbolSize("transformer")/2)
		}
	}
	if d.plan.Supply != nil {
		for _, r := range d.plan.Supply.Receptacles {
			if r.At != nil {
				d.label(*r.At, r.ID, symbolSize("receptacle")/2)
			}
		}
	}
	for _, f := range d.plan.Fixtures {
		if f.At != nil {
			d.label(*f.At, f.ID, symbolSize(fixtureSymbol(f.Type.Kind))/2)
		}
	}
	for _, run := range d.plan.Runs {
		for _, n := range run.Nodes {
			if n.At != nil {
				d.label(*n.At, n.ID, symbolSize(nodeKind(n.Kind))/2)
			}
		}
	}
	d.shut("g")
}

const labelSize = 9.5

// label writes an id beside its symbol, with a line to it when there is room
// only farther off.
func (d *drawing) label(p r2.Vec, id string, radius float64) {
	at := d.at(p)
	if !d.holds(at) {
		return
	}
	words := cut(Clean(id), 24)
	width := textWidth(words, labelSize) + 4
	centre, ok := d.room.settle(at, width, labelSize+1, radius, 0, 2, 6, 11, 20, 30)
	if !ok {
		return
	}
	if gap := math.Hypot(centre.x-at.x, centre.y-at.y) - radius - width/2; gap > 8 {
		d.tag("path", "class", "leader", "d", line([]point{at, centre}))
	}
	d.text(centre.x, centre.y+3.4, "halo", words, "text-anchor", "middle")
}

// lampTitle says what a lamp is and gets, for those who point at it.
func (d *drawing) lampTitle(f *plan.Fixture) string {
	words := fmt.Sprintf("%s, %s", f.ID, f.Type.ID)
	if f.Type.Title != "" {
		words = f.ID + ", " + f.Type.Title
	}
	if x := d.lamps[f.ID]; x != nil && x.NominalVolts != nil {
		return fmt.Sprintf("%s, %.1f V", words, *x.NominalVolts)
	}
	return words
}
