package plan_test

import (
	"fmt"
	"math"
	"slices"
	"testing"

	"gonum.org/v1/gonum/spatial/r2"

	"duskproof/checker/plan"
)

// stairAlone is a plan with one stair and what else is given.
func stairAlone(stair, more string) []byte {
	return []byte(fmt.Sprintf(`{"format": "1.0", "units": "m", "site": {"stairs": [%s]%s}}`, stair, more))
}

// TestTreads derives the treads of a stair of four risers: three treads and the
// top level. Foot on y = 0, head on y = 0.9, so each going is 0.3 m; rise 0.15 m.
func TestTreads(t *testing.T) {
	for _, c := range []struct{ name, foot, head string }{
		{"as it should be drawn", `[[0, 0], [2, 0]]`, `[[0, 0.9], [2, 0.9]]`},
		{"head the other way", `[[0, 0], [2, 0]]`, `[[2, 0.9], [0, 0.9]]`},
		{"foot the other way", `[[2, 0], [0, 0]]`, `[[0, 0.9], [2, 0.9]]`},
		{"both the other way", `[[2, 0], [0, 0]]`, `[[2, 0.9], [0, 0.9]]`},
	} {
		data := stairAlone(fmt.Sprintf(`{"id": "s", "foot": %s, "head": %s, "risers": 4, "rise": "150 mm", "base_elevation": 1}`, c.foot, c.head), "")
		mustValidate(t, data)
		st := clean(t, data).Site.Stairs[0]
		if st.FootLeft != (r2.Vec{}) || st.FootRight != (r2.Vec{X: 2}) || st.HeadLeft != (r2.Vec{Y: 0.9}) || st.HeadRight != (r2.Vec{X: 2, Y: 0.9}) {
			t.Errorf("%s: %v %v %v %v", c.name, st.FootLeft, st.FootRight, st.HeadLeft, st.HeadRight)
		}
		if !alike(st.GoingM, 0.3) || !alike(st.WidthM, 2) || st.BaseM != 1 || len(st.Treads) != 4 {
			t.Fatalf("%s: going %v width %v base %v, %d treads", c.name, st.GoingM, st.WidthM, st.BaseM, len(st.Treads))
		}
		for i, tread := range st.Treads {
			front, back := 0.3*float64(i), 0.3*float64(i+1)
			want := [4]r2.Vec{{X: 0, Y: front}, {X: 2, Y: front}, {X: 2, Y: back}, {X: 0, Y: back}}
			for k := range want {
				if !near(tread.Outline[k], want[k]) {
					t.Errorf("%s: tread %d corner %d at %v, want %v", c.name, i+1, k, tread.Outline[k], want[k])
				}
			}
			top := i == 3
			if tread.Number != i+1 || tread.ID != fmt.Sprintf("s/%d", i+1) || tread.First != (i == 0) || tread.Last != top || tread.Top != top {
				t.Errorf("%s: tread %+v", c.name, tread)
			}
			height := 1 + 0.15*float64(i+1)
			if !alike(tread.HeightM, height) || !alike(tread.RiserTop, height+0.15) && !top || top && !alike(tread.RiserTop, height) {
				t.Errorf("%s: tread %d at %v, riser top %v", c.name, i+1, tread.HeightM, tread.RiserTop)
			}
		}
	}
}

