package wire

// Setting is the set of conditions that Analyse covers.
type Setting struct {
	// LowFactor and HighFactor multiply the volts of an unregulated source:
	// 0.95 and 1.05 for a mains tolerance of 5 %.
	LowFactor, HighFactor float64
	// NominalC is the conductor temperature of the nominal corner. HotGroundC
	// is the ground temperature of the hot corner; RiseK is the rise of a
	// conductor that carries its ampacity. ColdGroundC is the temperature of
	// the cold corners.
	NominalC, HotGroundC, RiseK, ColdGroundC float64
	// Scenes are the scenes in use, each solved at high supply, cold.
	Scenes []Scene
	// Zones are parts of the system that can be on alone, each solved at high
	// supply, cold.
	Zones []Zone
	// LampsOut solves high supply, cold, with each lamp out in turn.
	LampsOut bool
}

// Zone is a set of loads that can be on while all others are off.
type Zone struct {
	// Name says what they are: "zone timer-1".
	Name string
	// Loads are their ids.
	Loads []string
}

// The names of the corners. A corner with a lamp out, a scene or a zone is
// named after the cold one with the rest appended:
// "high supply, cold cable, L7 out".
const (
	CornerNominal = "nominal"
	CornerLow     = "low supply, hot cable"
	CornerHigh    = "high supply, cold cable"
)

// NominalC is the usual conductor temperature of the nominal corner in degrees
// Celsius.
const NominalC = 20

// Analysis is a network over all corners. Lists are sorted by id.
type Analysis struct {
	// Nominal, Low and High are the corners with every lamp on.
	Nominal, Low, High Solution
	// Scenes are the scenes in the order given, at high supply, cold.
	Scenes []Solution
	Lamps  []LampRange
	Legs   []LegRange
	Feeds  []FeedRange
	// Commons and Source have the largest values over all corners.
	Commons []CommonRange
	Source  SourceRange
	// Failed lists the corners that have no solution or did not converge.
	Failed []FailedCorner
	// Corners counts the corners solved; WorstResidualAmps is the largest
	// residual of them all.
	Corners           int
	WorstResidualAmps float64
}

// LampRange is one load over all corners in which it is on. A corner without
// volts is left out; where drivers dropped out, volts are those after that. A
// lamp that no corner lit has 0 volts and no corner.
type LampRange struct {
	ID, Feed           string
	NominalVolts       float64
	MinVolts           float64
	MinCorner          string
	MaxVolts           float64
	MaxCorner          string
	DropVolts          float64 // at nominal, loaded tap to lamp
	DropFraction       float64
	NominalAmps        float64
	NominalVA          float64
	NominalWatts       float64
	Dropped            bool // below drop-out in some corner
	DroppedCorner      string
	LightMin, LightMax float64 // relative to rated, at MinVolts and MaxVolts
	LightNominal       float64
	LifeLow, LifeHigh  float64 // relative to rated, at nominal volts
}

// LegRange is one cable over all corners.
type LegRange struct {
	ID          string
	MaxAmps     float64 // absolute
	Corner      string
	NominalAmps float64 // from From to To
	Ohms        float64 // nominal, both conductors and joints
	LossWatts   float64 // nominal
	ConductorC  float64 // in the low corner
}

// FeedRange is one feed over all corners.
type FeedRange struct {
	ID      string
	MaxAmps float64
	Corner  string
	// Spread is over every lamp of the feed at nominal, Filaments over the
	// filament lamps alone.
	Spread, Filaments Spread
	NominalVolts      float64 // loaded tap
	NominalVA         float64
	CableWatts        float64 // nominal
}

// Spread is the difference between the highest and the lowest lamp of a feed.
type Spread struct {
	Volts           float64
	Highest, Lowest string // lamp ids; empty when there is no lamp
}

// CommonRange is one common over all corners.
type CommonRange struct {
	ID          string
	MaxAmps     float64
	AmpsCorner  string
	MaxVA       float64
	VACorner    string
	NominalAmps float64
	NominalVA   float64
}

// SourceRange is the power unit over all corners.
type SourceRange struct {
	MaxVA             float64 // output
	Corner            string
	MaxInternalVA     float64 // with the internal loss
	NominalVA         float64
	NominalLossWatts  float64 // internal
	NominalCableWatts float64 // cables, joints and leads
	Loading           float64 // MaxVA over rated VA
	// SpareVA is rated VA less MaxVA; negative when overloaded.
	SpareVA float64
}

// FailedCorner is a corner without an answer. Carry is given for the corners
// that are solved in full, not for those with a lamp out; these are listed only
// when the corner with all lamps on has an answer.
type FailedCorner struct {
	Corner string
	Status Status
	Carry  Carry
}
