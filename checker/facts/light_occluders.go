package facts

import (
	"math"

	"gonum.org/v1/gonum/spatial/r2"
	"gonum.org/v1/gonum/spatial/r3"

	"duskproof/checker/light"
	"duskproof/checker/plan"
)

// occluders lists everything on the site that throws a shadow, gates and doors
// left out: those are judged position by position.
func (j *join) occluders() []light.Occluder {
	s := j.plan.Site
	if s == nil {
		return nil
	}
	var out []light.Occluder
	for _, w := range s.Screens {
		for i := 1; i < len(w.Line); i++ {
			out = append(out, light.Wall{ID: w.ID, A: w.Line[i-1], B: w.Line[i], BaseM: w.ElevationM,
				TopM: w.ElevationM + w.HeightM, ThicknessM: w.ThicknessM, Transmission: w.Transmission})
		}
	}
	for _, b := range s.Buildings {
		out = append(out, light.Prism{ID: b.ID, Outline: b.Outline, BaseM: foundationM, TopM: b.HeightM})
	}
	for _, p := range s.Posts {
		out = append(out, light.Post{ID: p.ID, Centre: p.At, RadiusM: p.DiameterM / 2, BaseM: p.ElevationM, TopM: p.ElevationM + p.HeightM})
	}
	for _, l := range s.Leaves {
		if l.PostM != nil {
			for i, at := range LeafGeometry(l).Posts() {
				out = append(out, light.Post{ID: postName(l, i), Centre: at.At, RadiusM: *l.PostM / 2,
					BaseM: l.ElevationM, TopM: l.ElevationM + l.HeightM})
			}
		}
	}
	for _, t := range s.Trees {
		out = append(out, treeParts(t)...)
	}
	for _, st := range s.Stairs {
		out = append(out, stairParts(st)...)
	}
	for _, l := range s.Landings {
		out = append(out, light.Slab{ID: l.ID, Outline: l.Outline, TopM: l.ElevationM, ThicknessM: bodyOf(l), Openings: stairwells(s, l.Outline, l.ElevationM)})
	}
	for _, d := range s.Decks {
		out = append(out, light.Slab{ID: d.ID, Outline: d.Outline, TopM: d.ElevationM, Transmission: throughBoards(d), Openings: stairwells(s, d.Outline, d.ElevationM)})
	}
	for _, a := range s.Areas {
		if a.ElevationM != 0 {
			out = append(out, light.Slab{ID: a.ID, Outline: a.Outline, TopM: a.ElevationM, ThicknessM: a.ElevationM - foundationM, Openings: stairwells(s, a.Outline, a.ElevationM)})
		}
	}
	return out
}

// foundationM is the elevation from which buildings, terraces and landings stand:
// below any ground.
const foundationM = -100.0

// bodyOf is how thick a landing is: solid down to the ground, but for one of
// steps that can be seen through or are framed, which is a sheet.
func bodyOf(l *plan.Landing) float64 {
	if l.Stair != nil && (l.Stair.OpenRisers || framed(l.Stair.Material)) {
		return 0
	}
	return max(0, l.ElevationM-foundationM)
}

// stairwells are the outlines of the flights under a surface that come up to its
// level or through it. It is open above their treads, drawn so or not.
func stairwells(s *plan.Site, outline []r2.Vec, levelM float64) [][]r2.Vec {
	var out [][]r2.Vec
	over := polygonOf(outline).Bounds()
	for _, st := range s.Stairs {
		top, flight := st.BaseM+float64(st.Risers)*st.RiseM, stairOutline(st)
		if b := flight.Bounds(); st.BaseM < levelM && top > levelM-flushM && len(st.Treads) > 0 &&
			b.Min.X < over.Max.X && b.Max.X > over.Min.X && b.Min.Y < over.Max.Y && b.Max.Y > over.Min.Y {
			out = append(out, flight)
		}
	}
	return out
}

// framed reports whether steps of a material stand on a frame, open below.
func framed(material string) bool {
	return material == "timber" || material == "composite" || material == "metal"
}

// boardM is the width of a deck board where only the gap between boards is
// known (common practice, no source).
const boardM = 0.14

// throughBoards is the share of light that falls through the gaps of a deck, from
// above or from an uplight below it: that of the gaps in its area. The thickness
// of the boards takes more of what comes aslant.
func throughBoards(d *plan.Deck) float64 {
	if d.BoardGapM == nil || *d.BoardGapM <= 0 {
		return 0
	}
	return *d.BoardGapM / (*d.BoardGapM + boardM)
}

// treeParts are trunk and crown.
func treeParts(t *plan.Tree) []light.Occluder {
	trunkTop := t.BaseM
	if !t.HasCanopy || trunkTop <= 0 {
		trunkTop = math.Max(t.TopM/2, 1)
	}
	out := []light.Occluder{light.Post{ID: t.ID, Centre: t.At, RadiusM: t.TrunkM / 2, BaseM: t.ElevationM, TopM: t.ElevationM + trunkTop}}
	if t.HasCanopy {
		half := (t.TopM - t.BaseM) / 2
		out = append(out, light.Canopy{ID: t.ID, Centre: r3.Vec{X: t.At.X, Y: t.At.Y, Z: t.ElevationM + t.BaseM + half},
			RadiusM: t.RadiusM, HalfHeightM: half, Transmission: t.Transmission})
	}
	return out
}

// stairParts are the treads, and unless they are open the risers, and the two
// sides down to the ground: steps of stone are solid, and those on a frame have
// boards at their sides that carry them.
func stairParts(s *plan.Stair) []light.Occluder {
	var out []light.Occluder
	for _, t := range s.Treads {
		out = append(out, light.Slab{ID: s.ID, Outline: t.Outline[:], TopM: t.HeightM})
		if !s.OpenRisers {
			out = append(out, riser(s, t.Outline[0], t.Outline[1], t.HeightM),
				light.Wall{ID: s.ID, A: t.Outline[0], B: t.Outline[3], BaseM: s.BaseM, TopM: t.HeightM},
				light.Wall{ID: s.ID, A: t.Outline[1], B: t.Outline[2], BaseM: s.BaseM, TopM: t.HeightM})
		}
	}
	if n := len(s.Treads); n > 0 && !s.OpenRisers && s.Treads[n-1].HeightM < s.BaseM+float64(s.Risers)*s.RiseM-light.GrazeM {
		out = append(out, riser(s, s.HeadLeft, s.HeadRight, s.BaseM+float64(s.Risers)*s.RiseM))
	}
	return out
}

func riser(s *plan.Stair, left, right r2.Vec, top float64) light.Occluder {
	return light.Wall{ID: s.ID, A: left, B: right, BaseM: top - s.RiseM, TopM: top}
}
