package light

import (
	"fmt"
	"reflect"

	"gonum.org/v1/gonum/spatial/r3"
)

// Luminaire is one fixture as installed.
type Luminaire struct {
	// ID names the luminaire in reports.
	ID string
	// At is the photometric centre in metres.
	At r3.Vec
	// AimBearingDeg is the bearing the photometric axis is tipped toward;
	// without effect when TiltDeg is 0.
	AimBearingDeg float64
	// TiltDeg is the angle of the photometric axis from straight down: 0 for
	// a luminaire used as measured, 90 aims at the horizon, 180 straight up.
	// A step wash and other wall luminaires stay at 0.
	TiltDeg float64
	// ZeroBearingDeg is the bearing of the 0 degree half-plane before the
	// luminaire is tipped. Use AimBearingDeg where the plan states none.
	ZeroBearingDeg float64
	// Light is how the light is thrown.
	Light Distribution
	// Lumens is the lamp flux now: at its voltage and dimming, before the
	// maintenance factor.
	Lumens float64
	// Maintenance is the maintenance factor, 0 to 1. 0 means 1: initial values.
	Maintenance float64
	// Opening is the luminous opening; the zero value is a point.
	Opening Opening
	// Groups are the control groups the luminaire belongs to.
	Groups []string
	// Host is the id of the occluder it is mounted on or in. The host never
	// shadows the side the luminaire shines from; it still blocks the light
	// that would have to go through it. Empty for a luminaire on a stake.
	Host string
}

// Opening is the luminous opening of a luminaire in its own frame.
type Opening struct {
	// LengthM lies along the 0-180 plane, WidthM along the 90-270 plane,
	// HeightM along the photometric axis. For a round opening LengthM is the
	// diameter and WidthM is ignored.
	LengthM, WidthM, HeightM float64
	// Round is a disc, or an upright cylinder when HeightM is not 0.
	Round bool
}

// maintained returns the flux that counts.
func (l *Luminaire) maintained() float64 {
	if l.Maintenance == 0 {
		return l.Lumens
	}
	return l.Lumens * l.Maintenance
}

// frame is the luminaire's orientation.
func (l *Luminaire) frame() frame {
	return newFrame(l.AimBearingDeg, l.TiltDeg, l.ZeroBearingDeg)
}

// Candela returns the maintained intensity toward a world direction, which need
// not be a unit vector, in candela.
func (l *Luminaire) Candela(toward r3.Vec) float64 {
	n := length(toward)
	if n == 0 || l.Light == nil {
		return 0
	}
	return l.maintained() * l.Light.PerLumen(l.frame().local(r3.Scale(1/n, toward)))
}

// check reports what makes a luminaire unusable.
func (l *Luminaire) check() error {
	switch {
	case l.Light == nil:
		return fmt.Errorf("luminaire %q has no distribution", l.ID)
	case !reflect.TypeOf(l.Light).Comparable():
		return fmt.Errorf("luminaire %q has a distribution that is not a pointer", l.ID)
	case !finite(l.At.X, l.At.Y, l.At.Z, l.AimBearingDeg, l.TiltDeg, l.ZeroBearingDeg):
		return fmt.Errorf("luminaire %q has a position or aim that is not a number", l.ID)
	case !finite(l.Lumens) || l.Lumens < 0:
		return fmt.Errorf("luminaire %q has %g lm; a flux is 0 or more", l.ID, l.Lumens)
	case !(l.Maintenance >= 0 && l.Maintenance <= 1):
		return fmt.Errorf("luminaire %q has a maintenance factor of %g; it is 0 to 1", l.ID, l.Maintenance)
	case !finite(l.Opening.LengthM, l.Opening.WidthM, l.Opening.HeightM) ||
		min(l.Opening.LengthM, l.Opening.WidthM, l.Opening.HeightM) < 0:
		return fmt.Errorf("luminaire %q has a luminous opening that is not a size", l.ID)
	}
	return nil
}
