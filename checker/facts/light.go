package facts

import (
	"context"
	"fmt"
	"io"
	"io/fs"
	"path"
	"strings"

	"gonum.org/v1/gonum/spatial/r3"

	"duskproof/checker/light"
	"duskproof/checker/plan"
)

// lighting is what the parts of the light step share.
type lighting struct {
	eval    *light.Evaluator
	lamps   []*plan.Fixture // by luminaire
	index   map[string]int  // luminaire by fixture id
	unknown []*plan.Fixture // placed, but their light is not known
	levels  map[string]light.Levels
}

// light lights treads, paths, boundaries and trees.
func (j *join) light(ctx context.Context) error {
	lit, err := j.newLighting()
	if err != nil {
		return err
	}
	j.sceneFacts(lit)
	if err := j.controlFacts(ctx, lit); err != nil {
		return err
	}
	if j.plan.Site == nil {
		return nil
	}
	for _, step := range []func(context.Context, *lighting) error{
		j.treads, j.paths, j.leafShadows, j.beams, j.neighbours,
	} {
		if err := step(ctx, lit); err != nil {
			return err
		}
	}
	return nil
}

// newLighting gathers luminaires and what stands in their way.
func (j *join) newLighting() (*lighting, error) {
	lit := &lighting{index: map[string]int{}, levels: map[string]light.Levels{}}
	lights := map[string]light.Distribution{}
	scale := map[string]*light.Photometry{}
	var all []light.Luminaire
	for _, f := range j.plan.Fixtures {
		if f.At == nil {
			continue
		}
		d, known := lights[f.Type.ID]
		if !known {
			d = j.distribution(f.Type, scale)
			lights[f.Type.ID] = d
		}
		out := j.fixtures[f.ID]
		out.HasLight = d != nil
		lumens := f.Lamp.Lumens
		if p := scale[f.Type.ID]; lumens == nil && p != nil {
			lumens = ptr(p.RatedLumens())
		}
		if d == nil || lumens == nil || f.HeightM == nil {
			lit.unknown = append(lit.unknown, f)
			continue
		}
		l := j.luminaire(f, d, *lumens)
		out.UpShare = ptr(light.UpwardShare(&l))
		out.UpLumens = ptr(*out.UpShare * *lumens)
		out.AimTiltDeg = ptr(l.TiltDeg)
		lit.index[f.ID] = len(all)
		lit.lamps = append(lit.lamps, f)
		all = append(all, l)
	}
	eval, err := light.NewEvaluator(all, j.occluders(), light.Options{})
	if err != nil {
		return nil, err
	}
	lit.eval = eval
	for _, scene := range j.plan.Scenes {
		levels := make(light.Levels, len(lit.lamps))
		for i, f := range lit.lamps {
			levels[i] = scene.Levels[f.ID]
		}
		lit.levels[scene.ID] = levels
	}
	return lit, nil
}

// luminaire places one fixture. Its light is what the lamp gives at its own
// volts: a filament lamp follows them, a driver holds. A fixture that no run
// reaches is dark, unless the plan has no runs at all.
func (j *join) luminaire(f *plan.Fixture, d light.Distribution, lumens float64) light.Luminaire {
	l := light.Luminaire{
		ID: f.ID, At: r3.Vec{X: f.At.X, Y: f.At.Y, Z: f.GroundM + *f.HeightM}, Light: d,
		Lumens: lumens * f.Level, Maintenance: j.limit("light.maintenance_factor", 1), Host: f.Host,
	}
	if lamp, solved := j.lamps[f.ID]; solved {
		l.Lumens *= lamp.share
	} else if len(j.plan.Runs) > 0 && !j.fixtures[f.ID].Fed {
		l.Lumens = 0
	}
	if f.Type.LuminousM != nil {
		l.Opening = light.Opening{LengthM: *f.Type.LuminousM, Round: true}
	}
	l.AimBearingDeg, l.TiltDeg = j.aim(f, l.At)
	l.ZeroBearingDeg = l.AimBearingDeg
	if f.Type.Light != nil {
		l.ZeroBearingDeg += f.Type.Light.ZeroPlaneDeg
	}
	return l
}

