package wire

// Status is what came out of a solution.
type Status string

// The outcomes.
const (
	// Solved: every load runs, the residual is small.
	Solved Status = "solved"
	// DroppedOut: a solution exists, but at least one driver is below its
	// drop-out there. Volts are those with the drivers dropped out.
	DroppedOut Status = "dropped-out"
	// NoSolution: the cables cannot carry the load, whatever the volts.
	// Solution.Carry says how much they could. Where every driver that
	// collapses states its drop-out, volts are those after it has dropped
	// out; otherwise all volts are 0.
	NoSolution Status = "no-solution"
	// NotConverged: the iteration ended without meeting its tolerance, or rounding
	// leaves a residual that is not small. Volts are 0; the residual says by
	// how much.
	NotConverged Status = "not-converged"
)

// Solution is the network in one corner. Lists are sorted by id.
type Solution struct {
	Corner string
	Status Status
	// Iterations counts linear solves. ResidualAmps is the largest
	// difference between the current a load draws by its law at the volts
	// reported and the current it has in the network.
	Iterations   int
	ResidualAmps float64
	Lamps        []LampResult
	Legs         []LegResult
	Nodes        []NodeResult
	Feeds        []FeedResult
	Commons      []CommonResult
	Source       SourceResult
	// Open lists the legs that were left out because they close between
	// feeds that must not be joined; see Topology.
	Open []string
	// Carry is set when Status is NoSolution.
	Carry *Carry
}

// LampResult is one load in one corner.
type LampResult struct {
	ID   string
	Feed string // feed with the highest volts that reaches it; empty on an island
	// On is false when the load is out in this corner; Volts are then those
	// at its node.
	On bool
	// Volts at the lamp, after its lead. Amps RMS. VA and Watts drawn.
	Volts, Amps, VA, Watts float64
	// DropVolts is from the loaded tap to the lamp, wire and joints only;
	// DropFraction is that over the loaded tap's volts.
	DropVolts, DropFraction float64
	// Dropped says the driver is below its drop-out.
	Dropped bool
}

// LegResult is one cable in one corner. Amps are positive from From to To.
type LegResult struct {
	ID         string
	Amps       float64
	Ohms       float64 // both conductors and their joints
	LossWatts  float64
	ConductorC float64
}

// NodeResult is one node in one corner.
type NodeResult struct {
	ID    string
	Volts float64
}

// FeedResult is one feed in one corner: loaded volts, amps, and VA.
type FeedResult struct {
	ID         string
	Volts      float64
	Amps       float64
	VA         float64
	CableWatts float64 // lost in cables, joints and leads of the feed's part of the network
}

// CommonResult is one common terminal: the sum of the feeds that return on it.
type CommonResult struct {
	ID       string
	Amps, VA float64
}

// SourceResult is the power unit in one corner.
type SourceResult struct {
	// OutputVA leaves the terminals; InternalVA also counts the losses in the
	// internal impedance. Core loss and magnetising current are not modelled.
	OutputVA, InternalVA float64
	// LossWatts are lost in the internal impedance, CableWatts in cables,
	// joints and leads. LampVA is what arrives at lamps.
	LossWatts, CableWatts, LampVA float64
	// Loading is OutputVA over rated VA; 0 when the rating is unknown.
	Loading float64
}

// Carry is how much of its load a network or a run could carry.
type Carry struct {
	// Multiple is the largest factor on the loads for which a solution
	// exists; meaningful when Bounded.
	Multiple float64
	// Bounded is false where no driver is on (filaments and resistors draw
	// less as the volts fall, so there is always a solution) and where the
	// cables would carry more than a thousand times the load.
	Bounded bool
	// Feed and Lamp name the weakest feed and lamp near the limit.
	Feed, Lamp string
	// FeedMultiple is the largest factor on the loads of Feed alone, all
	// others as they are; 0 when those have no solution by themselves.
	FeedMultiple float64
}
