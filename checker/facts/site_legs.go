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
	rise := j.limit("earth.rise_exempt_m", 0)
	for _, run := range j.plan.Runs {
		for _, leg := range run.Legs {
			j.piecesOf(leg, table, rise)
		}
	}
}

func (j *join) piecesOf(leg *plan.Leg, table site.CoverTable, rise float64) {
	cut := j.ground.surfaces.Cut(site.Line(leg.Route))
	if cut == nil {
		length := 0.0
		if leg.LengthM != nil {
			length = *leg.LengthM
		}
		cut = []site.Piece{{Span: site.Span{From: 0, To: length}}}
	}
	end := cut[len(cut)-1].To
	for _, p := range cut {
		out := Piece{ID: leg.ID, FromM: p.From, ToM: p.To, Above: p.Kinds, Over: p.Above, CoverM: leg.CoverM, Method: leg.Method}
		out.Exempt = !inGround(leg.Method) || (len(cut) > 1 && (p.To <= rise || p.From >= end-rise))
		for _, id := range p.Above {
			out.Paved = out.Paved || j.ground.paved[id]
		}
		out.Sleeved = sleeved(leg, &out)
		j.require(&out, leg, table)
		j.doc.Pieces = append(j.doc.Pieces, out)
	}
}

// sleeved reports whether a sleeve covers a piece: the whole leg, or the
// crossings under paving and vehicles.
func sleeved(leg *plan.Leg, p *Piece) bool {
	if leg.Sleeve == nil {
		return false
	}
	if leg.Sleeve.Where != "crossings" {
		return true
	}
	return p.Paved || slices.ContainsFunc(p.Above, func(kind string) bool {
		return strings.HasSuffix(kind, "-drive") || kind == "path" || kind == "terrace"
	})
}

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

// Rows of the profile's cover table.
const (
	rowOpen     = "all"
	rowBuilding = "under-building"
)

// rowsFor names the rows that apply to what lies above a piece.
func (j *join) rowsFor(p *Piece) []site.RowKey {
	var rows []site.RowKey
	for _, kind := range p.Above {
		if drive, ok := strings.CutSuffix(kind, "-drive"); ok {
			rows = append(rows, site.RowKey(driveRows[drive]))
		}
		if kind == "building" {
			rows = append(rows, rowBuilding)
		}
	}
	if len(rows) == 0 {
		rows = append(rows, rowOpen)
	}
	return rows
}

// require asks the table for the cover of a piece.
func (j *join) require(p *Piece, leg *plan.Leg, table site.CoverTable) {
	rows := j.rowsFor(p)
	p.Row = string(rows[0])
	if table == nil {
		return
	}
	laying, listed := site.DirectBuried, math.NaN()
	if p.Sleeved {
		laying = site.InRaceway
	}
	if leg.Listed != nil {
		listed = *leg.Listed
	}
	needed, err := table.Governing(rows, laying, listed)
	if err != nil {
		return // the profile has no such row; the rule says it cannot judge
	}
	p.Row, p.RequiredM, p.RequiredSource = string(needed.Row), ptr(needed.MinM), j.limits["earth.cover"].Source
}

// joints lists every place where conductors are joined.
func (j *join) joints() {
	touching := map[string][]*plan.Leg{}
	for _, run := range j.plan.Runs {
		for _, leg := range run.Legs {
			for _, end := range []string{leg.From, leg.To} {
				touching[end] = append(touching[end], leg)
			}
		}
	}
	for _, run := range j.plan.Runs {
		for _, n := range run.Nodes {
			out := j.joint(n.ID, n.Connector, touching[n.ID])
			out.Place, out.Accessible = n.Place, n.Accessible
			out.Buried = n.Place == "buried" || n.Place == "" && out.Buried
			if n.At != nil {
				out.Under = j.under(site.Polygon{*n.At})
			}
			j.doc.Joints = append(j.doc.Joints, out)
		}
	}
	for _, f := range j.plan.Fixtures {
		if len(touching[f.ID]) == 0 {
			continue
		}
		out := j.joint(f.ID, f.Connector, touching[f.ID])
		out.IsFixture = true
		if f.At != nil {
			out.Under = j.under(site.Polygon{*f.At})
		}
		if f.Type.Lead != nil || f.Connector != nil {
			out.Conductors++ // the fixture's own lead
		}
		j.doc.Joints = append(j.doc.Joints, out)
	}
}

func (j *join) joint(id string, c *plan.ConnectorType, legs []*plan.Leg) Joint {
	out := Joint{ID: id, Conductors: len(legs)}
	for _, leg := range legs {
		out.Buried = out.Buried || leg.Method == "buried"
	}
	if c != nil {
		out.Connector, out.Kind, out.MostConductors = c.ID, c.Kind, c.MostConductors
		out.Listing = append([]string{}, c.Listing...)
	}
	return out
}

// under lists what lies above a joint that makes it hard to reach.
func (j *join) under(at site.Polygon) []string {
	var out []string
	for _, s := range j.ground.surfaces.At(at[0], 0, 0) {
		word := ""
		switch {
		case s.Kind == "building" || s.Kind == "deck":
			word = s.Kind
		case strings.HasSuffix(s.Kind, "-drive"):
			word = "drive"
		case j.ground.paved[s.ID]:
			word = "paving"
		}
		if word != "" && !slices.Contains(out, word) {
			out = append(out, word)
		}
	}
	slices.Sort(out)
	return out
}
