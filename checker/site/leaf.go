package site

import (
	"math"

	"gonum.org/v1/gonum/spatial/r2"
)

// Hand says which way a leaf swings open, as seen by someone who stands at the
// hinge and looks along the closed leaf.
type Hand int

// The ways a leaf opens.
const (
	// OpensLeft is anticlockwise seen from above.
	OpensLeft Hand = iota + 1
	// OpensRight is clockwise seen from above.
	OpensRight
	// OpensBoth is a leaf that swings either way, by the same angle.
	OpensBoth
)

// String returns "left", "right" or "both"; "none" for any other value.
func (h Hand) String() string {
	switch h {
	case OpensLeft:
		return "left"
	case OpensRight:
		return "right"
	case OpensBoth:
		return "both"
	default:
		return "none"
	}
}

// HandTowards returns the hand that swings a leaf towards a bearing, from its
// closed bearing by the shorter way. It is OpensRight for a bearing straight
// ahead or straight behind, and for one that is not a number.
func HandTowards(closedDeg, towardsDeg float64) Hand {
	if TurnDeg(closedDeg, towardsDeg) < 0 {
		return OpensLeft
	}
	return OpensRight
}

// Leaf is one leaf of a gate or door. A gate with two leaves is two of them;
// see [PairOfLeaves].
type Leaf struct {
	// ID names the leaf.
	ID string
	// Hinge is the hinge pin; for a sliding leaf, one end of it when closed.
	Hinge r2.Vec
	// LengthM is the distance in metres from the hinge to the other end.
	LengthM float64
	// HingeGapM is the distance from the hinge pin to the near end of the
	// leaf; 0 when the leaf begins at its hinge.
	HingeGapM float64
	// ThicknessM is the thickness of the leaf; 0 when it is not stated.
	ThicknessM float64
	// ClosedDeg is the bearing from the hinge to the other end when closed.
	ClosedDeg float64
	// Opens is the way a hinged leaf swings; it is not used for a sliding
	// leaf.
	Opens Hand
	// AngleDeg is how far a hinged leaf swings open, each way, 0 to 360.
	AngleDeg float64
	// SlideM is how far a sliding leaf travels, in metres; 0 for a hinged
	// leaf. SlideDeg is the bearing along which it opens.
	SlideM, SlideDeg float64
	// BottomM and TopM are the heights of the lower and upper edge above
	// the ground at the leaf. BottomM is the ground gap. A TopM of 0 means
	// the height is not stated; the leaf is then taller than any fixture.
	BottomM, TopM float64
}

// Slides reports whether the leaf slides; otherwise it swings on its hinge.
func (l Leaf) Slides() bool { return l.SlideM != 0 }

func (l Leaf) usable() bool {
	return Usable(l.Hinge) && Known(l.ClosedDeg) && usableSize(l.LengthM) && usableSize(l.HingeGapM) &&
		l.HingeGapM <= l.LengthM && usableSize(l.ThicknessM) && usableSize(l.SlideM) &&
		Known(l.SlideDeg) && l.AngleDeg >= 0 && l.AngleDeg <= 360
}

// PairOfLeaves returns the two leaves of a double gate between two hinges. The
// leaves are of one length, with meetingGapM between them when closed, and
// both swing the same way for someone who walks through: to the left, or to
// the right, as seen from hinge a looking to hinge b, or both. leaf gives what
// the two share; its id, hinge, length, bearing and hand are replaced.
func PairOfLeaves(leaf Leaf, idA, idB string, a, b r2.Vec, meetingGapM float64, opens Hand) [2]Leaf {
	la, lb := leaf, leaf
	length := (dist(a, b) - meetingGapM) / 2
	la.ID, la.Hinge, la.LengthM, la.ClosedDeg, la.Opens = idA, a, length, Bearing(a, b), opens
	lb.ID, lb.Hinge, lb.LengthM, lb.ClosedDeg, lb.Opens = idB, b, length, Bearing(b, a), opens.mirrored()
	return [2]Leaf{la, lb}
}

func (h Hand) mirrored() Hand {
	switch h {
	case OpensLeft:
		return OpensRight
	case OpensRight:
		return OpensLeft
	default:
		return h
	}
}

