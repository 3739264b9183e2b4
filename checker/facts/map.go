package facts

import (
	"cmp"
	"context"
	"fmt"
	"io/fs"
	"math"
	"slices"

	"gonum.org/v1/gonum/spatial/r2"
	"gonum.org/v1/gonum/spatial/r3"

	"duskproof/checker/light"
	"duskproof/checker/plan"
	"duskproof/checker/site"
)

// LightMap is the light on what people walk on, in square cells, for drawings.
// Rules judge the finer points of treads and paths, not the map.
type LightMap struct {
	// Scenes are the ids of the scenes in use, in the order of the plan.
	Scenes []string
	// Surfaces are treads, landings, paths, decks and terraces that are meant
	// to be lit.
	Surfaces []LitSurface
}

// LitSurface is one surface of a map.
type LitSurface struct {
	// ID is the tread's, landing's, path's, deck's or terrace's id.
	ID string
	// CellM is the side of a cell. Cell (0, 0) has its south-west corner at the
	// origin of the plan.
	CellM float64
	// Cells are in order of row, then column. They cover the surface and reach
	// a little beyond its edge, where they have the light at the edge.
	Cells []LitCell
	// Lux is horizontal illuminance by scene, then cell.
	Lux [][]float64
}

// LitCell is the place of one cell.
type LitCell struct{ Column, Row int }

const (
	// leastCellM is the side of the smallest cell: finer is beyond what a
	// drawing shows.
	leastCellM = 0.1
	// cellsOnTread is how many cells at least fit in the depth of a tread.
	cellsOnTread = 3
	// beyondEdge is how far beyond an edge, in cells, a cell still covers part
	// of the surface: half a diagonal.
	beyondEdge = 0.71
)

// MapLight lights a plan again for a drawing, with at most about mostCells
// cells. doc are the facts of the plan, and files is its own folder. A plan
// without a site has an empty map.
func MapLight(ctx context.Context, p *plan.Plan, doc *Document, files fs.FS, mostCells int) (*LightMap, error) {
	out := &LightMap{}
	if p.Site == nil || mostCells <= 0 {
		return out, nil
	}
	j := newJoin(Input{Plan: p, Limits: doc.Limits, Cautions: doc.Cautions, Profiles: doc.Profiles, Files: files, Today: doc.Today})
	for _, step := range []func(context.Context) error{j.wire, j.site} {
		if err := step(ctx); err != nil {
			return nil, fmt.Errorf("map of light: %w", err)
		}
	}
	lit, err := j.newLighting()
	if err != nil {
		return nil, fmt.Errorf("map of light: %w", err)
	}
	for i := range lit.scenes {
		if lit.scenes[i].InUse {
			out.Scenes = append(out.Scenes, lit.scenes[i].ID)
		}
	}
	for _, s := range walkedSurfaces(p.Site) {
		cells, points := s.cells(math.Sqrt(walkedArea(p.Site) / float64(mostCells)))
		field, err := lit.eval.Evaluate(ctx, points)
		if err != nil {
			return nil, fmt.Errorf("map of light on %s: %w", s.id, err)
		}
		surface := LitSurface{ID: s.id, CellM: s.cellM, Cells: cells}
		for i := range lit.scenes {
			if lit.scenes[i].InUse {
				surface.Lux = append(surface.Lux, field.Lux(lit.scenes[i].levels))
			}
		}
		out.Surfaces = append(out.Surfaces, surface)
	}
	return out, nil
}

// walkedSurface is a surface to be cut into cells: an outline at one level, or
// a strip along a line.
type walkedSurface struct {
	id      string
	outline site.Polygon
	levelM  float64
	path    *plan.Path
	finestM float64 // the cell wanted, whatever the size of the plan; 0 for none
	cellM   float64 // the cell taken
}

func walkedSurfaces(s *plan.Site) []walkedSurface {
	var out []walkedSurface
	for _, p := range s.Paths {
		if p.Lit {
			out = append(out, walkedSurface{id: p.ID, path: p})
		}
	}
	for _, a := range s.Areas {
		if a.Lit && a.Kind == "terrace" {
			out = append(out, walkedSurface{id: a.ID, outline: polygonOf(a.Outline), levelM: a.ElevationM})
		}
	}
	for _, d := range s.Decks {
		if d.Lit {
			out = append(out, walkedSurface{id: d.ID, outline: polygonOf(d.Outline), levelM: d.ElevationM})
		}
	}
	for _, l := range s.Landings {
		if l.Lit {
			out = append(out, walkedSurface{id: l.ID, outline: polygonOf(l.Outline), levelM: l.ElevationM})
		}
	}
	for _, st := range s.Stairs {
		for i := 0; i < len(st.Treads) && st.Lit; i++ {
			t := &st.Treads[i]
			out = append(out, walkedSurface{id: t.ID, outline: polygonOf(t.Outline[:]), levelM: t.HeightM, finestM: st.GoingM / cellsOnTread})
		}
	}
	return out
}

