package facts

import (
	"context"
	"slices"

	"gonum.org/v1/gonum/spatial/r3"

	"duskproof/checker/light"
	"duskproof/checker/plan"
)

// controlFacts writes the controls, with the light of their own lamps on their
// sensors.
func (j *join) controlFacts(ctx context.Context, lit *lighting) error {
	for _, c := range j.plan.Controls {
		out := Control{ID: c.ID, Kind: c.Kind, Switches: j.switched(c), Shaded: c.Shaded, On: c.On, Off: c.Off,
			LocationSet: c.LocationSet, Location: c.Location, Rating: c.Rating, ReachableAt: c.ReachableAt}
		out.HasSensor = c.Kind == "photocell" || c.Kind == "photocell-and-timer"
		if c.Dimmer != nil || c.Kind == "dimmer" {
			j.dimmed(&out, c)
		}
		if out.HasSensor && c.SensorAt != nil && c.SensorM != nil {
			if err := j.sensor(ctx, &out, c, lit); err != nil {
				return err
			}
		}
		j.doc.Controls = append(j.doc.Controls, out)
	}
	return nil
}

func (j *join) dimmed(out *Control, c *plan.Control) {
	if c.Dimmer != nil {
		out.DimMethod, out.DimHz, out.DimMatched = c.Dimmer.Method, c.Dimmer.Frequency, c.Dimmer.Matched
	}
	for _, id := range out.Switches {
		j.fixtures[id].Dimmed = true
	}
	for i := range j.doc.Transformers {
		t := &j.doc.Transformers[i]
		t.Dimmed = t.Dimmed || slices.ContainsFunc(out.Switches, func(id string) bool { return j.fixtures[id].Transformer == t.ID })
	}
}

// mayLight reports whether one of some fixtures may light a point, though its
// light is not known.
func (lit *lighting) mayLight(at r3.Vec, ids []string) bool {
	for i := range lit.scenes {
		s := lit.scenes[i]
		s.unknown = slices.DeleteFunc(slices.Clone(s.unknown), func(f *plan.Fixture) bool { return !slices.Contains(ids, f.ID) })
		s.unplaced = slices.ContainsFunc(s.unknown, func(f *plan.Fixture) bool { return f.At == nil })
		if s.mayLight(at) {
			return true
		}
	}
	return false
}

// sensor finds the most light that the control's own lamps throw on its sensor
// in any scene, new and clean: on the face it turns to, or on the worst of the
// level faces and the sky when the plan does not say.
func (j *join) sensor(ctx context.Context, out *Control, c *plan.Control, lit *lighting) error {
	z := j.plan.GroundAt(*c.SensorAt) + *c.SensorM
	face := j.atFace(*c.SensorAt, z)
	at := r3.Vec{X: face.X, Y: face.Y, Z: z}
	faces := []r3.Vec{light.Up}
	if c.SensorDeg != nil {
		faces = []r3.Vec{light.Direction(*c.SensorDeg, 90)}
	} else {
		for bearing := 0.0; bearing < 360; bearing += 45 {
			faces = append(faces, light.Direction(bearing, 90))
		}
	}
	own := make(light.Levels, len(lit.lamps))
	for _, id := range out.Switches {
		if i, ok := lit.index[id]; ok {
			own[i] = lit.fresh[i]
		}
	}
	points := make([]light.Point, len(faces))
	for i, face := range faces {
		points[i] = light.Point{At: at, Normal: face}
	}
	field, err := lit.eval.Evaluate(ctx, points)
	if err != nil {
		return err
	}
	worst := light.Summarise(field.Lux(own))
	if worst.MaxLux <= j.limit("control.sensor_lux_max", plainLux) && lit.mayLight(at, out.Switches) {
		return nil // it may well see them; the plan does not say
	}
	out.SensorLux = ptr(worst.MaxLux)
	if ids := lit.strongest(field, worst.MaxAt, own); len(ids) > 0 {
		out.SensorWorst = ids[0]
	}
	return nil
}
