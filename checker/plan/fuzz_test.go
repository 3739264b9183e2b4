package plan_test

import (
	"math"
	"os"
	"path/filepath"
	"testing"

	"duskproof/checker/plan"
)

// FuzzResolve holds that Decode and Resolve never panic, whatever the bytes,
// and that what comes out can be computed with: no position, length or level is
// infinite or not a number, and every issue has its rule, pointer and message.
func FuzzResolve(f *testing.F) {
	seeds, err := filepath.Glob("testdata/seeds/*.json")
	if err != nil {
		f.Fatal(err)
	}
	plans, err := filepath.Glob("../../testdata/plans/format/*.lighting.json")
	if err != nil {
		f.Fatal(err)
	}
	seeds = append(append(seeds, plans...), "testdata/base.lighting.json")
	for _, name := range seeds {
		data, err := os.ReadFile(name)
		if err != nil {
			f.Fatal(err)
		}
		f.Add(data)
	}
	f.Fuzz(func(t *testing.T, data []byte) {
		doc, err := plan.Decode(data)
		if err != nil {
			return
		}
		p, issues := plan.Resolve(doc)
		for _, i := range issues {
			if i.Rule != plan.Dangling && i.Rule != plan.Conflict || i.Message == "" || i.Pointer == "" {
				t.Errorf("issue %+v", i)
			}
		}
		checkNumbers(t, p)
	})
}

// checkNumbers holds that the numbers of a plan are finite.
func checkNumbers(t *testing.T, p *plan.Plan) {
	t.Helper()
	finite := func(what string, values ...float64) {
		for _, v := range values {
			if math.IsNaN(v) || math.IsInf(v, 0) {
				t.Errorf("%s is %v", what, v)
			}
		}
	}
	for _, fixture := range p.Fixtures {
		finite(fixture.ID, fixture.GroundM, fixture.SlackM, fixture.Level)
		if fixture.At != nil {
			finite(fixture.ID, fixture.At.X, fixture.At.Y)
		}
	}
	for _, run := range p.Runs {
		for _, l := range run.Legs {
			finite(l.ID, l.SlackM)
			if l.LengthM != nil {
				finite(l.ID, *l.LengthM)
			}
		}
	}
	if p.Site == nil {
		return
	}
	for _, st := range p.Site.Stairs {
		for _, tread := range st.Treads {
			finite(tread.ID, tread.HeightM, tread.RiserTop)
			for _, corner := range tread.Outline {
				finite(tread.ID, corner.X, corner.Y)
			}
		}
	}
	for _, path := range p.Site.Paths {
		if len(path.ElevationsM) != len(path.Centreline) {
			t.Errorf("%s has %d elevations for %d points", path.ID, len(path.ElevationsM), len(path.Centreline))
		}
	}
}