// walkedArea is the area of all surfaces in square metres.
func walkedArea(s *plan.Site) float64 {
	area := 0.0
	for _, w := range walkedSurfaces(s) {
		if w.path != nil {
			area += site.Line(w.path.Centreline).Length() * w.path.WidthM
			continue
		}
		area += w.outline.Area()
	}
	return area
}

// cells cuts a surface into cells of a size, and gives the point at which each
// is lit: its middle, or the nearest point of the surface.
func (w *walkedSurface) cells(cellM float64) ([]LitCell, []light.Point) {
	w.cellM = max(cellM, leastCellM)
	if w.finestM > 0 {
		w.cellM = max(min(w.cellM, w.finestM), leastCellM)
	}
	found := map[LitCell]r3.Vec{}
	if w.path == nil {
		w.gather(found, w.outline.Bounds(), func(p r2.Vec) (r3.Vec, bool) {
			edge := w.outline.Nearest(p)
			if edge.M > 0 {
				p = edge.At
			}
			return r3.Vec{X: p.X, Y: p.Y, Z: w.levelM}, edge.M <= beyondEdge*w.cellM
		})
	} else {
		w.alongPath(found)
	}
	cells := make([]LitCell, 0, len(found))
	for c := range found {
		cells = append(cells, c)
	}
	slices.SortFunc(cells, func(a, b LitCell) int { return cmp.Or(cmp.Compare(a.Row, b.Row), cmp.Compare(a.Column, b.Column)) })
	points := make([]light.Point, len(cells))
	for i, c := range cells {
		points[i] = light.Point{At: found[c], Normal: light.Up}
	}
	return cells, points
}

// alongPath gathers the cells of each piece of a path. Where two pieces meet,
// the first has the cell.
func (w *walkedSurface) alongPath(found map[LitCell]r3.Vec) {
	line, half := walked(w.path), w.path.WidthM/2
	for i := 1; i < len(line); i++ {
		a, b := line[i-1], line[i]
		way := site.Line{{X: a.X, Y: a.Y}, {X: b.X, Y: b.Y}}
		box := way.Bounds()
		box.Min, box.Max = r2.Sub(box.Min, r2.Vec{X: half, Y: half}), r2.Add(box.Max, r2.Vec{X: half, Y: half})
		w.gather(found, box, func(p r2.Vec) (r3.Vec, bool) {
			at, ok := way.Locate(p)
			if !ok || at.OffsetM > half+beyondEdge*w.cellM {
				return r3.Vec{}, false
			}
			if at.OffsetM > half {
				p = r2.Add(at.Foot, r2.Scale(half/at.OffsetM, r2.Sub(p, at.Foot)))
			}
			return r3.Vec{X: p.X, Y: p.Y, Z: a.Z + (b.Z-a.Z)*at.StationM/way.Length()}, true
		})
	}
}

// gather adds the cells of a box whose middle lies on the surface or near it.
func (w *walkedSurface) gather(found map[LitCell]r3.Vec, box r2.Box, lit func(r2.Vec) (r3.Vec, bool)) {
	if !site.Usable(box.Min, box.Max) {
		return
	}
	first := LitCell{int(math.Floor(box.Min.X / w.cellM)), int(math.Floor(box.Min.Y / w.cellM))}
	last := LitCell{int(math.Floor(box.Max.X / w.cellM)), int(math.Floor(box.Max.Y / w.cellM))}
	for row := first.Row; row <= last.Row; row++ {
		for column := first.Column; column <= last.Column; column++ {
			cell := LitCell{column, row}
			if _, have := found[cell]; have {
				continue
			}
			if at, ok := lit(r2.Vec{X: (float64(column) + 0.5) * w.cellM, Y: (float64(row) + 0.5) * w.cellM}); ok {
				found[cell] = at
			}
		}
	}
}
