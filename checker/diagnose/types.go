package diagnose

import "duskproof/checker/wire"

// Quantity is what a reading measures.
type Quantity string

// The quantities.
const (
	LampVolts  Quantity = "lamp-volts"
	NodeVolts  Quantity = "node-volts"
	LegAmps    Quantity = "leg-amps"
	CommonAmps Quantity = "common-amps"
)

// Reading is one value read with a meter.
type Reading struct {
	// At is the id of the load, node, leg or common.
	At       string
	Quantity Quantity
	// Value is in V or A; Sigma is its standard deviation: instrument
	// resolution and accuracy.
	Value, Sigma float64
}

// Conditions are the state of the system while it was read.
type Conditions struct {
	// SupplyFactor is the mains over its nominal value; 0 means 1.
	SupplyFactor float64
	// GroundC is the temperature of the ground in degrees Celsius.
	GroundC float64
	// Scene is what was on; nil means everything.
	Scene *wire.Scene
}

// Options say how sure the model is, and what could have been mixed up.
type Options struct {
	// CableSigma, SupplySigma and LoadSigma are the relative standard
	// deviations of all cable resistance, of the mains volts, and of all lamp
	// power. 0 takes the default.
	CableSigma, SupplySigma, LoadSigma float64
	// Taps are the volts that each feed could have landed on by mistake.
	Taps map[string][]float64
	// Conductors are the cables that could have been laid by mistake.
	Conductors []wire.Conductor
	// LeastGain is how much the misfit must fall before a suspect is named;
	// 0 takes the default.
	LeastGain float64
}

// The defaults of [Options]. Cable: makers' tolerance of a few percent and ten
// degrees of temperature. Mains: what it moves between two readings. Lamps: the
// spread of drivers. House values.
const (
	DefaultCableSigma  = 0.05
	DefaultSupplySigma = 0.004
	DefaultLoadSigma   = 0.01
	DefaultLeastGain   = 11.0
)

// Kind is what an explanation says is wrong.
type Kind string

// The kinds of explanation.
const (
	// Joint is extra series resistance in a leg: at either end or in it.
	Joint Kind = "joint"
	// LampJoint is extra series resistance between a node and its lamp.
	LampJoint Kind = "lamp-joint"
	// DeadLamp draws nothing.
	DeadLamp Kind = "dead-lamp"
	// OtherLamp is a lamp of another wattage.
	OtherLamp Kind = "other-lamp"
	// Leak is current between the conductors at a node: wet cable, or a load
	// that the plan does not have.
	Leak Kind = "leak"
	// WrongTap is a run on another tap.
	WrongTap Kind = "wrong-tap"
	// OtherCable is a leg of another conductor size.
	OtherCable Kind = "other-cable"
)

// Explanation is one single cause with its best size.
type Explanation struct {
	Kind Kind
	// Element is the id of the leg, load, node or feed.
	Element string
	// Size is the fitted size: extra ohms, lamp power over its nominal
	// power, leaking amps, tap volts, or the new resistance over the old.
	Size float64
	// Detail names what a size cannot: the conductor.
	Detail string
	// Watts are burnt in a bad joint at the readings' conditions.
	Watts float64
	// Misfit is explained in the package comment; Gain is the misfit of the
	// healthy model less this one.
	Misfit, Gain float64
	// Predicted are the readings that it predicts, in their order.
	Predicted []float64
	// Group is 1 for the best group of explanations that cannot be told
	// apart, 2 for the next.
	Group int
	// Confidence is the weight of its group among all groups, 0 to 1.
	Confidence float64
}

// Outcome is what a diagnosis comes to.
type Outcome string

// The outcomes.
const (
	// Healthy: the model explains the readings as it is.
	Healthy Outcome = "healthy"
	// Suspect: the best group holds the likely cause.
	Suspect Outcome = "suspect"
	// Underdetermined: something is wrong, but too many places explain it
	// equally well; take the next reading first.
	Underdetermined Outcome = "underdetermined"
	// Unexplained: something is wrong that no single cause explains.
	Unexplained Outcome = "unexplained"
)

// Result is one diagnosis.
type Result struct {
	Outcome Outcome
	// Expected are the readings that the healthy model predicts at the stated
	// conditions, and Tolerance what the meter and the model's uncertainty
	// explain, three standard deviations.
	Expected, Tolerance []float64
	// HealthyMisfit is the misfit of the healthy model.
	HealthyMisfit float64
	// Explanations are the leading ones, best first, best group first.
	Explanations []Explanation
	// GroupSize is the number of explanations in the best group.
	GroupSize int
	// Next is the reading that would split the leading groups best; nil when
	// there is nothing to split.
	Next *NextReading
}

// NextReading is a reading worth taking.
type NextReading struct {
	At       string
	Quantity Quantity
	// Predicted are what the leading groups predict there, best group first.
	Predicted []float64
}
