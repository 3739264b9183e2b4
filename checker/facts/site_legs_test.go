package facts_test

import (
	"fmt"
	"strings"
	"testing"

	"duskproof/checker/facts"
)

// straight is a run with one leg from T1 at x = 0 to P1 at x = 40 ft, along the
// x axis.
func straight(leg string) string {
	return `"transformers": [{"id": "T1", "type": "T300", "at": [0, 0]}],
	  "fixtures": [{"id": "P1", "type": "lamp", "at": [40, 0], "mount": "stake"}],
	  "runs": [{"id": "R1", "from": {"transformer": "T1"}, "cable": "12/2", "legs": [{"id": "w1", "from": "T1", "to": "P1"` + leg + `}]}]`
}

// box is an outline from one corner to the other, in feet.
func box(x0, y0, x1, y1 float64) string {
	return fmt.Sprintf(`[[%g, %g], [%g, %g], [%g, %g], [%g, %g]]`, x0, y0, x1, y0, x1, y1, x0, y1)
}

func piece(p facts.Piece) string {
	required := "nothing"
	if p.RequiredM != nil {
		required = fmt.Sprintf("%.1f in", *p.RequiredM/inch)
	}
	out := fmt.Sprintf("%s to %s %s %s", feet(p.FromM), feet(p.ToM), p.Row, required)
	if p.Exempt {
		out += " exempt"
	}
	if p.Sleeved {
		out += " sleeved"
	}
	return out
}

// The covers are those of NFPA 70-2020, table 300.5, column 5: 6 in, under the
// drive of a home 18 in, under streets, shared drives and parking 24 in. The
// stations are the corners of the drives.
func TestPiecesTakeTheirOwnRow(t *testing.T) {
	for _, c := range []struct{ kind, want string }{
		{"home", "0.00 to 10.00 all 6.0 in; 10.00 to 22.00 home-drive 18.0 in; 22.00 to 40.00 all 6.0 in"},
		{"shared", "0.00 to 10.00 all 6.0 in; 10.00 to 22.00 street 24.0 in; 22.00 to 40.00 all 6.0 in"},
		{"street", "0.00 to 10.00 all 6.0 in; 10.00 to 22.00 street 24.0 in; 22.00 to 40.00 all 6.0 in"},
		{"parking", "0.00 to 10.00 all 6.0 in; 10.00 to 22.00 street 24.0 in; 22.00 to 40.00 all 6.0 in"},
	} {
		doc := compute(t, sketch(straight(`, "method": "buried", "cover": "6 in"`),
			fmt.Sprintf(`"site": {"drives": [{"id": "drive", "kind": %q, "surface": "gravel", "outline": %s}]}`, c.kind, box(10, -5, 22, 5))))
		if got := words(doc.Pieces, piece); got != c.want {
			t.Errorf("%s drive:\n%s, by hand\n%s", c.kind, got, c.want)
		}
		for _, p := range doc.Pieces {
			known(t, "cover", p.CoverM, 6*inch)
		}
	}
}

// Under column 1 of the same table a cable lies deeper in the open (24 in) than
// under the drive of a home (18 in): the drive's row governs alone, and is not
// the greater of the two.
func TestTheDrivesRowGovernsAlone(t *testing.T) {
	limits := []facts.Limit{{Name: "earth.cover", Unit: "m", Source: "NFPA 70-2020, table 300.5, column 1", Table: []facts.LimitRow{
		{Key: "all", Value: 24 * inch}, {Key: "home-drive", Value: 18 * inch}, {Key: "street", Value: 24 * inch},
	}}}
	doc := computeWith(t, limits, sketch(straight(`, "method": "buried", "cover": "18 in"`),
		`"site": {"drives": [{"id": "drive", "kind": "home", "outline": `+box(10, -5, 22, 5)+`}], "lawns": [{"id": "lawn", "outline": `+box(-5, -9, 45, 9)+`}]}`))
	want := "0.00 to 10.00 all 24.0 in; 10.00 to 22.00 home-drive 18.0 in; 22.00 to 40.00 all 24.0 in"
	if got := words(doc.Pieces, piece); got != want {
		t.Errorf("%s, by hand\n%s", got, want)
	}
}

