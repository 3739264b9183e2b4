package light

import (
	"context"
	"math"
	"math/rand/v2"
	"slices"
	"testing"

	"gonum.org/v1/gonum/spatial/r2"
	"gonum.org/v1/gonum/spatial/r3"
)

// What spares work answers as the long way does, to the last bit.

// obstructed is a garden with hosts, boards that let some light through, and
// bodies that luminaires stand inside of.
func obstructed(t *testing.T) ([]Luminaire, []Occluder) {
	lums, blocks := mixed(t, 100)
	for i := range lums {
		if i%5 == 0 {
			lums[i].Host = blocks[i%len(blocks)].Name()
		}
	}
	for x := 0.0; x < 50; x += 10 {
		blocks = append(blocks,
			Slab{ID: "deck", Outline: []r2.Vec{{X: x, Y: -3}, {X: x + 4, Y: -3}, {X: x + 4, Y: 1}, {X: x, Y: 1}}, TopM: 0.4, Transmission: 0.3},
			Prism{ID: "house", Outline: []r2.Vec{{X: x, Y: 8}, {X: x + 6, Y: 8}, {X: x + 3, Y: 12}}, BaseM: -100, TopM: 3, Transmission: 0.9})
	}
	return lums, blocks
}

func TestOutlookAnswersAsTheTree(t *testing.T) {
	lums, blocks := obstructed(t)
	rng := rand.New(rand.NewPCG(29, 31))
	partly, dark := 0, 0
	for _, items := range [][]Occluder{blocks[:20], blocks} {
		e := evaluator(t, items, lums...)
		for i := range e.lamps {
			src := e.lamps[i].src
			if src.outlook == nil {
				t.Fatalf("no outlook among %d obstacles", len(items))
			}
			plain := src
			plain.outlook = nil
			for k := range 400 {
				to := randomPoint(rng, 50).At
				switch k % 8 {
				case 0: // straight up or down
					to.X, to.Y = src.at.X, src.at.Y
				case 1: // along an axis, on a corner of a box
					to = e.blocks.inOrder[k%len(items)].bounds.Min
					to.Y = src.at.Y
				}
				got, want := e.blocks.through(&src, to), e.blocks.through(&plain, to)
				if got != want {
					t.Fatalf("%s to %v: %v of the light gets through, by the tree %v", e.lamps[i].ID, to, got, want)
				}
				switch {
				case want == 0:
					dark++
				case want < 1:
					partly++
				}
			}
		}
	}
	if partly < 100 || dark < 100 {
		t.Errorf("%d rays partly through, %d not: not tested", partly, dark)
	}
}

// Landing looks at every obstacle that a ray can meet: as if all were looked at.
func TestLandingLooksAtEnough(t *testing.T) {
	lums, blocks := obstructed(t)
	e := evaluator(t, blocks, lums...)
	targets := []Occluder{Post{ID: "T40", Centre: r2.Vec{X: 20, Y: 5}, RadiusM: 0.1, TopM: 2}, blocks[17]}
	names := namesOf(targets)
	blocked := 0
	for i := range e.lamps {
		l := &e.lamps[i]
		all := e.blocks.seenFrom(&l.src, r3.Vec{Z: 1}, names, math.Inf(-1))
		want := Landing{On: make([]float64, 2)}
		for _, c := range cellsOf(l.Light, fineCut) {
			dir := l.frame.world(c.dir)
			end := r3.Add(l.At, r3.Scale(pastM, dir))
			s := newRay(l.At, end)
			hit, end := firstTarget(&s, end, targets)
			s = newRay(l.At, end)
			kept := c.share * pastThese(&l.src, !slices.Contains(names, l.Host), all, &s, end)
			want.Blocked += c.share - kept
			switch {
			case hit >= 0:
				want.On[hit] += kept
			case dir.Z >= 0:
				want.Sky += kept
			default:
				want.Ground += kept
			}
		}
		got := e.Land(i, targets...)
		if got.Blocked != want.Blocked || got.Sky != want.Sky || got.Ground != want.Ground || !slices.Equal(got.On, want.On) {
			t.Errorf("%s: lands %+v, want %+v", l.ID, got, want)
		}
		if want.Blocked > 0.05 && want.OnAll() > 0 {
			blocked++
		}
	}
	if blocked < 5 {
		t.Errorf("only %d luminaires were partly blocked and partly landed", blocked)
	}
}

