package facts

import (
	"fmt"
	"math"

	"gonum.org/v1/gonum/spatial/r2"
	"gonum.org/v1/gonum/spatial/r3"

	"duskproof/checker/light"
	"duskproof/checker/plan"
	"duskproof/checker/site"
)

// hostReachM is how near to the face of a thing a fixture is that is stated to
// be mounted on such a thing, without saying on which.
const hostReachM = 0.3

// hostOf is the id of what a fixture is mounted on or let into: as stated, else
// the nearest thing of the kind that its mount names, else what it stands
// inside of. A thing never shadows the side from which its own fixture shines.
func (j *join) hostOf(f *plan.Fixture) string {
	s := j.plan.Site
	if s == nil || f.At == nil {
		return f.Host
	}
	if f.Host != "" {
		return leafPost(s, f)
	}
	var near nearestHost
	switch f.Mount {
	case "riser", "tread":
		near.stairs(s, *f.At)
	case "wall":
		near.walls(s, *f.At)
	case "post":
		near.posts(s, *f.At)
	case "tree":
		near.trees(s, *f.At)
	case "deck", "under-deck", "rail":
		near.decks(s, *f.At)
	}
	if near.id == "" {
		near.inside(s, *f.At, f.GroundM+height(f))
	}
	return near.id
}

// leafPost is the stated host; for a fixture on the post of a gate, the post.
func leafPost(s *plan.Site, f *plan.Fixture) string {
	for _, l := range s.Leaves {
		if l.ID == f.Host && l.PostM != nil {
			near := nearestHost{}
			near.leafPosts(l, *f.At)
			if near.id != "" {
				return near.id
			}
		}
	}
	return f.Host
}

// nearestHost keeps the nearest of the things offered.
type nearestHost struct {
	id   string
	gapM float64
}

func (n *nearestHost) offer(id string, gapM, reachM float64) {
	if site.Known(gapM) && gapM <= reachM && (n.id == "" || gapM < n.gapM) {
		n.id, n.gapM = id, gapM
	}
}

func (n *nearestHost) stairs(s *plan.Site, at r2.Vec) {
	for _, st := range s.Stairs {
		n.offer(st.ID, site.Polygon{st.FootLeft, st.FootRight, st.HeadRight, st.HeadLeft}.Distance(at), hostReachM)
	}
}

func (n *nearestHost) walls(s *plan.Site, at r2.Vec) {
	for _, w := range s.Screens {
		_, gap := nearestOn(w.Line, at)
		n.offer(w.ID, gap-w.ThicknessM/2, hostReachM)
	}
	for _, b := range s.Buildings {
		n.offer(b.ID, polygonOf(b.Outline).Distance(at), hostReachM)
	}
}

func (n *nearestHost) posts(s *plan.Site, at r2.Vec) {
	for _, p := range s.Posts {
		n.offer(p.ID, r2.Norm(r2.Sub(at, p.At))-p.DiameterM/2, hostReachM)
	}
	for _, l := range s.Leaves {
		n.leafPosts(l, at)
	}
}

func (n *nearestHost) leafPosts(l *plan.Leaf, at r2.Vec) {
	if l.PostM == nil {
		return
	}
	for i, p := range LeafGeometry(l).Posts() {
		n.offer(postName(l, i), r2.Norm(r2.Sub(at, p.At))-*l.PostM/2, hostReachM)
	}
}

// postName names the posts of a gate, which have no id of their own.
func postName(l *plan.Leaf, i int) string { return fmt.Sprintf("%s post %d", l.ID, i+1) }

func (n *nearestHost) trees(s *plan.Site, at r2.Vec) {
	for _, t := range s.Trees {
		n.offer(t.ID, r2.Norm(r2.Sub(at, t.At)), math.Max(t.RadiusM, t.TrunkM/2+hostReachM))
	}
}

func (n *nearestHost) decks(s *plan.Site, at r2.Vec) {
	for _, d := range s.Decks {
		n.offer(d.ID, polygonOf(d.Outline).Distance(at), hostReachM)
	}
}

