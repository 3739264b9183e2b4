package facts

import (
	"math"
	"slices"
	"strings"

	"duskproof/checker/plan"
	"duskproof/checker/site"
)

// pieces cuts every leg by the surfaces above it and asks the profile's cover
// table for each piece.
func (j *join) pieces() {
	table := j.coverTable()
	j.doc.Pieces = slices.Grow(j.doc.Pieces, 3*len(j.doc.Legs)/2)
	for _, run := range j.plan.Runs {
		for _, leg := range run.Legs {
			j.piecesOf(leg, table)
		}
	}
}

func (j *join) piecesOf(leg *plan.Leg, table site.CoverTable) {
	cut := j.cut(leg)
	length := cut[len(cut)-1].To
	for _, p := range cut {
		out := Piece{ID: leg.ID, FromM: p.From, ToM: p.To, Above: p.Kinds, Over: p.Above, CoverM: leg.CoverM, Method: leg.Method}
		out.Exempt = j.exempt(leg, p.Span, length)
		out.Paved, out.Hard = j.paved(leg, p.Above), j.hard(p.Above)
		out.Sleeved = sleeved(leg, &out)
		j.require(&out, leg, p, table)
		j.doc.Pieces = append(j.doc.Pieces, out)
	}
}

// cut is a leg in pieces. One whose way is not known is one piece in the open,
// as long as the plan says.
func (j *join) cut(leg *plan.Leg) []site.Piece {
	line := site.Line(leg.Route)
	var out []site.Piece
	for _, p := range j.ground.surfaces.Cut(line) {
		p.Above = slices.DeleteFunc(slices.Clone(p.Above), func(id string) bool {
			c := j.ground.covering[id]
			return !isDrive(c.kind) && deepest(p.Line, c.region) <= edgeM
		})
		if n := len(out); n > 0 && slices.Equal(out[n-1].Above, p.Above) {
			out[n-1].To, out[n-1].Line = p.To, line.Part(out[n-1].From, p.To)
			continue
		}
		p.Kinds = j.kinds(p.Above)
		out = append(out, p)
	}
	if out == nil {
		out = []site.Piece{{}}
		if leg.LengthM != nil {
			out[0].To = *leg.LengthM
		}
	}
	return out
}

func (j *join) kinds(ids []string) []string {
	var out []string
	for _, id := range ids {
		out = append(out, j.ground.covering[id].kind)
	}
	slices.Sort(out)
	return slices.Compact(out)
}

// exempt reports whether a piece needs no cover: the leg is not in the ground,
// or the piece lies within the short rise to a fixture, hub or transformer.
func (j *join) exempt(leg *plan.Leg, p site.Span, length float64) bool {
	if !inGround(leg.Method) {
		return true
	}
	rise := j.limit("earth.rise_exempt_m", 0) + site.TouchM
	if length <= 0 {
		return false // not known
	}
	return j.rises(leg.From) && p.To <= rise || j.rises(leg.To) && p.From >= length-rise
}

// rises reports whether cable comes up out of the ground at an end.
func (j *join) rises(end string) bool {
	n := j.planNode[end]
	if n == nil {
		return true
	}
	return n.Place != "buried" && (n.Place != "" || n.Kind == "hub")
}

// paved reports whether what lies above cannot be lifted by hand; nil where
// that is not known.
func (j *join) paved(leg *plan.Leg, above []string) *bool {
	if len(leg.Route) < 2 && j.plan.Site != nil && len(j.plan.Site.Drives) > 0 {
		return nil
	}
	known := true
	for _, id := range above {
		switch j.ground.covering[id].paving {
		case paved:
			return ptr(true)
		case pavingUnknown:
			known = false
		}
	}
	if !known {
		return nil
	}
	return ptr(false)
}

// hard lists the drives and the paving among some surfaces.
func (j *join) hard(above []string) []string {
	var out []string
	for _, id := range above {
		if c := j.ground.covering[id]; isDrive(c.kind) || c.paving == paved && c.kind != "building" {
			out = append(out, id)
		}
	}
	return out
}