// The brightest point of every scene is the first of the brightest of all points,
// and a scene in which none is bright enough has none that is.
func TestBrightFindsTheBrightest(t *testing.T) {
	lums, blocks := obstructed(t)
	e, err := NewEvaluator(lums, blocks, Options{})
	if err != nil {
		t.Fatal(err)
	}
	rng := rand.New(rand.NewPCG(37, 41))
	spared, asked, none := 0, 0, 0
	for round := range 40 {
		points := make([]Point, 60)
		for i := range points {
			points[i] = randomPoint(rng, 60)
			points[i].At.Y += float64(round)
		}
		points[40] = points[7] // as bright as another
		scenes := make([]Levels, 3)
		for k := range scenes {
			scenes[k] = make(Levels, len(lums)-k) // one without a level is off
			for i := range scenes[k] {
				if rng.IntN(1+3*k) == 0 {
					scenes[k][i] = 1.3 * rng.Float64()
				}
			}
		}
		const least = 0.05
		all, err := e.Evaluate(context.Background(), points)
		if err != nil {
			t.Fatal(err)
		}
		few, err := e.Bright(context.Background(), points, least, scenes...)
		if err != nil {
			t.Fatal(err)
		}
		asked, spared = asked+len(points), spared+len(points)-few.Len()
		for k, levels := range scenes {
			want, got := Summarise(all.Lux(levels)), Summarise(few.Lux(levels))
			if want.MaxLux < least {
				none++
				if got.MaxLux >= least {
					t.Errorf("round %d, scene %d: %g lx found where there are %g", round, k, got.MaxLux, want.MaxLux)
				}
				continue
			}
			if got.MaxLux != want.MaxLux || few.Point(got.MaxAt) != all.Point(want.MaxAt) ||
				!slices.Equal(few.Shares(got.MaxAt), all.Shares(want.MaxAt)) {
				t.Errorf("round %d, scene %d: %g lx at %v, want %g at %v", round, k,
					got.MaxLux, few.Point(got.MaxAt), want.MaxLux, all.Point(want.MaxAt))
			}
		}
	}
	if spared < asked/2 || none == 0 {
		t.Errorf("%d of %d points spared, %d scenes too dark: not tested", spared, asked, none)
	}
}

func TestBrightOfNothing(t *testing.T) {
	points := []Point{ground(1, 0), ground(2, 0)}
	lit, dark := evaluator(t, nil, candelas("L", at(0, 0, 1), 10)), evaluator(t, nil)
	for name, find := range map[string]func() (*Field, error){
		"no points": func() (*Field, error) { return lit.Bright(context.Background(), nil, 1, nil) },
		"no scenes": func() (*Field, error) { return lit.Bright(context.Background(), points, 1) },
		"no lamps":  func() (*Field, error) { return dark.Bright(context.Background(), points, 1, nil) },
		"too dark":  func() (*Field, error) { return lit.Bright(context.Background(), points, 100, nil) },
	} {
		if found, err := find(); err != nil || found.Len() != 0 {
			t.Errorf("%s: %v, %v", name, found, err)
		}
	}
	if _, err := lit.Bright(context.Background(), []Point{{}}, 1, nil); err == nil {
		t.Error("a surface that faces nowhere was accepted")
	}
}

// No occluder takes more light than is said that it may.
func TestMayTakeIsNoLess(t *testing.T) {
	lums, blocks := obstructed(t)
	e := evaluator(t, blocks, lums...)
	rng := rand.New(rand.NewPCG(43, 47))
	took, spared := 0, 0
	for range 300 {
		p := randomPoint(rng, 50)
		from := r2.Vec{X: p.At.X + 2*rng.Float64(), Y: p.At.Y + 2*rng.Float64()}
		var leaves []Occluder
		for angle := 0.0; angle < 90; angle += 30 {
			along := Direction(angle, 90)
			leaves = append(leaves, Wall{ID: "leaf", A: from, B: r2.Vec{X: from.X + along.X, Y: from.Y + along.Y}, BaseM: 0.05, TopM: 1.2})
		}
		field, err := e.Evaluate(context.Background(), []Point{p})
		if err != nil {
			t.Fatal(err)
		}
		most := e.MayTake(p, leaves)
		if most == 0 {
			spared++
		}
		for _, leaf := range leaves {
			behind, err := field.Behind(leaf)
			if err != nil {
				t.Fatal(err)
			}
			taken := field.LuxAt(0, nil) - behind.LuxAt(0, nil)
			if taken > most*(1+roundingSlack) {
				t.Fatalf("%v takes %g lx from %v, at most %g was said", leaf, taken, p, most)
			}
			if taken > 0 {
				took++
			}
		}
	}
	if took < 20 || spared < 20 {
		t.Errorf("%d leaves took light, %d points were out of reach: not tested", took, spared)
	}
}