// Where a drive and a street overlap, the more stringent row governs. A table
// that lacks a row leaves that place to the open row, and a profile without a
// table asks for nothing.
func TestRowsThatOverlapOrLack(t *testing.T) {
	site := `"site": {"drives": [{"id": "drive", "kind": "home", "outline": ` + box(10, -5, 22, 5) + `}, {"id": "lane", "kind": "street", "outline": ` + box(20, -5, 30, 5) + `}]}`
	text := sketch(straight(`, "method": "buried"`), site)
	want := "0.00 to 10.00 all 6.0 in; 10.00 to 20.00 home-drive 18.0 in; 20.00 to 22.00 street 24.0 in; 22.00 to 30.00 street 24.0 in; 30.00 to 40.00 all 6.0 in"
	if got := words(compute(t, text).Pieces, piece); got != want {
		t.Errorf("overlap: %s, by hand\n%s", got, want)
	}
	short := []facts.Limit{{Name: "earth.cover", Unit: "m", Table: []facts.LimitRow{{Key: "all", Value: 0.3}}}}
	for _, p := range computeWith(t, short, text).Pieces {
		if p.Row != "all" {
			t.Errorf("a table with the open row alone: row %s", p.Row)
		}
		known(t, "cover asked for", p.RequiredM, 0.3)
	}
	for _, p := range computeWith(t, limitsOf(t, "iec-60364"), text).Pieces {
		if p.RequiredM != nil {
			t.Errorf("a profile without a table asks for %g m", *p.RequiredM)
		}
	}
}

// Within 18 in of an end where cable rises, it needs no cover: at the
// transformer, at a fixture and at a hub, not at a buried splice. The path lies
// from 1 ft to 39 ft, so that both ends stand apart.
func TestRiseIsExempt(t *testing.T) {
	leg := func(node string) string {
		return `"transformers": [{"id": "T1", "type": "T300", "at": [0, 0]}],
		  "runs": [{"id": "R1", "from": {"transformer": "T1"}, "cable": "12/2", "nodes": [{"id": "n", "at": [40, 0]` + node + `}],
		    "legs": [{"id": "w1", "from": "T1", "to": "n", "method": "buried"}]}]`
	}
	site := `"site": {"paths": [{"id": "walk", "centreline": [[1, 0], [39, 0]], "width": 4, "surface": "gravel"}]}`
	exempt, open := "; 39.00 to 40.00 all 6.0 in exempt", "; 39.00 to 40.00 all 6.0 in"
	for node, want := range map[string]string{
		`, "kind": "hub"`:                             exempt,
		`, "kind": "splice", "place": "box"`:          exempt,
		`, "kind": "tee", "place": "above-ground"`:    exempt,
		`, "kind": "splice"`:                          open,
		`, "kind": "hub", "place": "buried"`:          open,
		`, "kind": "splice", "place": "in-enclosure"`: exempt,
	} {
		got := words(compute(t, sketch(leg(node), site)).Pieces, piece)
		if want := "0.00 to 1.00 all 6.0 in exempt; 1.00 to 39.00 all 6.0 in" + want; got != want {
			t.Errorf("node%s:\n%s, by hand\n%s", node, got, want)
		}
	}
}

