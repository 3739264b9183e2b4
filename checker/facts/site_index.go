package facts

import (
	"gonum.org/v1/gonum/spatial/r2"

	"duskproof/checker/plan"
	"duskproof/checker/site"
)

// siteIndex finds things of the site by place, so that a leg or a fixture is
// held against what is near it and not against the whole site. Numbers are
// places in the plan's own lists, and come in that order.
type siteIndex struct {
	services, screens                        *site.Grid // along their lines
	roots, trunks                            *site.Grid // of trees
	paths, stairs, decks, areas, beds, lawns *site.Grid
	buildings, water                         *site.Grid
}

// indexCellM is the size of the cells, in metres: about that of a bed.
const indexCellM = 5

// boxes puts the boxes of some things into a grid.
func boxes[T any](things []T, box func(T) r2.Box) *site.Grid {
	g := site.NewGrid(indexCellM)
	for i, t := range things {
		g.Add(i, box(t))
	}
	return g
}

// lines puts some lines into a grid, each with the half of its thickness.
func lines[T any](things []T, line func(T) ([]r2.Vec, float64)) *site.Grid {
	g := site.NewGrid(indexCellM)
	for i, t := range things {
		points, halfM := line(t)
		g.AddLine(i, points, halfM)
	}
	return g
}

// newSiteIndex indexes a site; rootFactor is the profile's, for root zones.
func newSiteIndex(s *plan.Site, rootFactor float64) siteIndex {
	outline := func(points []r2.Vec) r2.Box { return polygonOf(points).Bounds() }
	return siteIndex{
		services:  lines(s.Services, func(v *plan.Service) ([]r2.Vec, float64) { return v.Route, 0 }),
		screens:   lines(s.Screens, func(w *plan.Screen) ([]r2.Vec, float64) { return w.Line, w.ThicknessM / 2 }),
		roots:     boxes(s.Trees, func(t *plan.Tree) r2.Box { return roots(t, rootFactor).Bounds() }),
		trunks:    boxes(s.Trees, func(t *plan.Tree) r2.Box { return trunk(t).Bounds() }),
		buildings: boxes(s.Buildings, func(b *plan.Building) r2.Box { return outline(b.Outline) }),
		decks:     boxes(s.Decks, func(d *plan.Deck) r2.Box { return outline(d.Outline) }),
		beds:      boxes(s.Beds, func(b *plan.Bed) r2.Box { return outline(b.Outline) }),
		lawns:     boxes(s.Lawns, func(l *plan.Lawn) r2.Box { return outline(l.Outline) }),
		areas:     boxes(s.Areas, func(a *plan.Area) r2.Box { return outline(a.Outline) }),
		stairs:    boxes(s.Stairs, func(t *plan.Stair) r2.Box { return stairOutline(t).Bounds() }),
		water:     boxes(s.Water, func(w *plan.Water) r2.Box { return outline(w.Outline) }),
		paths:     boxes(s.Paths, func(p *plan.Path) r2.Box { return pathStrip(p).Bounds() }),
	}
}

// roots is a tree's root zone. The factor of the profile is over the crown, and
// does not widen a radius that the plan states.
func roots(t *plan.Tree, factor float64) site.Disc {
	if t.RootM == t.RadiusM {
		return site.Disc{Centre: t.At, RadiusM: t.RootM * factor}
	}
	return site.Disc{Centre: t.At, RadiusM: t.RootM}
}

func trunk(t *plan.Tree) site.Disc { return site.Disc{Centre: t.At, RadiusM: t.TrunkM / 2} }

func pathStrip(p *plan.Path) site.Strip {
	return site.Strip{Centreline: site.Line(p.Centreline), WidthM: p.WidthM}
}