// TestTopLevel holds that the level at the head is a tread only where nothing
// else that people walk on is there.
func TestTopLevel(t *testing.T) {
	const stair = `{"id": "s", "foot": [[0, 0], [2, 0]], "head": [[0, 0.9], [2, 0.9]], "risers": 4, "rise": 0.15}`
	for _, c := range []struct {
		name, more string
		want       int
	}{
		{"nothing", "", 4},
		{"landing said to be there", `, "landings": [{"id": "l", "outline": [[0, 0.9], [2, 0.9], [2, 1.0], [0, 1.0]], "stair": "s", "end": "top"}]`, 3},
		{"landing at the foot", `, "landings": [{"id": "l", "outline": [[0, -1], [2, -1], [2, 0], [0, 0]], "stair": "s", "end": "bottom"}]`, 4},
		{"deck", `, "decks": [{"id": "d", "outline": [[-1, 0.9], [3, 0.9], [3, 4], [-1, 4]]}]`, 3},
		{"deck elsewhere", `, "decks": [{"id": "d", "outline": [[-1, 1.9], [3, 1.9], [3, 4], [-1, 4]]}]`, 4},
		{"terrace", `, "areas": [{"id": "a", "kind": "terrace", "outline": [[-1, 0.9], [3, 0.9], [3, 4], [-1, 4]]}]`, 3},
		{"planting", `, "areas": [{"id": "a", "kind": "planting", "outline": [[-1, 0.9], [3, 0.9], [3, 4], [-1, 4]]}]`, 4},
		{"path", `, "paths": [{"id": "p", "centreline": [[1, 0.9], [1, 5]], "width": 1}]`, 3},
	} {
		data := stairAlone(stair, c.more)
		mustValidate(t, data)
		if got := len(clean(t, data).Site.Stairs[0].Treads); got != c.want {
			t.Errorf("%s: %d treads, want %d", c.name, got, c.want)
		}
	}
}

// TestOneRiser is a kerb: no tread, only the level above it, and foot and head
// are one line, drawn from left to right.
func TestOneRiser(t *testing.T) {
	data := stairAlone(`{"id": "s", "foot": [[0, 0], [2, 0]], "head": [[0, 0], [2, 0]], "risers": 1, "rise": 0.2, "going": 0.4}`, "")
	mustValidate(t, data)
	st := clean(t, data).Site.Stairs[0]
	if len(st.Treads) != 1 || !st.Treads[0].Top || !alike(st.Treads[0].HeightM, 0.2) {
		t.Fatalf("treads %+v", st.Treads)
	}
	want := [4]r2.Vec{{}, {X: 2}, {X: 2, Y: 0.4}, {Y: 0.4}}
	for k, corner := range st.Treads[0].Outline {
		if !near(corner, want[k]) {
			t.Errorf("corner %d at %v, want %v", k, corner, want[k])
		}
	}
}

// TestTreadsOfATaperedStair holds that the treads of a stair that narrows lie
// between its sides: foot 2 m, head 1 m, so the middle riser line is 1.5 m.
func TestTreadsOfATaperedStair(t *testing.T) {
	data := stairAlone(`{"id": "s", "foot": [[0, 0], [2, 0]], "head": [[0.5, 0.6], [1.5, 0.6]], "risers": 3, "rise": 0.15}`, "")
	mustValidate(t, data)
	st := clean(t, data).Site.Stairs[0]
	want := [4]r2.Vec{{}, {X: 2}, {X: 1.75, Y: 0.3}, {X: 0.25, Y: 0.3}}
	if !slices.EqualFunc(st.Treads[0].Outline[:], want[:], near) {
		t.Errorf("outline %v, want %v", st.Treads[0].Outline, want)
	}
}

// TestStairsTurned holds that a stair means the same in every direction: turned
// about the origin, its corners turn with it.
func TestStairsTurned(t *testing.T) {
	corners := func(angle float64) [4]r2.Vec {
		s, c := math.Sincos(angle)
		turn := func(x, y float64) string { return fmt.Sprintf("[%.12f, %.12f]", x*c-y*s, x*s+y*c) }
		data := stairAlone(fmt.Sprintf(`{"id": "s", "foot": [%s, %s], "head": [%s, %s], "risers": 3, "rise": 0.15}`,
			turn(2, 1), turn(1, 1), turn(1, 1.6), turn(2, 1.6)), "")
		tread := clean(t, data).Site.Stairs[0].Treads[1]
		var back [4]r2.Vec
		for i, p := range tread.Outline {
			back[i] = r2.Vec{X: p.X*c + p.Y*s, Y: -p.X*s + p.Y*c}
		}
		return back
	}
	want := [4]r2.Vec{{X: 1, Y: 1.3}, {X: 2, Y: 1.3}, {X: 2, Y: 1.6}, {X: 1, Y: 1.6}}
	for degrees := 0; degrees < 360; degrees += 15 {
		got := corners(float64(degrees) * math.Pi / 180)
		if !slices.EqualFunc(got[:], want[:], near) {
			t.Errorf("turned by %d degrees: %v, want %v", degrees, got, want)
		}
	}
}