// Legs that are not in the ground are exempt; a leg that does not say how it is
// laid is judged as buried; a leg shorter than the rise is exempt, one of
// unknown length is not.
func TestExemptByMethodAndLength(t *testing.T) {
	chain := func(step string) string {
		return sketch(`"transformers": [{"id": "T1", "type": "T300"}], "fixtures": [{"id": "P1", "type": "lamp"}],
		  "runs": [{"id": "R1", "from": {"transformer": "T1"}, "cable": "12/2", `+step+`}]`, `"site": {}`)
	}
	for step, want := range map[string]bool{
		`"chain": [{"to": "P1", "length": 40}]`:                                false,
		`"chain": [{"to": "P1", "length": 40, "method": "buried"}]`:            false,
		`"chain": [{"to": "P1", "length": 40, "method": "sleeved"}]`:           false,
		`"chain": [{"to": "P1", "length": 40, "method": "surface"}]`:           true,
		`"chain": [{"to": "P1", "length": 40, "method": "on-tree"}]`:           true,
		`"chain": [{"to": "P1", "length": 40, "method": "in-wall"}]`:           true,
		`"chain": [{"to": "P1", "length": 40, "method": "under-deck"}]`:        true,
		`"chain": [{"to": "P1", "length": "18 in", "method": "buried"}]`:       true,
		`"chain": [{"to": "P1", "length": "19 in", "method": "buried"}]`:       false,
		`"legs": [{"id": "w1", "from": "T1", "to": "P1", "method": "buried"}]`: false,
	} {
		doc := compute(t, chain(step))
		if len(doc.Pieces) != 1 || doc.Pieces[0].Exempt != want {
			t.Errorf("%s: %s, by hand exempt %t", step, words(doc.Pieces, piece), want)
		}
	}
}

// A sleeve stated without a place covers the whole leg; one at crossings covers
// what lies under paving, paths, terraces, drives and buildings. A leg laid
// "sleeved" is in a sleeve even where none is described.
func TestSleeves(t *testing.T) {
	site := `"site": {
	  "drives": [{"id": "drive", "kind": "home", "surface": "gravel", "outline": ` + box(10, -5, 14, 5) + `}],
	  "paths": [{"id": "walk", "centreline": [[18, -5], [18, 5]], "width": 4, "surface": "bark"}],
	  "beds": [{"id": "bed", "outline": ` + box(24, -5, 30, 5) + `}]}`
	for leg, want := range map[string]string{
		`, "method": "buried"`:                                "no no no no no no no",
		`, "method": "sleeved"`:                               "yes yes yes yes yes yes yes",
		`, "method": "buried", "sleeve": {"material": "pvc"}`: "yes yes yes yes yes yes yes",
		`, "method": "sleeved", "sleeve": {"material": "pvc", "where": "crossings"}`: "no yes no yes no no no",
	} {
		doc := compute(t, sketch(straight(leg), site))
		got := words(doc.Pieces, func(p facts.Piece) string { return yesNo(&p.Sleeved) })
		if got = strings.ReplaceAll(got, ";", ""); got != want {
			t.Errorf("leg%s: %s, by hand %s", leg, got, want)
		}
	}
}

// Concrete of 4 in and more, reaching 6 in beyond the cable, has a row of its
// own in NFPA 70-2020, table 300.5, column 5: 6 in, and 4 in in a raceway. The
// slab is 12 ft wide; a cable 3 in inside its edge is not 6 in inside.
func TestSlabRow(t *testing.T) {
	slab := func(y0 string, thickness string) string {
		return `"site": {"areas": [{"id": "pad", "kind": "slab"` + thickness + `, "outline": [[10, "` + y0 + `"], [22, "` + y0 + `"], [22, 6], [10, 6]]}]}`
	}
	const thick = `, "thickness": "4 in"`
	for _, c := range []struct{ name, leg, site, want string }{
		{"bare", `, "method": "buried"`, slab("-6 ft", thick), "under-slab 6.0 in"},
		{"in a raceway", `, "method": "sleeved"`, slab("-6 ft", thick), "under-slab 4.0 in sleeved"},
		{"near its edge", `, "method": "sleeved"`, slab("-3 in", thick), "all 6.0 in sleeved"},
		{"thin", `, "method": "sleeved"`, slab("-6 ft", `, "thickness": "3 in"`), "all 6.0 in sleeved"},
		{"thickness not stated", `, "method": "sleeved"`, slab("-6 ft", ""), "all 6.0 in sleeved"},
	} {
		doc := compute(t, sketch(straight(c.leg), c.site))
		if got := piece(doc.Pieces[1]); got != "10.00 to 22.00 "+c.want {
			t.Errorf("%s: %s, by hand %s", c.name, got, c.want)
		}
	}
}