// sleeved reports whether a sleeve covers a piece: the whole leg, or the
// crossings under paving, vehicles and buildings.
func sleeved(leg *plan.Leg, p *Piece) bool {
	if leg.Sleeve == nil {
		return leg.Method == "sleeved"
	}
	if leg.Sleeve.Where != "crossings" {
		return true
	}
	return len(p.Hard) > 0 || slices.ContainsFunc(p.Above, func(kind string) bool {
		return kind == "path" || kind == "terrace" || kind == "building"
	})
}

// sleevedWhole reports whether a sleeve covers all of a leg.
func sleevedWhole(leg *plan.Leg) bool {
	return hasSleeve(leg) && (leg.Sleeve == nil || leg.Sleeve.Where != "crossings")
}

// hasSleeve reports whether a leg has a sleeve, if only where it crosses paving,
// drives, walls and buildings.
func hasSleeve(leg *plan.Leg) bool { return leg.Sleeve != nil || leg.Method == "sleeved" }

// Rows of the profile's cover table.
const (
	rowOpen     = "all"
	rowBuilding = "under-building"
	rowSlab     = "under-slab"
)

// driveRows are the rows of the cover table for each kind of drive: only the
// drive of one or two dwellings has the lesser one.
var driveRows = map[string]string{"home": "home-drive", "shared": "street", "street": "street", "parking": "street"}

// coverTable is the profile's table of least covers; nil where it has none.
func (j *join) coverTable() site.CoverTable {
	limit := j.limits["earth.cover"]
	if limit == nil {
		return nil
	}
	listed := j.limits["earth.listed_depth_allowed"]
	table := site.CoverTable{}
	for _, row := range limit.Table {
		raceway := row.Value
		if m, ok := j.row("earth.cover_sleeved", row.Key); ok {
			raceway = m
		}
		table[site.RowKey(row.Key)] = site.CoverRow{
			DirectM: row.Value, RacewayM: raceway, RacewayOnly: row.Key == rowBuilding,
			ListedMayReduce: row.Key == rowOpen && listed != nil && listed.Flag != nil && *listed.Flag,
		}
	}
	return table
}

// rowsFor names the rows that apply to what lies above a piece; none in the
// open. They are not alternatives: under a drive the open row does not count,
// whichever is the deeper.
func (j *join) rowsFor(p *site.Piece) []site.RowKey {
	var rows []site.RowKey
	for _, id := range p.Above {
		c := j.ground.covering[id]
		drive, isDrive := strings.CutSuffix(c.kind, "-drive")
		switch {
		case isDrive:
			rows = append(rows, site.RowKey(driveRows[drive]))
		case c.kind == "building":
			rows = append(rows, rowBuilding)
		case c.slab && deepest(p.Line, c.region) >= slabBeyondM:
			rows = append(rows, rowSlab)
		}
	}
	return rows
}

// require asks the table for the cover of a piece. What has no row of its own
// is a place not named by the others, so the open row governs.
func (j *join) require(out *Piece, leg *plan.Leg, p site.Piece, table site.CoverTable) {
	rows := j.rowsFor(&p)
	if table != nil {
		rows = slices.DeleteFunc(rows, func(k site.RowKey) bool { _, known := table[k]; return !known })
	}
	if len(rows) == 0 {
		rows = append(rows, rowOpen)
	}
	out.Row = string(rows[0])
	laying, listed := site.DirectBuried, math.NaN()
	if out.Sleeved {
		laying = site.InRaceway
	}
	if leg.Listed != nil {
		listed = *leg.Listed
	}
	needed, err := table.Governing(rows, laying, listed)
	if err != nil {
		return // no table, or one without the open row: nothing is asked for
	}
	out.Row, out.RequiredM, out.RequiredSource = string(needed.Row), ptr(needed.MinM), j.limits["earth.cover"].Source
}
