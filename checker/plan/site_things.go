package plan

import (
	"math"

	"gonum.org/v1/gonum/spatial/r2"
)

// unstatedBuildingM is the height of a building that states none, in metres:
// higher than any light here.
const unstatedBuildingM = 100

// resolveUpright computes what stands up from the ground.
func (r *resolver) resolveUpright(e *SiteEntry, site *Site) {
	for i := range e.Gates {
		r.resolveLeaf(site.Leaves[i], &e.Gates[i])
	}
	for i := range e.Doors {
		leaf := site.Leaves[len(e.Gates)+i]
		leaf.Door = true
		r.resolveLeaf(leaf, &e.Doors[i])
	}
	screens := site.Screens
	for _, entries := range [][]ScreenEntry{e.Walls, e.Fences, e.Hedges} {
		for i := range entries {
			r.resolveScreen(screens[i], &entries[i])
		}
		screens = screens[len(entries):]
	}
	for i := range e.Posts {
		r.resolvePost(site.Posts[i], &e.Posts[i])
	}
	for i := range e.Trees {
		r.resolveTree(site.Trees[i], &e.Trees[i])
	}
	for i := range e.Windows {
		r.resolveWindow(site.Windows[i], &e.Windows[i])
	}
	for i := range e.Buildings {
		b, be := site.Buildings[i], &e.Buildings[i]
		s := spotOf(&b.Element)
		b.Outline = r.outlineOf(&b.Element, be.Outline)
		b.HeightM = or(r.size(s, "height", be.Height, Length), unstatedBuildingM)
		b.Whose, b.Cladding = orText(be.Whose, "own"), be.Cladding
	}
}

// place computes the position of a thing of the site; without one the thing is
// left out.
func (r *resolver) place(e *Element, key string, p *Position) r2.Vec {
	at := r.pointOf(e, key, p)
	r.leaveOut(e, at == nil)
	return or(at, r2.Vec{})
}

// need reads a length above 0 that a thing of the site cannot be without.
func (r *resolver) need(e *Element, key string, q Quantity) float64 {
	v := r.size(spotOf(e), key, q, Length)
	r.leaveOut(e, v == nil)
	return or(v, 0)
}

func (r *resolver) resolveLeaf(l *Leaf, e *LeafEntry) {
	s := spotOf(&l.Element)
	l.Hinge = r.place(&l.Element, "hinge", &e.Hinge)
	l.Title, l.ClosedBearing = e.Title, or(e.ClosedBearing, 0)
	l.LeafM = r.need(&l.Element, "leaf", e.Leaf)
	l.Towards, l.AngleDeg = e.Opens.Towards, or(e.Opens.Angle, 0)
	if e.Slides != nil {
		l.SlideBearing = e.Slides.Bearing
		l.TravelM = or(r.extent(s, "slides/travel", e.Slides.Travel), 0)
	}
	l.HeightM = or(r.size(s, "height", e.Height, Length), 0)
	l.GroundGapM = or(r.extent(s, "ground_gap", e.GroundGap), 0)
	l.ElevationM = r.leafLevel(l, r.length(s, "elevation", e.Elevation))
	l.Solid, l.HeldOpen = or(e.Solid, true), or(e.HeldOpen, false)
	l.PostM = r.size(s, "post_diameter", e.PostDiameter, Length)
	if l.HeightM > 0 && l.GroundGapM >= l.HeightM {
		r.conflict(s.key("ground_gap"), "a gap of %s below a leaf whose top is at %s leaves no leaf", r.text(l.GroundGapM), r.text(l.HeightM))
	}
}

// leafLevel is the level of the ground below a leaf: as stated, else that of the
// site in the middle of the closed leaf or at its hinge.
func (r *resolver) leafLevel(l *Leaf, stated *float64) float64 {
	if stated != nil || r.leftOut[&l.Element] {
		return or(stated, 0)
	}
	sin, cos := math.Sincos(l.ClosedBearing * math.Pi / 180)
	middle := r2.Add(l.Hinge, r2.Scale(l.LeafM/2, r2.Vec{X: sin, Y: cos}))
	level, known := r.groundAt(middle, nil)
	if !known {
		level, _ = r.groundAt(l.Hinge, nil)
	}
	return level
}