// The lesser cover of a listed system counts in the open (table 300.5, note a),
// not under a drive.
func TestListedCover(t *testing.T) {
	doc := compute(t, sketch(straight(`, "method": "buried", "cover": "4 in", "listed_cover": "4 in"`),
		`"site": {"drives": [{"id": "drive", "kind": "home", "outline": `+box(10, -5, 22, 5)+`}]}`))
	want := "0.00 to 10.00 all 4.0 in; 10.00 to 22.00 home-drive 18.0 in; 22.00 to 40.00 all 4.0 in"
	if got := words(doc.Pieces, piece); got != want {
		t.Errorf("%s, by hand\n%s", got, want)
	}
}

// A leg along the very edge of a path is beside it; one along the edge of a
// drive is under it, where wheels go.
func TestAlongAnEdge(t *testing.T) {
	path := `"site": {"paths": [{"id": "walk", "centreline": [[5, 2], [35, 2]], "width": 4, "surface": "concrete"}]}`
	doc := compute(t, sketch(straight(`, "method": "buried"`), path))
	if got := words(doc.Pieces, piece); got != "0.00 to 40.00 all 6.0 in" || yesNo(doc.Pieces[0].Paved) != "no" {
		t.Errorf("along a path: %s, paved %s", got, yesNo(doc.Pieces[0].Paved))
	}
	doc = compute(t, sketch(straight(`, "method": "buried"`), strings.Replace(path, `[[5, 2], [35, 2]]`, `[[5, 1.8], [35, 1.8]]`, 1)))
	if got := words(doc.Pieces, func(p facts.Piece) string { return yesNo(p.Paved) }); got != "no; yes; no" {
		t.Errorf("2.4 in inside the path: paved %s", got)
	}
	drive := `"site": {"drives": [{"id": "drive", "kind": "home", "outline": ` + box(10, 0, 22, 8) + `}]}`
	doc = compute(t, sketch(straight(`, "method": "buried"`), drive))
	if len(doc.Pieces) != 3 || doc.Pieces[1].Row != "home-drive" {
		t.Errorf("along a drive: %s", words(doc.Pieces, piece))
	}
}

// Paving is what cannot be lifted by hand. It is not known where a surface does
// not say what it is made of, nor, with a drive on the site, for a leg that has
// no route.
func TestPaved(t *testing.T) {
	for surface, want := range map[string]string{
		`, "surface": "concrete"`: "yes", `, "surface": "flagstone"`: "yes", `, "surface": "gravel"`: "no",
		`, "surface": "bark"`: "no", `, "surface": "other"`: "unknown", "": "unknown",
	} {
		doc := compute(t, sketch(straight(`, "method": "buried"`),
			`"site": {"paths": [{"id": "walk", "centreline": [[20, -5], [20, 5]], "width": 4`+surface+`}]}`))
		if got := yesNo(doc.Pieces[1].Paved); got != want || (len(doc.Pieces[1].Hard) > 0) != (want == "yes") {
			t.Errorf("path%s: paved %s, hard %v, by hand %s", surface, got, doc.Pieces[1].Hard, want)
		}
	}
	for material, want := range map[string]string{`, "material": "stone"`: "yes", `, "material": "timber"`: "no", "": "unknown"} {
		doc := compute(t, sketch(straight(`, "method": "buried"`),
			`"site": {"stairs": [{"id": "steps", "foot": [[18, -5], [18, 5]], "head": [[20, -5], [20, 5]], "risers": 3, "rise": "6 in"`+material+`}]}`))
		if got := yesNo(doc.Pieces[1].Paved); got != want {
			t.Errorf("steps%s: paved %s, by hand %s", material, got, want)
		}
	}
	chain := `"transformers": [{"id": "T1", "type": "T300"}], "fixtures": [{"id": "P1", "type": "lamp"}],
	  "runs": [{"id": "R1", "from": {"transformer": "T1"}, "cable": "12/2", "chain": [{"to": "P1", "length": 40}]}]`
	for site, want := range map[string]string{
		`"site": {}`: "no",
		`"site": {"drives": [{"id": "drive", "kind": "home", "outline": ` + box(10, 0, 22, 8) + `}]}`: "unknown",
	} {
		if got := yesNo(compute(t, sketch(chain, site)).Pieces[0].Paved); got != want {
			t.Errorf("%s, no route: paved %s, by hand %s", site, got, want)
		}
	}
}