// TestGround checks the level of what is underfoot, which of several surfaces
// counts, and what a fixture stands on.
func TestGround(t *testing.T) {
	p := clean(t, edited(t, edits{
		"/site/areas/-": `{"id": "under", "kind": "other", "outline": [[-1, 19], [5, 19], [5, 25], [-1, 25]], "elevation": 0.1}`,
		"/site/decks/-": `{"id": "low", "outline": [[2, 20], [4, 20], [4, 24], [2, 24]], "elevation": 0.5}`,
	}))
	for _, c := range []struct {
		what string
		at   r2.Vec
		want float64
	}{
		{"first tread", r2.Vec{X: 10.1, Y: 10}, 0.15},
		{"last tread", r2.Vec{X: 11.1, Y: 10}, 0.6},
		{"landing at the top: five risers", r2.Vec{X: 12, Y: 10}, 0.75},
		{"deck over an area", r2.Vec{X: 1, Y: 22}, 0.6},
		{"the higher of two decks", r2.Vec{X: 3, Y: 22}, 0.6},
		{"area beside the deck", r2.Vec{X: 4.5, Y: 22}, 0.1},
		{"half way up the ramp", r2.Vec{X: 25, Y: 0.4}, 0.5},
		{"beside the ramp", r2.Vec{X: 25, Y: 0.6}, 0},
		{"walk, which states no level", r2.Vec{X: 0, Y: 5}, 0},
		{"nothing", r2.Vec{X: -15, Y: 30}, 0},
	} {
		if got := p.GroundAt(c.at); !alike(got, c.want) {
			t.Errorf("%s: %v m, want %v", c.what, got, c.want)
		}
	}
}

// TestFixtureGround holds what a fixture stands on, by mounting.
func TestFixtureGround(t *testing.T) {
	for _, c := range []struct {
		name, fixture string
		want          float64
	}{
		{"on a tread by name", `"at": {"of": "lower", "tread": 3}`, 0.45},
		{"on a tread by place", `"at": [10.7, 10]`, 0.45},
		{"in the riser at the back of tread 2", `"at": [10.6, 10], "mount": "riser"`, 0.3},
		{"in the first riser", `"at": [10, 10], "mount": "riser"`, 0},
		{"on the deck", `"at": [1, 22], "mount": "deck"`, 0.6},
		{"under the deck", `"at": [1, 22], "mount": "under-deck"`, 0},
		{"stated", `"at": [1, 22], "elevation": "1.5 m"`, 1.5},
		{"stated on a tread", `"at": {"of": "lower", "tread": 3}, "elevation": 0.5`, 0.5},
		{"no place", `"group": "x"`, 0},
	} {
		p := clean(t, edited(t, edits{"/fixtures/4": `{"id": "S2", "type": "spot", ` + c.fixture + `}`}))
		if got := fixtureNamed(t, p, "S2").GroundM; !alike(got, c.want) {
			t.Errorf("%s: %v m, want %v", c.name, got, c.want)
		}
	}
}

func TestGroundWithoutSite(t *testing.T) {
	if got := new(plan.Plan).GroundAt(r2.Vec{X: 1}); got != 0 {
		t.Errorf("ground of an empty plan at %v", got)
	}
}
