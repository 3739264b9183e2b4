// Package facts holds what rules may see: the resolved plan plus every
// computed quantity, in SI units named in the field names. Its JSON form is
// the input of the Rego rules, published as schema/facts.schema.json.
//
// Collections are arrays of closed objects. An unknown value is absent, never
// null: a pointer that is nil here, a field that is missing there. Effective
// limits are under limits.
package facts

// Document is everything the rules of one plan may read.
type Document struct {
	// Units is the plan's own unit of length, "ft" or "m", for messages.
	Units string `json:"units"`
	// Stage is survey, design, issued or as-built.
	Stage string `json:"stage"`
	// Today is the date of the check, ISO 8601.
	Today string `json:"today"`
	// Title is the plan's title.
	Title string `json:"title"`
	// HasSite is true when the plan describes the ground.
	HasSite bool `json:"has_site"`
	// HasPropertyLine is true when the plan has a property line.
	HasPropertyLine bool `json:"has_property_line"`
	// Profiles lists the profiles in force, the lowest first.
	Profiles []string `json:"profiles"`
	// Limits are the effective limits, in order of name.
	Limits []Limit `json:"limits"`
	// Cautions are the standing cautions of the profiles in force.
	Cautions []Caution `json:"cautions"`

	// Supply is the mains side.
	Supply Supply `json:"supply"`
	// Permissions is what authorities and owners have been asked.
	Permissions Permissions `json:"permissions"`
	// Branches are the mains branch circuits.
	Branches []Branch `json:"branches"`
	// Receptacles are the mains receptacles.
	Receptacles []Receptacle `json:"receptacles"`
	// Transformers are the power units on site.
	Transformers []Transformer `json:"transformers"`
	// Commons are the outputs that are in use, one for each transformer and
	// common.
	Commons []Common `json:"commons"`
	// Runs are the networks of cable.
	Runs []Run `json:"runs"`
	// Nodes are hubs, tees and splices.
	Nodes []Node `json:"nodes"`
	// Legs are the cables between two ends.
	Legs []Leg `json:"legs"`
	// Pieces are stretches of legs with the same surfaces above.
	Pieces []Piece `json:"pieces"`
	// Joints are places where conductors are joined: nodes and fixtures.
	Joints []Joint `json:"joints"`
	// Misfeeds are places where the network is not what it should be.
	Misfeeds []Misfeed `json:"misfeeds"`
	// Faults are far-end short circuits, one for each protected output.
	Faults []Fault `json:"faults"`

	// Fixtures are the luminaires, each with what its lamp gets.
	Fixtures []Fixture `json:"fixtures"`
	// Scenes are the states of the lights.
	Scenes []Scene `json:"scenes"`
	// Controls are the control devices.
	Controls []Control `json:"controls"`

	// Stairs are the flights of steps.
	Stairs []Stair `json:"stairs"`
	// Treads are all treads and landings to be lit, each in each scene in use.
	Treads []Tread `json:"treads"`
	// Paths are the paths to be lit, each in each scene in use.
	Paths []Path `json:"paths"`
	// Leaves are the gates and doors.
	Leaves []Leaf `json:"leaves"`
	// LeafClearances are fixtures in or near the sweep of a leaf.
	LeafClearances []LeafClearance `json:"leaf_clearances"`
	// LeafShadows are places that a leaf throws into shadow.
	LeafShadows []LeafShadow `json:"leaf_shadows"`
	// Beams are uplights aimed at trees.
	Beams []Beam `json:"beams"`
	// Sightlines are bare sources in sight of an eye or a window.
	Sightlines []Sightline `json:"sightlines"`
	// Boundary is the light at the property line and at windows.
	Boundary []BoundaryLight `json:"boundary"`
	// Standings are fixtures that stand in a zone of traffic, near its edge, or
	// beyond the property line.
	Standings []Standing `json:"standings"`
	// Crossings are places where a leg meets something that matters.
	Crossings []Crossing `json:"crossings"`
	// WaterDistances are things near water.
	WaterDistances []WaterDistance `json:"water_distances"`
	// Services are the buried service lines.
	Services []Service `json:"services"`
	// Beds are the planting beds.
	Beds []Bed `json:"beds"`
	// TakeOff compares what is needed with what was bought.
	TakeOff []TakeOff `json:"take_off"`
	// Photometry says how each photometric file agrees with the plan.
	Photometry []Photometry `json:"photometry"`
	// Readings are meter readings against the computed system.
	Readings []Reading `json:"readings"`
	// Diagnoses say what each visit's readings come to, one for each
	// transformer that was measured.
	Diagnoses []Diagnosis `json:"diagnoses"`
	// Suspects are the likely causes of readings that are off.
	Suspects []Suspect `json:"suspects"`
}

