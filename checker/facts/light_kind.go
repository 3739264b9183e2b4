package facts

import (
	"fmt"
	"io"
	"io/fs"
	"math"
	"path"
	"strings"

	"duskproof/checker/light"
	"duskproof/checker/plan"
)

// lightKind is the light of one fixture type.
type lightKind struct {
	name  string             // of the shape or the file; empty when the type has neither
	angle float64            // of the shape
	light light.Distribution // nil when it is not known
	file  *fileLight         // nil for a built-in shape
	// turns is true when it matters which way the fixture is turned about
	// its own axis; round when it does not even matter how it is tipped.
	turns, round bool
	// wash is true for a light that is made to hang as it is: it has no aim
	// but the way it faces.
	wash bool
}

// kindOf reads the light of a type. What cannot be used is noted under
// photometry.
func (j *join) kindOf(t *plan.FixtureType) *lightKind {
	kind := &lightKind{}
	switch d := t.Light; {
	case d == nil:
		return kind
	case d.File != "":
		kind.name = d.File
		j.photometry(t, kind)
	default:
		kind.name, kind.angle = d.Shape, shapeAngle(d)
		shape, err := j.in.Lights.shape(kind.name, kind.angle)
		if err != nil {
			j.doc.Photometry = append(j.doc.Photometry, Photometry{ID: t.ID, Problem: err.Error()})
			return kind
		}
		kind.light = shape
		kind.wash, kind.round = d.Shape == light.ShapeStepWash, d.Shape == light.ShapeIsotropic
		kind.turns = kind.wash
	}
	return kind
}

// shapeAngle is the angle that a built-in shape takes.
func shapeAngle(d *plan.Distribution) float64 {
	switch {
	case d.Shape == light.ShapeBeam && d.BeamAngleDeg != nil:
		return *d.BeamAngleDeg
	case d.Shape != light.ShapeBeam && d.PeakAngleDeg != nil:
		return *d.PeakAngleDeg
	}
	return 0
}

const (
	turnStepDeg  = 15.0 // between the planes in which a light is compared
	tipStepDeg   = 5.0
	evenWithinOf = 0.25 // of the greatest intensity; a light less uneven than this counts as round
)

// turns reports whether the light of a file differs much from one side to another.
func turns(d *light.Table) bool {
	if d.Round() {
		return false
	}
	peak, _ := d.Peak()
	for tip := 0.0; tip <= 180; tip += tipStepDeg {
		least, most := math.Inf(1), 0.0
		for plane := 0.0; plane < 360; plane += turnStepDeg {
			cd := light.PerLumenAt(d, plane, tip)
			least, most = math.Min(least, cd), math.Max(most, cd)
		}
		if most-least > evenWithinOf*peak {
			return true
		}
	}
	return false
}

// photometry reads a type's file and says how it agrees with the plan.
func (j *join) photometry(t *plan.FixtureType, kind *lightKind) {
	out := Photometry{ID: t.ID, File: t.Light.File}
	defer func() { j.doc.Photometry = append(j.doc.Photometry, out) }()
	data, err := j.beside(t.Light.File)
	if err != nil {
		out.Problem = err.Error()
		return
	}
	file, err := j.in.Lights.file(data)
	if err != nil {
		out.Problem = err.Error()
		return
	}
	kind.light, kind.file, kind.turns = file.light, file, file.turns
	flux := file.flux
	out.FluxLm, out.StatedLm = ptr(flux.IntegratedLumens), t.Lamp.Lumens
	if flux.StatedLumens > 0 {
		out.LampLm, out.OutputRatio = ptr(flux.StatedLumens), ptr(flux.Ratio)
	}
}

// lampLumens is the flux to give the lamp of a fixture, and what the fixture
// gives with it, at rated volts. A plan states what the fixture gives; with a
// photometric file it may leave that to the file.
func (k *lightKind) lampLumens(stated *float64) (lamp, emitted float64, known bool) {
	ratio := 1.0
	if k.light != nil {
		ratio = k.light.OutputRatio()
	}
	switch {
	case stated != nil && ratio > 0:
		return *stated / ratio, *stated, true
	case stated == nil && k.file != nil:
		lamp = k.file.rated
		return lamp, lamp * ratio, true
	}
	return 0, 0, false
}

// largestPhotometry bounds a photometric file.
const largestPhotometry = 4 << 20

// beside reads a file from the plan's own folder.
func (j *join) beside(name string) ([]byte, error) {
	if j.in.Files == nil {
		return nil, fmt.Errorf("%s: there is no folder to look in", name)
	}
	clean := path.Clean(strings.ReplaceAll(name, "\\", "/"))
	if !fs.ValidPath(clean) {
		return nil, fmt.Errorf("%s: photometric files are read from the plan's own folder only", name)
	}
	if info, err := fs.Stat(j.in.Files, clean); err == nil && !info.Mode().IsRegular() {
		return nil, fmt.Errorf("%s: it is not a file", name) // opening something else may wait for ever
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
