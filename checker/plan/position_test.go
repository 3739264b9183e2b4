package plan_test

import (
	"math"
	"testing"

	"gonum.org/v1/gonum/spatial/r2"

	"duskproof/checker/plan"
)

// placeSlackM is the error allowed in a computed position, in metres: a few
// roundings at garden size.
const placeSlackM = 1e-9

func near(a, b r2.Vec) bool { return r2.Norm(r2.Sub(a, b)) <= placeSlackM }

func alike(a, b float64) bool { return math.Abs(a-b) <= placeSlackM }

// fixtureNamed finds a fixture.
func fixtureNamed(t testing.TB, p *plan.Plan, id string) *plan.Fixture {
	t.Helper()
	for _, f := range p.Fixtures {
		if f.ID == id {
			return f
		}
	}
	t.Fatalf("no fixture %q", id)
	return nil
}

// TestPositions places one fixture in every way there is. The walk of the base
// plan runs (0,0) (0,10) (10,10), 2 m wide; the stair rises in +x from x = 10 to
// x = 11.2 in four treads of 0.3 m, 2 m wide from y = 9 to y = 11, its left edge
// at y = 11. The numbers are worked out by hand beside each.
func TestPositions(t *testing.T) {
	half := math.Sqrt2 / 2
	for _, c := range []struct {
		name, at string
		want     r2.Vec
	}{
		{"coordinates", `[3, "-50 cm"]`, r2.Vec{X: 3, Y: -0.5}},
		// 3-4-5: from (0,0) and (5,0); along = (16-9+25)/10 = 3.2, off = sqrt(16-10.24) = 2.4
		{"tapes, left", `{"tapes": [{"from": [0, 0], "distance": 4}, {"from": [5, 0], "distance": 3}], "side": "left"}`, r2.Vec{X: 3.2, Y: 2.4}},
		{"tapes, right", `{"tapes": [{"from": [0, 0], "distance": 4}, {"from": [5, 0], "distance": 3}], "side": "right"}`, r2.Vec{X: 3.2, Y: -2.4}},
		// the same tapes the other way round: left of the line from (5,0) to (0,0) is below it
		{"tapes swapped", `{"tapes": [{"from": [5, 0], "distance": 3}, {"from": [0, 0], "distance": 4}], "side": "left"}`, r2.Vec{X: 3.2, Y: -2.4}},
		// 3-4-5 again: the receptacle is at (0,0), the post at (3,0)
		{"tapes from elements", `{"tapes": [{"from": "RC1", "distance": 5}, {"from": "post", "distance": 4}], "side": "left"}`, r2.Vec{X: 3, Y: 4}},
		// tapes that touch: 2 m and 3 m over 5 m
		{"tapes in line", `{"tapes": [{"from": [0, 0], "distance": 2}, {"from": [5, 0], "distance": 3}], "side": "left"}`, r2.Vec{X: 2, Y: 0}},
		// 3 cm short is within the sag of a tape; along = (4-8.8209+25)/10
		{"tapes a little short", `{"tapes": [{"from": [0, 0], "distance": 2}, {"from": [5, 0], "distance": 2.97}], "side": "left"}`, r2.Vec{X: 2.01791, Y: 0}},
		{"station on the centreline", `{"along": "walk", "station": 4}`, r2.Vec{X: 0, Y: 4}},
		// half of 2 m wide, and half a metre more
		{"station, right", `{"along": "walk", "station": 4, "side": "right", "offset": 0.5}`, r2.Vec{X: 1.5, Y: 4}},
		{"station, left edge", `{"along": "walk", "station": 4, "side": "left"}`, r2.Vec{X: -1, Y: 4}},
		{"station, on the path", `{"along": "walk", "station": 14, "side": "left", "offset": "-25 cm"}`, r2.Vec{X: 4, Y: 10.75}},
		// at the bend both arms keep their distance: the corner of the edges
		{"station at the bend, left", `{"along": "walk", "station": 10, "side": "left"}`, r2.Vec{X: -1, Y: 11}},
		{"station at the bend, right", `{"along": "walk", "station": 10, "side": "right"}`, r2.Vec{X: 1, Y: 9}},
		{"station at the end", `{"along": "walk", "station": 20, "side": "right"}`, r2.Vec{X: 10, Y: 9}},
		{"middle of a tread", `{"of": "lower", "tread": 1}`, r2.Vec{X: 10.15, Y: 10}},
		{"across a tread", `{"of": "lower", "tread": 4, "across": "50 cm"}`, r2.Vec{X: 11.05, Y: 10.5}},
		// the top level is one going deep beyond the head
		{"top level", `{"of": "lower", "tread": 5}`, r2.Vec{X: 11.35, Y: 10}},
	} {
		p := clean(t, edited(t, edits{"/fixtures/4/at": c.at, "/fixtures/4/aim": ""}))
		if got := fixtureNamed(t, p, "S2").At; got == nil || !near(*got, c.want) {
			t.Errorf("%s: %v, want %v", c.name, got, c.want)
		}
	}
	// A bend sharper than a mitre can be: a turn of 135 degrees puts the offset
	// line of the second piece straight beside its start.
	p := clean(t, edited(t, edits{
		"/site/paths/1":  `{"id": "ramp", "centreline": [[20, 0], [30, 0], [29, 1]], "width": 2}`,
		"/fixtures/4/at": `{"along": "ramp", "station": 10, "side": "right"}`, "/fixtures/4/aim": ""}))
	if got := fixtureNamed(t, p, "S2").At; !near(*got, r2.Vec{X: 30 + half, Y: half}) {
		t.Errorf("sharp bend: %v", *got)
	}
}