// Limit is one effective limit, with where it came from.
type Limit struct {
	// Name is the limit's name, "light.step_min".
	Name string `json:"name"`
	// Value is the number, in Unit; absent for words and tables.
	Value *float64 `json:"value,omitempty"`
	// Least is the smallest number that does not break the limit where it is
	// a lower one: Value less the tolerance of comparisons in its unit.
	Least *float64 `json:"least,omitempty"`
	// Most is the largest number that does not break the limit where it is
	// an upper one: Value and the tolerance of comparisons in its unit.
	Most *float64 `json:"most,omitempty"`
	// Text is the value when it is a word.
	Text string `json:"text,omitempty"`
	// Flag is the value when it is yes or no.
	Flag *bool `json:"flag,omitempty"`
	// Table holds the rows when the value is a table.
	Table []LimitRow `json:"table,omitempty"`
	// Unit is the SI unit of Value, "1" for ratios.
	Unit string `json:"unit"`
	// Source names clause and edition, or "common practice".
	Source string `json:"source"`
	// Basis is code, listing, standard, practice or house.
	Basis string `json:"basis"`
	// Confidence is confirmed, single, memory or practice.
	Confidence string `json:"confidence"`
	// Profile is the profile that set it.
	Profile string `json:"profile"`
}

// LimitRow is one row of a limit that is a table.
type LimitRow struct {
	// Key names the row.
	Key string `json:"key"`
	// Value is in the limit's unit.
	Value float64 `json:"value"`
}

// Caution is a standing caution of a profile.
type Caution struct {
	// Rule is the rule that prints it, "law.permit".
	Rule string `json:"rule"`
	// Text is the caution.
	Text string `json:"text"`
	// Source names what it rests on.
	Source string `json:"source"`
	// Profile is the profile that brings it.
	Profile string `json:"profile"`
}

// Permissions is what authorities and owners have been asked.
type Permissions struct {
	// LocateTicket is the utility locate's number.
	LocateTicket string `json:"locate_ticket,omitempty"`
	// LocateExpires is its last valid day.
	LocateExpires string `json:"locate_expires,omitempty"`
	// PrivateLinesMapped says whether private buried lines were mapped.
	PrivateLinesMapped *bool `json:"private_lines_mapped,omitempty"`
	// PermitState is not-asked, asked, granted or not-needed.
	PermitState string `json:"permit_state,omitempty"`
	// AssociationState is the same for a homeowners' association.
	AssociationState string `json:"association_state,omitempty"`
}

// TakeOff compares need and purchase of one thing. There is one for each thing
// that is needed, and for each other thing that was bought.
type TakeOff struct {
	// ID is the name of the cable, fixture, connector or transformer type, or
	// the size of a sleeve.
	ID string `json:"id"`
	// What is cable, fixture, connector, transformer or sleeve.
	What string `json:"what"`
	// Index is the place of its first entry in the plan's take_off, -1 when
	// there is none.
	Index int `json:"index"`
	// Unit is m for cable and sleeve, 1 for what is counted.
	Unit string `json:"unit"`
	// Needed is in metres or a count: all routed cable with its slack, all
	// joints.
	Needed float64 `json:"needed"`
	// Unmeasured is how many legs have no length, so that Needed is too small.
	Unmeasured int `json:"unmeasured"`
	// Bought is in metres or a count, of all entries; absent when the plan
	// lists nothing of that kind, nought when it lists others of it.
	Bought *float64 `json:"bought,omitempty"`
}