func (r *resolver) resolveScreen(c *Screen, e *ScreenEntry) {
	s := spotOf(&c.Element)
	c.Line = r.polyline(s.key("line"), e.Line, "the "+c.Kind)
	r.leaveOut(&c.Element, c.Line == nil)
	c.HeightM = r.need(&c.Element, "height", e.Height)
	c.ElevationM = or(r.length(s, "elevation", e.Elevation), 0)
	c.ThicknessM = or(r.extent(s, "thickness", e.Thickness), 0)
	c.Material, c.Transmission = e.Material, or(e.Transmission, 0)
}

func (r *resolver) resolvePost(p *Post, e *PostEntry) {
	p.At = r.place(&p.Element, "at", &e.At)
	p.DiameterM = r.need(&p.Element, "diameter", e.Diameter)
	p.HeightM = r.need(&p.Element, "height", e.Height)
	p.ElevationM = or(r.length(spotOf(&p.Element), "elevation", e.Elevation), 0)
}

func (r *resolver) resolveTree(t *Tree, e *TreeEntry) {
	s := spotOf(&t.Element)
	t.At = r.place(&t.Element, "at", &e.At)
	t.Title, t.Transmission = e.Title, or(e.Transmission, 0)
	t.TrunkM = or(r.extent(s, "trunk", e.Trunk), 0)
	t.ElevationM = or(r.length(s, "elevation", e.Elevation), 0)
	if c := e.Canopy; c != nil {
		base := r.extent(s, "canopy/base", c.Base)
		top := r.size(s, "canopy/top", c.Top, Length)
		radius := r.size(s, "canopy/radius", c.Radius, Length)
		t.BaseM, t.TopM, t.RadiusM = or(base, 0), or(top, 0), or(radius, 0)
		t.HasCanopy = base != nil && top != nil && radius != nil
		if t.HasCanopy && t.BaseM >= t.TopM {
			r.conflict(s.key("canopy"), "the crown begins at %s, not below its top at %s", r.text(t.BaseM), r.text(t.TopM))
			t.HasCanopy = false
		}
	}
	t.RootM = or(r.extent(s, "root_radius", e.RootRadius), t.RadiusM)
}

func (r *resolver) resolveWindow(w *Window, e *WindowEntry) {
	s := spotOf(&w.Element)
	line := r.polyline(s.key("line"), e.Line, "the window")
	if len(line) == 2 {
		w.Line = [2]r2.Vec{line[0], line[1]}
	}
	r.leaveOut(&w.Element, len(line) != 2)
	w.SillM, w.HeadM = or(r.length(s, "sill", e.Sill), 0), or(r.length(s, "head", e.Head), 0)
	w.Whose = e.Whose
	if e.Sill.Set && e.Head.Set && w.SillM >= w.HeadM {
		r.conflict(s.key("head"), "the head at %s is not above the sill at %s", r.text(w.HeadM), r.text(w.SillM))
	}
}

// resolveFlat computes what lies in the plane.
func (r *resolver) resolveFlat(e *SiteEntry, site *Site) {
	for i := range e.Beds {
		b, be := site.Beds[i], &e.Beds[i]
		b.Outline = r.outlineOf(&b.Element, be.Outline)
		b.Cover, b.Annuals = be.Cover, or(be.Annuals, false)
	}
	for i := range e.Lawns {
		l, le := site.Lawns[i], &e.Lawns[i]
		s := spotOf(&l.Element)
		l.Outline, l.Aerated = r.outlineOf(&l.Element, le.Outline), le.Aerated
		l.MowerStripM = r.extent(s, "mower_strip", le.MowerStrip)
	}
	for i := range e.Drives {
		d, de := site.Drives[i], &e.Drives[i]
		d.Kind, d.Surface = de.Kind, de.Surface
		d.Outline = r.outlineOf(&d.Element, de.Outline)
	}
	for i := range e.Water {
		w, we := site.Water[i], &e.Water[i]
		w.Kind, w.Outline = we.Kind, r.outlineOf(&w.Element, we.Outline)
	}
	for i := range e.Services {
		v, ve := site.Services[i], &e.Services[i]
		s := spotOf(&v.Element)
		v.Kind, v.Located, v.Private = ve.Kind, ve.Located, ve.Private
		v.Route = r.polyline(s.key("route"), ve.Route, "the line")
		r.leaveOut(&v.Element, v.Route == nil)
		v.DepthM = r.extent(s, "depth", ve.Depth)
	}
	if len(e.PropertyLine) > 0 {
		site.PropertyLine = r.outline(sectionSpot("property_line", "/site/property_line"), e.PropertyLine)
	}
}
