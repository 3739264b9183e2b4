package facts

// Reading is one meter reading against the computed system.
type Reading struct {
	// ID is the reading set's id, a slash and the place: "first-visit/L4", or
	// "first-visit/T1/2" for a common.
	ID string `json:"id"`
	// Latest is true for a reading of the last visit; earlier ones are history.
	Latest bool `json:"latest"`
	// Set is the reading set's id, Index the reading's place in it.
	Set   string `json:"set"`
	Index int    `json:"index"`
	// At is the element that was measured.
	At string `json:"at"`
	// Quantity is volts or amps.
	Quantity string `json:"quantity"`
	// Measured is in V or A.
	Measured float64 `json:"measured"`
	// Expected is what the model gives at the measured supply; absent when
	// the reading could not be used.
	Expected *float64 `json:"expected,omitempty"`
	// Tolerance is what instrument, cable and temperature explain.
	Tolerance *float64 `json:"tolerance,omitempty"`
	// Refused says why the reading could not be used.
	Refused string `json:"refused,omitempty"`
}

// Diagnosis is what the readings of one visit at one transformer come to.
type Diagnosis struct {
	// ID is the reading set's id, a slash and the transformer.
	ID string `json:"id"`
	// Set and Transformer are ids.
	Set         string `json:"set"`
	Transformer string `json:"transformer"`
	// Latest is true for the last visit.
	Latest bool `json:"latest"`
	// Outcome is healthy, suspect, underdetermined or unexplained.
	Outcome string `json:"outcome"`
	// GroupSize is how many explanations cannot be told apart.
	GroupSize int `json:"group_size"`
	// NextAt and NextQuantity are the reading that would tell the leading
	// explanations apart best.
	NextAt       string `json:"next_at,omitempty"`
	NextQuantity string `json:"next_quantity,omitempty"`
	// NextLow and NextHigh are the least and the greatest that the leading
	// explanations predict there.
	NextLow  *float64 `json:"next_low,omitempty"`
	NextHigh *float64 `json:"next_high,omitempty"`
}

// Suspect is one explanation of readings that are off.
type Suspect struct {
	// ID is the element that is suspected.
	ID string `json:"id"`
	// Set and Transformer are ids.
	Set         string `json:"set"`
	Transformer string `json:"transformer"`
	// Latest is true for the last visit.
	Latest bool `json:"latest"`
	// Kind is joint, lamp-joint, dead-lamp, other-lamp, leak, wrong-tap or
	// other-cable.
	Kind string `json:"kind"`
	// Words describes the explanation.
	Words string `json:"words"`
	// ExtraOhm is the extra series resistance of a bad joint.
	ExtraOhm *float64 `json:"extra_ohm,omitempty"`
	// Watts is the power burnt in a bad joint.
	Watts *float64 `json:"watts,omitempty"`
	// Confidence is the weight of its group, 0 to 1.
	Confidence float64 `json:"confidence"`
	// Group is 1 for the best group of explanations that cannot be told
	// apart; Rank counts all of them from 1.
	Group int `json:"group"`
	Rank  int `json:"rank"`
}
