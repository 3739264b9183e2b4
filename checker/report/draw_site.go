package report

import (
	"fmt"
	"math"
	"strings"

	"gonum.org/v1/gonum/spatial/r2"

	"duskproof/checker/facts"
	"duskproof/checker/measure"
	"duskproof/checker/plan"
	"duskproof/checker/site"
)

// chordM is how far the drawn edge of a bend may be from the true one.
const chordM = 0.02

// ground draws what lies on the ground.
func (d *drawing) ground() {
	s := d.plan.Site
	if s == nil {
		return
	}
	for _, x := range s.Lawns {
		d.shape("lawn", "lawn", x.Outline)
	}
	for _, x := range s.Beds {
		d.shape("bed", "planting bed", x.Outline)
	}
	for _, x := range s.Drives {
		d.shape("drive", "drive or street", x.Outline)
	}
	for _, x := range s.Water {
		d.shape("water", "water", x.Outline)
	}
	for _, x := range s.Areas {
		d.shape("area", "terrace or paved area", x.Outline)
	}
	for _, x := range s.Paths {
		d.shape("path", "path", site.Strip{Centreline: x.Centreline, WidthM: x.WidthM}.Outline(chordM))
	}
	for _, x := range s.Decks {
		d.shape("deck", "deck", x.Outline)
	}
	for _, x := range s.Landings {
		d.shape("landing", "landing", x.Outline)
	}
	for _, x := range s.Stairs {
		d.stair(x)
	}
	for _, x := range s.Buildings {
		d.building(x)
	}
	if len(s.PropertyLine) > 2 {
		d.tag("path", "class", "line", "d", outline(d.all(s.PropertyLine)))
		d.key("line", "property line")
	}
	for _, x := range s.Services {
		d.tag("path", "class", "service", "d", line(d.all(x.Route)))
		d.key("service", "buried service, with its kind")
	}
}

// shape draws an outline and notes it for the legend.
func (d *drawing) shape(class, meaning string, ring []r2.Vec) {
	if len(ring) < 3 {
		return
	}
	d.tag("path", "class", class, "d", outline(d.all(ring)))
	if d.shown(ring) {
		d.key(class, meaning)
	}
}

// shown reports whether the box of some points meets the map.
func (d *drawing) shown(points []r2.Vec) bool {
	var b bounds
	b.add(points...)
	return b.any && b.low.X <= d.high.X && b.high.X >= d.low.X && b.low.Y <= d.high.Y && b.high.Y >= d.low.Y
}

// stair draws a flight: treads, rails, and an arrow up with the number of
// risers.
func (d *drawing) stair(s *plan.Stair) {
	ring := []r2.Vec{s.FootLeft, s.FootRight, s.HeadRight, s.HeadLeft}
	d.shape("landing", "landing", ring)
	for _, t := range s.Treads {
		d.tag("path", "class", "tread", "d", line(d.all(t.Outline[:2])))
	}
	d.tag("path", "class", "tread", "d", line(d.all([]r2.Vec{s.HeadLeft, s.HeadRight})))
	if s.Handrails == "left" || s.Handrails == "both" {
		d.tag("path", "class", "rail", "d", line(d.all([]r2.Vec{s.FootLeft, s.HeadLeft})))
	}
	if s.Handrails == "right" || s.Handrails == "both" {
		d.tag("path", "class", "rail", "d", line(d.all([]r2.Vec{s.FootRight, s.HeadRight})))
	}
	if s.Handrails != "" && s.Handrails != "none" {
		d.key("rail", "handrail")
	}
	d.key("stair", "stair, arrow up")
}

// arrowUp draws the way up a flight, over the light.
func (d *drawing) arrowUp(s *plan.Stair) {
	foot, head := d.at(middle(s.FootLeft, s.FootRight)), d.at(middle(s.HeadLeft, s.HeadRight))
	length := math.Hypot(head.x-foot.x, head.y-foot.y)
	if length < 4 {
		return
	}
	ux, uy := (head.x-foot.x)/length, (head.y-foot.y)/length
	tip := point{head.x - 2*ux, head.y - 2*uy}
	barb := func(side float64) point {
		return point{tip.x - 5*ux - side*3*uy, tip.y - 5*uy + side*3*ux}
	}
	d.tag("path", "class", "way", "d", line([]point{foot, tip})+line([]point{barb(1), tip, barb(-1)}))
}

