package wire

// TapBasis says at what load the stated tap volts hold.
type TapBasis string

// The two ways in which makers state tap volts.
const (
	AtNoLoad    TapBasis = "no-load"
	AtRatedLoad TapBasis = "rated-load"
)

// Source is one power unit: ideal volts behind one impedance that all its
// feeds share.
//
// Per unit of rated volt-amperes, the shared impedance lowers every feed by
// the same fraction of its own volts, whichever feed carries the load. That is
// the physics of one core with one primary: leakage and primary resistance are
// common, and turns set the ratio.
type Source struct {
	ID string
	// RatedVA is the rated output in VA; the base of the impedance.
	RatedVA float64
	// Regulated supplies hold their volts: the supply factor and the
	// impedance are ignored in the load flow.
	Regulated bool
	// Impedance is the bracket of the internal impedance. Both ends are
	// equal where the value is known.
	Impedance ImpedanceRange
	// TapsAt says at what load Feed.Volts hold; empty means AtNoLoad.
	TapsAt TapBasis
	// CurrentLimitAmps is the electronic limit per feed; 0 when there is
	// none. It bounds fault currents. Load flow does not simulate it: compare
	// FeedResult.Amps with it.
	CurrentLimitAmps float64
}

// Impedance is per unit of rated volts and rated volt-amperes.
type Impedance struct {
	R float64 // resistance, per unit
	X float64 // reactance, per unit
}

// ImpedanceRange brackets an impedance. Low has the smaller resistance.
type ImpedanceRange struct{ Low, High Impedance }

// Feed is one pair of terminals of a source: a common and a tap. Every run
// starts on a feed, and two runs on the same terminals may be two feeds.
type Feed struct {
	ID string
	// Node is the network node at the terminals.
	Node string
	// Common names the common terminal whose current the feed adds to.
	Common string
	// Tap names the tap. Feeds whose Common or Tap differ must not be joined
	// by a cable: Topology says so, and the load flow leaves the closing leg
	// open. Feeds of equal names that are joined are solved as they are.
	Tap string
	// Volts are the stated tap volts, V.
	Volts float64
	// Source is the id of the power unit the terminals belong to; empty
	// means the network's own. A cable that lands on another unit is found
	// by Topology and left open in the load flow.
	Source string
	// Swapped says that the cable lands with its two conductors exchanged.
	// Found by Topology, left open in the load flow.
	Swapped bool
}

// Leg is one cable between two nodes.
type Leg struct {
	ID, From, To string
	// LengthM is the one-way length in metres, SlackM the extra cable at
	// the ends (service loops), also one way.
	LengthM, SlackM float64
	Conductor       Conductor
	// FromJointOhms and ToJointOhms are the resistance of one joint of one
	// conductor at each end, ohm. Both conductors are counted.
	FromJointOhms, ToJointOhms float64
	// AmpacityAmps is the marked ampacity, or one that the caller takes
	// from a table; 0 when unknown. AmpacityBasis says which.
	AmpacityAmps  float64
	AmpacityBasis string
}

// Network is one source with everything it feeds. Nodes are named by the
// feeds, legs and loads that touch them.
type Network struct {
	Source Source
	Feeds  []Feed
	Legs   []Leg
	Loads  []Load
}

// End picks an end of the impedance bracket.
type End int

// The ends of the bracket. LowestVolts and HighestVolts are resolved for the
// load at hand: with taps stated at rated load a higher impedance means
// higher volts at part load and lower volts beyond the rating.
const (
	Middle End = iota
	LowestVolts
	HighestVolts
)

// Scene is a setting of the controls.
type Scene struct {
	Name string
	// Levels maps load id to level 0..1; a load that is not named is on
	// at its own level.
	Levels map[string]float64
}

// Corner is one set of conditions to solve the network in.
type Corner struct {
	Name string
	// SupplyFactor multiplies the volts of an unregulated source: 0.95 for
	// mains 5 % low. 0 means 1.
	SupplyFactor float64
	End          End
	// GroundC is the temperature of an idle conductor in degrees Celsius.
	// RiseK is added in proportion to the square of amps over ampacity,
	// leg by leg, for legs that state an ampacity.
	GroundC, RiseK float64
	// Scene sets levels; nil means all on.
	Scene *Scene
	// Out lists the ids of loads that are disconnected.
	Out []string
}
