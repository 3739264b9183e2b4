package facts

import (
	"cmp"
	"context"
	"sync"

	"duskproof/checker/light"
	"duskproof/checker/plan"
)

// lighting is what the parts of the light step share.
type lighting struct {
	eval   *keptLight
	lamps  []*plan.Fixture // by luminaire
	index  map[string]int  // luminaire by fixture id
	kinds  map[string]*lightKind
	scenes []sceneLight
	places []place // on the site
	// fresh is how bright each lamp gets in any scene, with new lamps and
	// clean lenses.
	fresh light.Levels
}

// sceneLight is one scene with the levels of its lamps over their light at
// nominal supply.
type sceneLight struct {
	*plan.Scene
	levels light.Levels // at nominal supply, aged and dirty
	low    light.Levels // at the lowest supply, with hot cable
	fresh  light.Levels // at nominal supply, new and clean
	// unknown are the fixtures that are on and whose light is not known.
	// Those that have no place may be anywhere: unplaced.
	unknown  []*plan.Fixture
	unplaced bool
}

// light lights treads, paths, boundaries and trees.
func (j *join) light(ctx context.Context) error {
	lit := j.lit
	j.sceneFacts()
	if err := j.controlFacts(ctx, lit); err != nil {
		return err
	}
	if j.plan.Site == nil {
		return nil
	}
	lit.places = j.places()
	return sideBySide(ctx, lit, []lightStep{j.treads, j.paths}, []lightStep{j.leafShadows, j.beams, j.neighbours})
}

// lightStep is one part of the light step.
type lightStep func(context.Context, *lighting) error

// sideBySide runs rows of steps at the same time where there is a processor for
// it, and the steps of a row one after another. No step reads what one of another
// row writes. The error is the first of the first row that has one; what panics in
// a row panics here.
func sideBySide(ctx context.Context, lit *lighting, rows ...[]lightStep) error {
	errs, causes := make([]error, len(rows)), make([]any, len(rows))
	run := func(i int) {
		defer func() { causes[i] = recover() }()
		for _, step := range rows[i] {
			if errs[i] = step(ctx, lit); errs[i] != nil {
				return
			}
		}
	}
	var others sync.WaitGroup
	for i := 1; i < len(rows); i++ {
		others.Go(func() { run(i) })
	}
	run(0)
	others.Wait()
	for _, cause := range causes {
		if cause != nil {
			panic(cause)
		}
	}
	return cmp.Or(errs...)
}

// siteAndLamps measures the site while the lamps are made ready to be lit.
func (j *join) siteAndLamps(ctx context.Context) error {
	site := func(ctx context.Context, _ *lighting) error { return j.site(ctx) }
	lamps := func(context.Context, *lighting) (err error) {
		j.lit, err = j.newLighting()
		return err
	}
	return sideBySide(ctx, nil, []lightStep{site}, []lightStep{lamps})
}

// newLighting gathers luminaires and what stands in their way.
func (j *join) newLighting() (*lighting, error) {
	most := len(j.plan.Fixtures)
	lit := &lighting{lamps: make([]*plan.Fixture, 0, most), index: make(map[string]int, most), kinds: map[string]*lightKind{}}
	all, kinds := make([]light.Luminaire, 0, most), make([]*lightKind, 0, most)
	var unknown []*plan.Fixture
	for _, f := range j.plan.Fixtures {
		j.lightFacts(f)
		kind, seen := lit.kinds[f.Type.ID]
		if !seen {
			kind = j.kindOf(f.Type)
			lit.kinds[f.Type.ID] = kind
		}
		l, known := j.luminaire(f, kind)
		switch {
		case known:
			lit.index[f.ID] = len(all)
			lit.lamps = append(lit.lamps, f)
			all, kinds = append(all, l), append(kinds, kind)
		case !j.dead(f):
			unknown = append(unknown, f)
		}
	}
	j.litFrom()
	eval, err := j.evaluator(all, kinds)
	if err != nil {
		return nil, err
	}
	lit.eval = eval
	for i, f := range lit.lamps {
		out := j.fixtures[f.ID]
		out.UpShare = ptr(eval.UpwardShare(i))
		out.UpLumens = ptr(*out.UpShare * *out.EmittedLm)
	}
	lit.fresh = make(light.Levels, len(lit.lamps))
	for _, scene := range j.plan.Scenes {
		lit.addScene(j, scene, unknown)
	}
	return lit, nil
}

// addScene works out the levels of one scene.
func (lit *lighting) addScene(j *join, scene *plan.Scene, unknown []*plan.Fixture) {
	n := len(lit.lamps)
	s := sceneLight{Scene: scene, levels: make(light.Levels, n), low: make(light.Levels, n), fresh: make(light.Levels, n)}
	maintenance := j.maintenance()
	for i, f := range lit.lamps {
		level := scene.Levels[f.ID]
		s.levels[i], s.low[i], s.fresh[i] = level, level, level/maintenance
		if lamp, solved := j.lamps[f.ID]; solved && lamp.share > 0 {
			s.low[i] = level * lamp.low / lamp.share
		}
		lit.fresh[i] = max(lit.fresh[i], s.fresh[i])
	}
	for _, f := range unknown {
		if scene.Levels[f.ID] > 0 {
			s.unknown = append(s.unknown, f)
			s.unplaced = s.unplaced || f.At == nil
		}
	}
	lit.scenes = append(lit.scenes, s)
}

// dead reports whether a fixture is dark for want of a feed: no run reaches it,
// though the plan has runs.
func (j *join) dead(f *plan.Fixture) bool { return len(j.plan.Runs) > 0 && !j.fixtures[f.ID].Fed }

// maintenance is the light that is left after ageing and dirt.
func (j *join) maintenance() float64 {
	if factor := j.limit("light.maintenance_factor", 1); factor > 0 && factor <= 1 {
		return factor
	}
	return 1
}

// lightFacts writes what is known of a fixture's light without placing it.
func (j *join) lightFacts(f *plan.Fixture) {
	out := j.fixtures[f.ID]
	out.Wired, out.ArrayOf = len(f.Runs) > 0, j.arrayOf(f)
	switch {
	case f.Type.PeakNM != nil:
		out.Colour = "coloured"
	case f.Type.CCT != nil:
		out.Colour = "white"
	}
}
