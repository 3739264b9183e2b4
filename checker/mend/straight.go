package mend

import (
	"cmp"
	"slices"

	"gonum.org/v1/gonum/spatial/r2"

	"duskproof/checker/finding"
	"duskproof/checker/plan"
)

// shorterShare is how much of the way along the cable a straight one may be to be
// worth a trench of its own.
const shorterShare = 0.8

// straightHome offers to feed the far part of a run by a second home run that goes
// straight there, where the cable goes a long way round.
func straightHome(v *view, f *finding.Finding) []Candidate {
	run, path := v.farWay(f)
	if run == nil {
		return nil
	}
	var out []Candidate
	along := legLength(path[0]) - path[0].SlackM
	for i := 1; i < len(path); i++ {
		along += legLength(path[i]) - path[i].SlackM
		root := otherEnd(path[i], nearEnd(path[:i], run))
		b := branch{run, path[:i], path[i], root, downstream(run, path[i], root), 0, true}
		if home, ok := v.straightTo(run.Transformer, root); !ok || home.lengthM > shorterShare*along {
			continue
		}
		if c, ok := v.split(&b); ok {
			out = append(out, c)
		}
	}
	slices.SortStableFunc(out, func(a, b Candidate) int { return cmp.Compare(a.Cost, b.Cost) })
	return spread(out, mostSplits)
}

// spread picks at most n of a list, from its beginning to its end.
func spread[T any](list []T, n int) []T {
	if len(list) <= n {
		return list
	}
	var out []T
	for i := range n {
		out = append(out, list[i*(len(list)-1)/(n-1)])
	}
	return out
}

// farWay is the run that a finding is about and the way to its end; for a finding
// on a power unit, to the lamp with the most cable before it.
func (v *view) farWay(f *finding.Finding) (*plan.Run, []*plan.Leg) {
	t := v.transformers[f.Element]
	if t == nil {
		c, _ := v.circuitOf(f)
		return c.run, c.path
	}
	if f.Case != "length" {
		return nil, nil
	}
	var run *plan.Run
	var path []*plan.Leg
	most := 0.0
	for _, fixture := range v.plan.Fixtures {
		of := v.runOf(fixture.ID)
		if of == nil || of.Transformer != t {
			continue
		}
		way, long := v.pathTo(of, fixture.ID), 0.0
		for _, leg := range way {
			long += legLength(leg)
		}
		if long > most {
			run, path, most = of, way, long
		}
	}
	return run, path
}

// straightTo is a cable straight from a power unit to an end.
func (v *view) straightTo(t *plan.Transformer, end string) (homeRun, bool) {
	at, ok := v.placeOf(end)
	if !ok || t.At == nil {
		return homeRun{}, false
	}
	return homeRun{lengthM: v.up(r2.Norm(r2.Sub(at, *t.At)), cableStep), routed: true}, true
}