// TestPositionsHangOnOneAnother measures a post from a fixture that is measured
// from an array's fixture and a node of a run, all later in the file. row-2
// stands at (1, 2), h2 at (6, 8).
func TestPositionsHangOnOneAnother(t *testing.T) {
	p := clean(t, edited(t, edits{
		"/site/posts/0/at": `{"tapes": [{"from": "S2", "distance": 2}, {"from": [5, 2], "distance": 2}], "side": "right"}`,
		"/fixtures/4/at":   `{"tapes": [{"from": "row-2", "distance": 4}, {"from": "h2", "distance": 5}], "side": "right"}`,
		"/fixtures/4/aim":  ""}))
	s2 := *fixtureNamed(t, p, "S2").At
	row2, h2 := r2.Vec{X: 1, Y: 2}, r2.Vec{X: 6, Y: 8}
	if !alike(r2.Norm(r2.Sub(s2, row2)), 4) || !alike(r2.Norm(r2.Sub(s2, h2)), 5) || r2.Cross(r2.Sub(h2, row2), r2.Sub(s2, row2)) > 0 {
		t.Errorf("S2 at %v", s2)
	}
	post := p.Site.Posts[0].At
	if !alike(r2.Norm(r2.Sub(post, s2)), 2) || !alike(r2.Norm(r2.Sub(post, r2.Vec{X: 5, Y: 2})), 2) {
		t.Errorf("post at %v", post)
	}
}

// TestArrays spreads fixtures along the walk, 20 m long and 2 m wide.
func TestArrays(t *testing.T) {
	chainless := edits{"/runs/1/chain": `[{"to": "h3", "length": 5}]`, "/readings": `[]`, "/controls/0/switches/1": `"S2"`,
		"/controls/0/scenes/0/on": `["entry"]`, "/fixtures/4/aim": ""}
	for _, c := range []struct {
		array string
		want  []r2.Vec
	}{
		// evenly over 20 m: every 5 m; the third is at the bend, on its outer corner
		{`{"along": "walk", "count": 5, "side": "left"}`, []r2.Vec{{X: -1, Y: 0}, {X: -1, Y: 5}, {X: -1, Y: 11}, {X: 5, Y: 11}, {X: 10, Y: 11}}},
		{`{"along": "walk", "count": 1, "side": "left", "start": 2, "end": 6}`, []r2.Vec{{X: -1, Y: 4}}},
		{`{"along": "walk", "count": 2, "side": "right", "start": 2, "end": 6, "offset": "50 cm"}`, []r2.Vec{{X: 1.5, Y: 2}, {X: 1.5, Y: 6}}},
		// 1, 4 and 7 m; 10 m would pass the end at 9.5 m
		{`{"along": "walk", "spacing": 3, "side": "alternate", "start": 1, "end": 9.5}`, []r2.Vec{{X: -1, Y: 1}, {X: 1, Y: 4}, {X: -1, Y: 7}}},
		// ten spacings of 0.1 m make eleven fixtures, whatever 0.1 rounds to
		{`{"along": "walk", "spacing": 0.1, "side": "right", "start": 1, "end": 2}`, nil},
	} {
		changes := edits{"/fixtures/2/array": c.array}
		for pointer, text := range chainless {
			changes[pointer] = text
		}
		p := clean(t, edited(t, changes))
		var members []*plan.Fixture
		for _, f := range p.Fixtures {
			if f.Pointer == "/fixtures/2" {
				members = append(members, f)
			}
		}
		if c.want == nil {
			if len(members) != 11 || members[10].ID != "row-11" || !near(*members[10].At, r2.Vec{X: 1, Y: 2}) {
				t.Errorf("%s: %d fixtures", c.array, len(members))
			}
			continue
		}
		if len(members) != len(c.want) {
			t.Errorf("%s: %d fixtures, want %d", c.array, len(members), len(c.want))
			continue
		}
		for i, f := range members {
			if !near(*f.At, c.want[i]) {
				t.Errorf("%s: %s at %v, want %v", c.array, f.ID, *f.At, c.want[i])
			}
		}
	}
}