// Position is a leaf at one moment, as the segment along its middle.
type Position struct {
	// Name is "closed", "open", or "open left" and "open right" for a leaf
	// that swings both ways; empty in between.
	Name string
	// Open is how far the leaf is open as a share of its angle or travel: 0
	// closed, 1 fully open, -1 fully open to the left for a leaf that swings
	// both ways.
	Open float64
	// Segment runs from the near end of the leaf to its free end.
	Segment Segment
}

// At returns the leaf opened by a share of its angle or travel. For a leaf
// that swings both ways a negative share is to the left; for any other leaf
// the sign does not count. Shares beyond 1 are moved to 1. A hinged leaf without
// a hand does not move. The segment has NaN coordinates when something is
// unusable.
func (l Leaf) At(open float64) Position {
	if !l.usable() || math.IsNaN(open) {
		return Position{Open: open, Segment: Segment{noPoint(), noPoint()}}
	}
	open = max(-1, min(1, open))
	if l.Slides() || l.Opens != OpensBoth {
		open = math.Abs(open)
	}
	hinge, bearing := l.Hinge, l.ClosedDeg
	switch {
	case l.Slides():
		hinge = r2.Add(hinge, r2.Scale(open*l.SlideM, Heading(l.SlideDeg)))
	case l.Opens == OpensLeft:
		bearing -= open * l.AngleDeg
	case l.Opens == OpensRight || l.Opens == OpensBoth:
		bearing += open * l.AngleDeg
	}
	u := Heading(bearing)
	return Position{Open: open, Segment: Segment{
		r2.Add(hinge, r2.Scale(l.HingeGapM, u)), r2.Add(hinge, r2.Scale(l.LengthM, u)),
	}}
}

// Rest returns the resting positions: closed, and held open; both open
// positions, left first, for a leaf that swings both ways.
func (l Leaf) Rest() []Position {
	named := func(name string, open float64) Position {
		p := l.At(open)
		p.Name = name
		return p
	}
	if l.Opens == OpensBoth && !l.Slides() {
		return []Position{named("closed", 0), named("open left", -1), named("open right", 1)}
	}
	return []Position{named("closed", 0), named("open", 1)}
}

// MaxSamples is the largest number of positions that [Leaf.Through] returns.
const MaxSamples = 1441

// Through returns positions through the whole movement, the resting ones among
// them, in order of opening (from fully left to fully right for a leaf that
// swings both ways). The free end moves at most stepM metres from one to the
// next, as long as that needs no more than MaxSamples positions. It is nil
// when something is unusable or stepM is not positive.
func (l Leaf) Through(stepM float64) []Position {
	if !l.usable() || !(stepM > 0) {
		return nil
	}
	path := l.SlideM
	if !l.Slides() {
		path = l.AngleDeg * math.Pi / 180 * l.LengthM
	}
	n := int(max(1, min(math.Ceil(path/stepM-1e-9), (MaxSamples-1)/2)))
	first := 0
	if l.Opens == OpensBoth && !l.Slides() {
		first = -n
	}
	out := make([]Position, 0, n-first+1)
	for i := first; i <= n; i++ {
		p := l.At(float64(i) / float64(n))
		p.Name = l.restName(i, n)
		out = append(out, p)
	}
	return out
}

func (l Leaf) restName(i, n int) string {
	both := l.Opens == OpensBoth && !l.Slides()
	switch {
	case i == 0:
		return "closed"
	case i == -n:
		return "open left"
	case i == n && both:
		return "open right"
	case i == n:
		return "open"
	default:
		return ""
	}
}

// Post is a post or pier beside a gate, as a circle on the ground.
type Post struct {
	// Role is "hinge" or "latch".
	Role string
	At   r2.Vec
}

// Posts returns where posts stand for one leaf: at the hinge, and at the free
// end of the closed leaf. The leaves of a double gate have no latch post;
// their posts are those with the role "hinge". It is nil when something is
// unusable.
func (l Leaf) Posts() []Post {
	if !l.usable() {
		return nil
	}
	return []Post{{"hinge", l.Hinge}, {"latch", l.At(0).Segment.B}}
}