func middle(a, b r2.Vec) r2.Vec { return r2.Scale(0.5, r2.Add(a, b)) }

// building draws an outline filled with slanting lines.
func (d *drawing) building(b *plan.Building) {
	if len(b.Outline) < 3 {
		return
	}
	d.shape("building", "building", b.Outline)
	box := site.Polygon(b.Outline).Bounds()
	if !site.Usable(box.Min, box.Max) {
		return
	}
	low, high := d.at(r2.Vec{X: box.Min.X, Y: box.Max.Y}), d.at(r2.Vec{X: box.Max.X, Y: box.Min.Y})
	low, high = d.within(low, 0), d.within(high, 0)
	clip := fmt.Sprintf("%sb-%s", d.prefix, xmlName(b.ID))
	d.open("clipPath", "id", clip)
	d.tag("path", "d", outline(d.all(b.Outline)))
	d.shut("clipPath")
	var hatch strings.Builder
	const step = 9.0
	for x := low.x - (high.y - low.y); x < high.x; x += step {
		hatch.WriteString(line([]point{{x, high.y}, {x + high.y - low.y, low.y}}))
	}
	d.tag("path", "class", "hatch", "clip-path", "url(#"+clip+")", "d", hatch.String())
}

// xmlName makes an id of the plan fit for an id of a document.
func xmlName(id string) string {
	return strings.Map(func(r rune) rune {
		switch {
		case r >= 'a' && r <= 'z', r >= 'A' && r <= 'Z', r >= '0' && r <= '9', r == '.', r == '-':
			return r
		}
		return '_'
	}, id)
}

// standing draws what stands above the ground.
func (d *drawing) standing() {
	s := d.plan.Site
	if s == nil {
		return
	}
	for _, x := range s.Stairs {
		d.arrowUp(x)
	}
	for _, x := range s.Screens {
		d.screen(x)
	}
	for _, x := range s.Windows {
		d.tag("path", "class", "window", "d", line(d.all(x.Line[:])))
		if d.shown(x.Line[:]) {
			d.key("window", "window")
		}
	}
	for _, x := range s.Leaves {
		d.leaf(x)
	}
	for _, x := range s.Posts {
		at := d.at(x.At)
		d.tag("circle", "class", "post", "cx", at.x, "cy", at.y, "r", math.Max(1.5, x.DiameterM/2*d.unitsPerM))
		if d.holds(at) {
			d.key("post", "post")
		}
	}
	for _, x := range s.Trees {
		d.tree(x)
	}
}

// screen draws a wall, a fence or a hedge.
func (d *drawing) screen(s *plan.Screen) {
	class := "wall"
	switch {
	case s.Kind == "hedge" || s.Material == "plants":
		class = "hedge"
	case s.Kind == "fence":
		class = "fence"
	}
	width := math.Max(1.6, s.ThicknessM*d.unitsPerM)
	if class == "fence" {
		width = 0
	}
	if class == "hedge" {
		width = math.Max(4, width)
	}
	style := ""
	if width > 0 {
		style = decimal(width)
	}
	d.tag("path", "class", class, "stroke-width", style, "d", line(d.all(s.Line)))
	if d.shown(s.Line) {
		d.key(class, class)
	}
}

// tree draws crown and trunk.
func (d *drawing) tree(t *plan.Tree) {
	at := d.at(t.At)
	if t.HasCanopy {
		d.tag("circle", "class", "canopy", "cx", at.x, "cy", at.y, "r", t.RadiusM*d.unitsPerM)
	}
	d.tag("circle", "class", "trunk", "cx", at.x, "cy", at.y, "r", math.Max(1.8, t.TrunkM/2*d.unitsPerM))
	if d.holds(at) {
		d.key("canopy", "tree, crown and trunk")
	}
}

