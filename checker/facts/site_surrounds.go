package facts

import (
	"context"
	"math"

	"gonum.org/v1/gonum/spatial/r2"

	"duskproof/checker/plan"
	"duskproof/checker/site"
)

// farthestCombustible bounds how far away a thing that burns is listed.
const farthestCombustible = 3.0 // m

// burnsOnGround reports whether what lies on the ground burns.
func burnsOnGround(cover string) bool {
	return cover == "mulch" || cover == "bark" || cover == "leaves" || cover == "timber"
}

// burnsUnderfoot reports whether a surface that people walk on burns.
func burnsUnderfoot(material string) bool {
	return material == "timber" || material == "composite" || material == "bark"
}

// surrounds says what lies round each fixture, what it is mounted on, and how
// near the next thing that burns is.
func (j *join) surrounds(ctx context.Context) error {
	s := j.plan.Site
	for _, f := range j.plan.Fixtures {
		if err := ctx.Err(); err != nil {
			return err
		}
		out := j.fixtures[f.ID]
		out.InEarth = inEarth(f)
		if f.At == nil {
			continue
		}
		for _, i := range j.near.beds.NearPoint(*f.At, 0) {
			if b := s.Beds[i]; out.Surround == "" && b.Cover != "" && polygonOf(b.Outline).Contains(*f.At) {
				out.Surround = b.Cover
			}
		}
		for _, i := range j.near.decks.NearPoint(*f.At, 0) {
			d := s.Decks[i]
			if polygonOf(d.Outline).Contains(*f.At) && (f.Mount == "under-deck" || f.GroundM+height(f) < d.ElevationM-site.TouchM) {
				out.UnderDeck, out.UnderDeckBurns = d.ID, burnsUnderfoot(d.Material)
			}
		}
		c := combustibles{plan: f, fact: out, site: s, near: &j.near, at: *f.At, z: height(f)}
		c.ground()
		c.built()
		c.upright()
	}
	return nil
}

// height is the light centre above what the fixture stands on; nought where it
// is not stated.
func height(f *plan.Fixture) float64 {
	if f.HeightM == nil {
		return 0
	}
	return *f.HeightM
}

// combustibles looks for what burns round one fixture.
type combustibles struct {
	plan *plan.Fixture
	fact *Fixture
	site *plan.Site
	near *siteIndex
	at   r2.Vec
	z    float64 // light centre above the ground
}

// called names a thing by its kind and its id, and does not say the same word
// twice.
func called(kind, id string) string {
	if kind == id {
		return kind
	}
	return kind + " " + id
}

// note keeps the nearest, given how far away it is on the ground and in height.
// Of what the fixture is mounted on it keeps only the name.
func (c *combustibles) note(id, what string, away, above float64) {
	if id != "" && c.plan.Host == id {
		c.fact.HostBurns = what
		return
	}
	d := math.Hypot(math.Max(0, away), above)
	if d <= farthestCombustible && (c.fact.NearestCombustibleM == nil || d < *c.fact.NearestCombustibleM) {
		c.fact.NearestCombustibleM, c.fact.NearestCombustible = ptr(d), what
	}
}

// ground notes what lies on the ground. What the plan says of the fixture's own
// surround goes before the bed that it stands in: gravel round it keeps the
// bed's mulch away, by a distance that nobody states.
func (c *combustibles) ground() {
	s := c.site
	if burnsOnGround(c.fact.Surround) {
		c.note("", c.fact.Surround, 0, c.z)
	}
	for _, i := range c.near.beds.NearPoint(c.at, farthestCombustible) {
		b := s.Beds[i]
		away := polygonOf(b.Outline).Distance(c.at)
		if burnsOnGround(b.Cover) && (away > 0 || c.plan.Surround == "") {
			c.note("", b.Cover+" in "+b.ID, away, c.z)
		}
	}
	for _, i := range c.near.paths.NearPoint(c.at, farthestCombustible) {
		if p := s.Paths[i]; burnsUnderfoot(p.Surface) {
			c.note(p.ID, p.Surface+" of "+p.ID, pathStrip(p).Distance(c.at), c.z)
		}
	}
	for _, i := range c.near.areas.NearPoint(c.at, farthestCombustible) {
		if a := s.Areas[i]; burnsUnderfoot(a.Surface) {
			c.note(a.ID, a.Surface+" of "+a.ID, polygonOf(a.Outline).Distance(c.at), c.z)
		}
	}
}