// aim is the stated aim, or the way to its target. A light in a riser faces
// down the flight unless the plan says otherwise.
func (j *join) aim(f *plan.Fixture, from r3.Vec) (bearing, tilt float64) {
	if f.AimAt != nil {
		return light.Aim(from, r3.Vec{X: f.AimAt.At.X, Y: f.AimAt.At.Y, Z: f.AimAt.HeightM})
	}
	if f.AimTilt != nil {
		tilt = *f.AimTilt
	}
	if f.AimBearing != nil {
		return *f.AimBearing, tilt
	}
	for _, s := range stairsOf(j.plan.Site) {
		if s.ID == f.Host {
			down, _ := light.Aim(
				r3.Vec{X: s.HeadLeft.X + s.HeadRight.X, Y: s.HeadLeft.Y + s.HeadRight.Y, Z: 1},
				r3.Vec{X: s.FootLeft.X + s.FootRight.X, Y: s.FootLeft.Y + s.FootRight.Y, Z: 0})
			return down, tilt
		}
	}
	return 0, tilt
}

// distribution reads a type's light; nil when it is not known. A file that
// cannot be used is noted.
func (j *join) distribution(t *plan.FixtureType, scale map[string]*light.Photometry) light.Distribution {
	if t.Light == nil {
		return nil
	}
	if t.Light.File != "" {
		return j.photometry(t, scale)
	}
	angle := 0.0
	switch {
	case t.Light.BeamAngleDeg != nil && t.Light.Shape == light.ShapeBeam:
		angle = *t.Light.BeamAngleDeg
	case t.Light.PeakAngleDeg != nil:
		angle = *t.Light.PeakAngleDeg
	}
	shape, err := light.NewShape(t.Light.Shape, angle)
	if err != nil {
		j.doc.Photometry = append(j.doc.Photometry, Photometry{ID: t.ID, Problem: err.Error()})
		return nil
	}
	return shape
}

// largestPhotometry bounds a photometric file.
const largestPhotometry = 4 << 20

func (j *join) photometry(t *plan.FixtureType, scale map[string]*light.Photometry) light.Distribution {
	out := Photometry{ID: t.ID, File: t.Light.File}
	defer func() { j.doc.Photometry = append(j.doc.Photometry, out) }()
	data, err := j.beside(t.Light.File)
	if err != nil {
		out.Problem = err.Error()
		return nil
	}
	p, err := light.ReadLM63(data)
	if err != nil {
		out.Problem = err.Error()
		return nil
	}
	d, err := p.Distribution()
	if err != nil {
		out.Problem = err.Error()
		return nil
	}
	flux := p.Flux()
	out.FluxLm = ptr(flux.IntegratedLumens)
	if stated := p.RatedLumens(); !p.Absolute() && stated > 0 {
		out.StatedLm = ptr(stated)
	}
	if t.Lamp.Lumens != nil {
		out.StatedLm = t.Lamp.Lumens
	}
	scale[t.ID] = p
	return d
}

// beside reads a file from the plan's own folder.
func (j *join) beside(name string) ([]byte, error) {
	if j.in.Files == nil {
		return nil, fmt.Errorf("%s: there is no folder to look in", name)
	}
	clean := path.Clean(strings.ReplaceAll(name, "\\", "/"))
	if !fs.ValidPath(clean) {
		return nil, fmt.Errorf("%s: photometric files are read from the plan's own folder only", name)
	}
	file, err := j.in.Files.Open(clean)
	if err != nil {
		return nil, fmt.Errorf("%s: it cannot be opened beside the plan", name)
	}
	defer file.Close()
	data, err := io.ReadAll(io.LimitReader(file, largestPhotometry+1))
	if err != nil {
		return nil, fmt.Errorf("%s: it cannot be read", name)
	}
	if len(data) > largestPhotometry {
		return nil, fmt.Errorf("%s: it is larger than %d MiB", name, largestPhotometry>>20)
	}
	return data, nil
}