// inside takes what a place at elevation z lies inside of: a drawing is not so
// exact that a lamp at the face of a wall is never a little behind it.
func (n *nearestHost) inside(s *plan.Site, at r2.Vec, z float64) {
	for _, w := range s.Screens {
		if z >= w.ElevationM+w.HeightM || !boxHolds(w.Line, at, w.ThicknessM/2) {
			continue
		}
		_, gap := nearestOn(w.Line, at)
		n.offer(w.ID, gap, w.ThicknessM/2)
	}
	for _, b := range s.Buildings {
		if z < b.HeightM && polygonOf(b.Outline).Contains(at) {
			n.offer(b.ID, 0, 0)
		}
	}
	for _, l := range s.Landings {
		if z < l.ElevationM-light.GrazeM && bodyOf(l) > 0 && polygonOf(l.Outline).Contains(at) {
			n.offer(l.ID, 0, 0)
		}
	}
	for _, a := range s.Areas {
		if a.ElevationM != 0 && z < a.ElevationM-light.GrazeM && polygonOf(a.Outline).Contains(at) {
			n.offer(a.ID, 0, 0)
		}
	}
	for _, p := range s.Posts {
		if z < p.ElevationM+p.HeightM {
			n.offer(p.ID, r2.Norm(r2.Sub(at, p.At)), p.DiameterM/2)
		}
	}
	for _, t := range s.Trees {
		n.offer(t.ID, r2.Norm(r2.Sub(at, t.At)), t.TrunkM/2)
	}
}

// nearestOn is the nearest point of a line, and how far away that is.
func nearestOn(line []r2.Vec, at r2.Vec) (near r2.Vec, gapM float64) {
	g := site.PointLine(at, site.Line(line))
	return g.B, g.M
}

// boxHolds reports whether a point lies within reach of the box round a line: a
// quick no for most lines.
func boxHolds(line []r2.Vec, at r2.Vec, reachM float64) bool {
	left, right, below, above := false, false, false, false
	for _, p := range line {
		left, right = left || p.X <= at.X+reachM, right || p.X >= at.X-reachM
		below, above = below || p.Y <= at.Y+reachM, above || p.Y >= at.Y-reachM
	}
	return left && right && below && above
}

// outwardAt is the unit vector out of an outline at the edge nearest to a point.
func outwardAt(outline []r2.Vec, near r2.Vec) (normal r2.Vec, ok bool) {
	ring := polygonOf(outline)
	edge := ring.Nearest(near).Edge
	if edge < 0 {
		return r2.Vec{}, false
	}
	side := r2.Sub(ring.Edge(edge).B, ring.Edge(edge).A)
	n := r2.Norm(side)
	if n == 0 {
		return r2.Vec{}, false
	}
	normal = r2.Vec{X: side.Y / n, Y: -side.X / n}
	if !ring.Anticlockwise() {
		normal = r2.Scale(-1, normal)
	}
	return normal, true
}

// atFace is where a thing on a house or wall is that is drawn a little inside it:
// just before the nearest face.
func (j *join) atFace(at r2.Vec, z float64) r2.Vec {
	if j.plan.Site == nil {
		return at
	}
	for _, b := range j.plan.Site.Buildings {
		normal, ok := outwardAt(b.Outline, at)
		if ok && z < b.HeightM && polygonOf(b.Outline).Contains(at) {
			face, _ := nearestOn(append(b.Outline[:len(b.Outline):len(b.Outline)], b.Outline[0]), at)
			return r2.Add(face, r2.Scale(proudM, normal))
		}
	}
	for _, w := range j.plan.Site.Screens {
		face, gap := nearestOn(w.Line, at)
		if gap > 0 && gap < w.ThicknessM/2 && z < w.ElevationM+w.HeightM {
			return r2.Add(face, r2.Scale((w.ThicknessM/2+proudM)/gap, r2.Sub(at, face)))
		}
	}
	return at
}

// proudM is how far before the face of a riser a light in it shines from.
const proudM = 0.002

// intoRiser moves a light that is mounted in a riser to the face of that riser:
// the one at whose foot it is. A plan may place it by the tread in front.
func (j *join) intoRiser(f *plan.Fixture, l *light.Luminaire) {
	if f.Mount != "riser" || f.At == nil || j.plan.Site == nil {
		return
	}
	for _, s := range j.plan.Site.Stairs {
		if s.ID != l.Host || s.RiseM <= 0 {
			continue
		}
		k := math.Round((f.GroundM - s.BaseM) / s.RiseM)
		k = math.Min(math.Max(k, 0), float64(s.Risers-1))
		share := 0.0
		if s.Risers > 1 {
			share = k / float64(s.Risers-1)
		}
		left := r2.Add(s.FootLeft, r2.Scale(share, r2.Sub(s.HeadLeft, s.FootLeft)))
		right := r2.Add(s.FootRight, r2.Scale(share, r2.Sub(s.HeadRight, s.FootRight)))
		face, _ := nearestOn([]r2.Vec{left, right}, *f.At)
		face = r2.Sub(face, r2.Scale(proudM, upOf(s)))
		l.At = r3.Vec{X: face.X, Y: face.Y, Z: l.At.Z}
	}
}