// built notes decks and steps. A fixture on a deck, and one let into its
// boards or into a step, is mounted on it.
func (c *combustibles) built() {
	s := c.site
	for _, i := range c.near.decks.NearPoint(c.at, farthestCombustible) {
		d := s.Decks[i]
		if !burnsUnderfoot(d.Material) {
			continue
		}
		away := polygonOf(d.Outline).Distance(c.at)
		above := math.Abs(d.ElevationM - c.plan.GroundM - c.z)
		what := d.Material + " " + called("deck", d.ID)
		if away <= site.TouchM && c.plan.Host == "" && c.fact.UnderDeck != d.ID && math.Abs(d.ElevationM-c.plan.GroundM) <= edgeM {
			c.fact.HostBurns = what
			continue
		}
		c.note(d.ID, what, away, above)
	}
	for _, i := range c.near.stairs.NearPoint(c.at, farthestCombustible) {
		st := s.Stairs[i]
		if !burnsUnderfoot(st.Material) {
			continue
		}
		away, what := stairOutline(st).Distance(c.at), st.Material+" "+called("steps", st.ID)
		if away <= edgeM && (c.plan.Mount == "riser" || c.plan.Mount == "tread") {
			c.fact.HostBurns = what
			continue
		}
		c.note(st.ID, what, away, 0)
	}
}

// upright notes fences, hedges, cladding and trunks, as high as they reach.
func (c *combustibles) upright() {
	s, light := c.site, c.plan.GroundM+c.z
	over := func(topM float64) float64 { return math.Max(0, light-topM) }
	for _, i := range c.near.screens.NearPoint(c.at, farthestCombustible) {
		w := s.Screens[i]
		away := site.PointLine(c.at, site.Line(w.Line)).M - w.ThicknessM/2
		switch {
		case w.Kind == "hedge" || w.Material == "plants":
			c.note(w.ID, called("hedge", w.ID), away, over(w.ElevationM+w.HeightM))
		case w.Material == "timber":
			c.note(w.ID, "timber "+called(w.Kind, w.ID), away, over(w.ElevationM+w.HeightM))
		}
	}
	for _, i := range c.near.buildings.NearPoint(c.at, farthestCombustible) {
		if b := s.Buildings[i]; b.Cladding == "timber" || b.Cladding == "vinyl" {
			c.note(b.ID, b.Cladding+" cladding of "+b.ID, polygonOf(b.Outline).Distance(c.at), over(b.HeightM))
		}
	}
	for _, i := range c.near.trunks.NearPoint(c.at, farthestCombustible) {
		t := s.Trees[i]
		c.note(t.ID, "trunk of "+t.ID, trunk(t).Distance(c.at), 0)
	}
}

// powerPlaces says how the transformers stand: how far from their receptacles,
// and how deep snow and water may come, above the ground where they are.
func (j *join) powerPlaces() {
	s := j.plan.Site
	for i, t := range j.plan.Transformers {
		out := &j.doc.Transformers[i]
		out.SnowM, out.FloodM = s.SnowM, s.FloodM
		if t.At != nil && s.FloodM != nil {
			out.FloodM = ptr(*s.FloodM - j.plan.GroundAt(*t.At))
		}
	}
}

// cords measures the way from each transformer to its receptacle.
func (j *join) cords() {
	for i, t := range j.plan.Transformers {
		j.cord(&j.doc.Transformers[i], t)
		j.ownCord(&j.doc.Transformers[i])
	}
}

// ownCord takes a cord that reaches, or whose way is not known, as proof that
// no extension cord is used, where the plan does not say.
func (j *join) ownCord(t *Transformer) {
	reaches := t.CordM != nil && (t.CordNeededM == nil || *t.CordM >= *t.CordNeededM)
	if t.Extension == nil && t.Receptacle != "" && reaches {
		t.Extension = ptr(false)
	}
}

func (j *join) cord(out *Transformer, t *plan.Transformer) {
	r := t.Receptacle
	if r == nil || t.At == nil || r.At == nil {
		return
	}
	up, down := 0.0, 0.0
	if t.HeightM != nil && r.HeightM != nil {
		up, down = *t.HeightM, *r.HeightM
	}
	out.CordNeededM = ptr(site.CordReach(*t.At, up, *r.At, down, 0).NeedM)
}