// leaf draws a gate or door closed, its open positions, and what it sweeps.
func (d *drawing) leaf(l *plan.Leaf) {
	shape := facts.LeafGeometry(l)
	if l.Towards != "" {
		d.tag("path", "class", "sweep", "d", outline(d.all(sweepOf(shape))))
	}
	for _, p := range shape.Rest() {
		class := "open"
		if p.Name == "closed" {
			class = "leaf"
		}
		d.tag("path", "class", class, "d", line(d.all([]r2.Vec{p.Segment.A, p.Segment.B})))
	}
	if l.PostM != nil {
		for _, post := range shape.Posts() {
			at := d.at(post.At)
			d.tag("circle", "class", "post", "cx", at.x, "cy", at.y, "r", math.Max(1.5, *l.PostM/2*d.unitsPerM))
		}
	}
	if d.holds(d.at(l.Hinge)) {
		d.key("leaf", "gate or door, and its sweep")
	}
}

// sweepOf is the edge of what a leaf sweeps: the hinge, then its free end in
// every position.
func sweepOf(l site.Leaf) []r2.Vec {
	ring := []r2.Vec{l.Hinge}
	for _, p := range l.Through(math.Max(l.LengthM/12, chordM)) {
		ring = append(ring, p.Segment.B)
	}
	return ring
}

// names writes what things on the site are called, where there is room.
func (d *drawing) names() {
	s := d.plan.Site
	if s == nil {
		return
	}
	for _, x := range s.Stairs {
		d.name(d.at(middle(middle(x.FootLeft, x.FootRight), middle(x.HeadLeft, x.HeadRight))),
			fmt.Sprintf("%s, %d risers of %s", x.ID, x.Risers, measure.Length(x.RiseM, d.plan.Units)))
	}
	for _, x := range s.Buildings {
		d.nameIn(x.Outline, x.ID)
	}
	for _, x := range s.Water {
		d.nameIn(x.Outline, x.ID)
	}
	for _, x := range s.Trees {
		d.name(d.at(x.At), x.ID)
	}
	for _, x := range s.Leaves {
		d.name(d.at(x.Hinge), x.ID)
	}
	for _, x := range s.Paths {
		if p, ok := d.seen(x.Centreline); ok {
			d.name(p, x.ID)
		}
	}
	for _, x := range s.Landings {
		d.nameIn(x.Outline, x.ID)
	}
	for _, x := range s.Decks {
		d.nameIn(x.Outline, x.ID)
	}
	for _, x := range s.Areas {
		d.nameIn(x.Outline, x.ID)
	}
	for _, x := range s.Drives {
		d.nameIn(x.Outline, x.ID)
	}
	for _, x := range s.Lawns {
		d.nameIn(x.Outline, x.ID)
	}
	for _, x := range s.Services {
		if p, ok := d.seen(x.Route); ok {
			d.name(p, x.Kind)
		}
	}
	d.legNames()
}

// seen is the place on a line, nearest to its middle, that is on the map.
func (d *drawing) seen(points []r2.Vec) (point, bool) {
	l := site.Line(points)
	for _, share := range []float64{0.5, 0.4, 0.6, 0.3, 0.7, 0.2, 0.8, 0.1, 0.9, 0.05, 0.95} {
		if p, _, ok := l.Along(l.Length() * share); ok && d.holds(d.at(p)) {
			return d.at(p), true
		}
	}
	return point{}, false
}

// nameIn writes a name in the middle of what is shown of an outline.
func (d *drawing) nameIn(ring []r2.Vec, words string) {
	if len(ring) < 3 || !d.shown(ring) {
		return
	}
	var b bounds
	for _, p := range ring {
		b.add(r2.Vec{X: max(d.low.X, min(d.high.X, p.X)), Y: max(d.low.Y, min(d.high.Y, p.Y))})
	}
	d.name(d.at(middle(b.low, b.high)), words)
}

const nameSize = 9.5

// name writes words near a place where there is room, else not at all.
func (d *drawing) name(at point, words string) {
	if !d.holds(at) || words == "" {
		return
	}
	words = cut(Clean(words), 40)
	width := textWidth(words, nameSize)
	if b := boxAt(at, width, nameSize+2); d.room.free(b) {
		d.room.take(b)
		d.text(at.x, at.y+3.3, "name halo", words, "text-anchor", "middle")
		return
	}
	if centre, ok := d.room.settle(at, width, nameSize+2, 2, 2, 8, 16, 26); ok {
		d.text(centre.x, centre.y+3.3, "name halo", words, "text-anchor", "middle")
	}
}
