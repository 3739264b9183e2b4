// Package light computes what outdoor luminaires really give: illuminance on
// steps, paths and planes with the shadows that things on the site throw,
// uniformity, dark stretches, and the light that goes where it should not.
//
// Everything here is a pure function of its arguments. The package reads no
// file, knows no plan, and imports nothing else of the module. Positions are
// metres with z up, bearings are degrees clockwise from north (+y), tilts are
// degrees from straight down, intensities are candela, fluxes are lumens and
// illuminances are lux.
//
// A caller describes luminaires and occluders, makes an [Evaluator], asks it
// for a [Field] over points, and sums that field for as many scenes and gate
// positions as it likes:
//
//	e, err := light.NewEvaluator(luminaires, occluders, light.Options{})
//	field, err := e.Evaluate(ctx, points)
//	evening := field.Lux(e.GroupLevels(map[string]float64{"steps": 1}))
//	behind, err := field.Behind(leaf)
//	leafOpen := behind.Lux(evening)
//
// Only direct light is counted. Light that walls, ground and leaves send on is
// left out, so real values are somewhat higher, and every report must say so.
package light
