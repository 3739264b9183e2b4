package facts

// Supply is the mains side.
type Supply struct {
	// Volts is the nominal mains voltage.
	Volts *float64 `json:"volts,omitempty"`
	// LowFactor and HighFactor are the ends of the mains tolerance used.
	LowFactor  float64 `json:"low_factor"`
	HighFactor float64 `json:"high_factor"`
	// ToleranceAssumed is true when the profile's tolerance was used.
	ToleranceAssumed bool `json:"tolerance_assumed"`
	// InstalledBy is licensed, unlicensed or existing.
	InstalledBy string `json:"installed_by,omitempty"`
}

// Branch is a mains branch circuit.
type Branch struct {
	ID string `json:"id"`
	// BreakerAmps is the rating of its breaker.
	BreakerAmps *float64 `json:"breaker_amps,omitempty"`
	// OtherLoadVA is what else it feeds.
	OtherLoadVA *float64 `json:"other_load_va,omitempty"`
	// PrimaryAmps is the worst current of all transformers on it together,
	// without the other load; PrimaryCorner is its corner.
	PrimaryAmps   float64 `json:"primary_amps"`
	PrimaryCorner string  `json:"primary_corner,omitempty"`
	// TotalAmps is PrimaryAmps plus the other load; absent without volts.
	TotalAmps *float64 `json:"total_amps,omitempty"`
	// InrushAmps is the sum of the transformers' stated inrush currents.
	InrushAmps *float64 `json:"inrush_amps,omitempty"`
	// Transformers are the ids of the transformers on it.
	Transformers []string `json:"transformers"`
	// GFCI says whether the branch has ground-fault protection.
	GFCI *bool `json:"gfci,omitempty"`
}

// Receptacle is a mains receptacle.
type Receptacle struct {
	ID string `json:"id"`
	// Location is outdoor, garage or indoor.
	Location string `json:"location"`
	// HeightM is above the ground.
	HeightM *float64 `json:"height_m,omitempty"`
	// Branch is the branch circuit's id.
	Branch string `json:"branch,omitempty"`
	// GFCI is true when it or its branch circuit has ground-fault protection.
	GFCI *bool `json:"gfci,omitempty"`
	// InUseCover says whether the cover closes over a plug.
	InUseCover *bool `json:"in_use_cover,omitempty"`
	// WeatherResistant says whether the receptacle is listed so.
	WeatherResistant *bool `json:"weather_resistant,omitempty"`
	// ExtraDuty says whether the hood is listed extra-duty.
	ExtraDuty *bool `json:"extra_duty,omitempty"`
	// FedBy is wiring or extension-cord.
	FedBy string `json:"fed_by,omitempty"`
	// Switched says whether a wall switch can cut it off.
	Switched *bool `json:"switched,omitempty"`
	// WaterM is the distance to the nearest pool, spa or fountain.
	WaterM *float64 `json:"water_m,omitempty"`
	// Transformers are the ids of the transformers plugged into it.
	Transformers []string `json:"transformers"`
}

// Transformer is one power unit on site.
type Transformer struct {
	ID string `json:"id"`
	// Type is the catalogue name.
	Type string `json:"type"`
	// Kind is magnetic or electronic.
	Kind string `json:"kind"`
	// Output is ac, hf-ac or dc.
	Output string `json:"output"`
	// RatingVA is its rated load.
	RatingVA float64 `json:"rating_va"`
	// ConnectedVA is what its lamps draw at nominal supply, all on.
	ConnectedVA float64 `json:"connected_va"`
	// LossW is the power lost in cables and joints at nominal supply.
	LossW float64 `json:"loss_w"`
	// NominalVA is the load with cable losses at nominal supply, all on;
	// LoadVA the worst over the corners.
	NominalVA float64 `json:"nominal_va"`
	LoadVA    float64 `json:"load_va"`
	// LoadCorner is the corner that gave LoadVA.
	LoadCorner string `json:"load_corner"`
	// Loading is LoadVA over RatingVA.
	Loading float64 `json:"loading"`
	// GrowthVA is the stated growth.
	GrowthVA *float64 `json:"growth_va,omitempty"`
	// LargestLampVA is the load with the largest lamp in every fixture that
	// states one.
	LargestLampVA *float64 `json:"largest_lamp_va,omitempty"`
	// ImpedancePct is what was used; ImpedanceAssumed says it was assumed.
	ImpedancePct     float64 `json:"impedance_pct"`
	ImpedanceAssumed bool    `json:"impedance_assumed"`
	// PrimaryAmps is the worst primary current over the corners, each at its
	// own mains volts: the load, the loss in the windings and the stated
	// no-load loss.
	PrimaryAmps *float64 `json:"primary_amps,omitempty"`
	// MinimumLoadVA is the least load the maker states.
	MinimumLoadVA *float64 `json:"minimum_load_va,omitempty"`
	// LeastLoadVA is the load in the lightest scene that is in use.
	LeastLoadVA float64 `json:"least_load_va"`
	// LargestDistanceM is the longest cable the maker states.
	LargestDistanceM *float64 `json:"largest_distance_m,omitempty"`
	// FarthestM is the longest cable path to a lamp.
	FarthestM float64 `json:"farthest_m"`
	// OnOverload is trip, foldback or hiccup.
	OnOverload string `json:"on_overload,omitempty"`
	// HasProtection is true when it states a device or what it does on
	// overload; OverloadEnds is true when that ends LoadVA: a breaker larger
	// than the unit does not.
	HasProtection bool `json:"has_protection"`
	OverloadEnds  bool `json:"overload_ends"`
	// LargestTapVolts is the largest rated tap that is in use.
	LargestTapVolts float64 `json:"largest_tap_volts"`
	// PWMHz is the pulse frequency of a dc output.
	PWMHz *float64 `json:"pwm_hz,omitempty"`
	// HeightM is its underside above grade.
	HeightM *float64 `json:"height_m,omitempty"`
	// Location is outdoor, garage or indoor.
	Location string `json:"location"`
	// Outdoor says whether its enclosure is rated for outdoors.
	Outdoor *bool `json:"outdoor,omitempty"`
	// Listing lists what it is listed for.
	Listing []string `json:"listing"`
	// Receptacle is what it is plugged into.
	Receptacle string `json:"receptacle,omitempty"`
	// HardWired is true when it is wired to a branch circuit.
	HardWired bool `json:"hard_wired"`
	// Branch is the branch circuit it hangs on.
	Branch string `json:"branch,omitempty"`
	// CordM is its cord; CordNeededM the distance to the receptacle, heights
	// counted where both are stated.
	CordM       *float64 `json:"cord_m,omitempty"`
	CordNeededM *float64 `json:"cord_needed_m,omitempty"`
	// Extension says whether an extension cord feeds it; it is false where the
	// plan does not say, but states a cord of its own that reaches.
	Extension *bool `json:"extension_cord,omitempty"`
	// MountedOn is the surface behind it.
	MountedOn string `json:"mounted_on,omitempty"`
	// Enclosed says that it lacks the ventilation asked for.
	Enclosed *bool `json:"enclosed,omitempty"`
	// WaterM is the distance to the nearest water, WaterKind its kind.
	WaterM    *float64 `json:"water_m,omitempty"`
	WaterKind string   `json:"water_kind,omitempty"`
	// SnowM is how deep snow lies, FloodM how high water may rise, both above
	// the ground at it.
	SnowM  *float64 `json:"snow_m,omitempty"`
	FloodM *float64 `json:"flood_m,omitempty"`
	// Dimmed is true when a dimmer acts on it.
	Dimmed bool `json:"dimmed"`
	// Dimmable says whether the maker allows it.
	Dimmable *bool `json:"dimmable,omitempty"`
	// Solved is false when the network has no stable answer.
	Solved bool `json:"solved"`
	// Residual is the largest error in amps left in the solution.
	Residual float64 `json:"residual"`
}

// Common is one output of a transformer that is in use. Its id is the
// transformer's id, a slash and the number: "T1/2".
type Common struct {
	ID string `json:"id"`
	// Transformer is the transformer's id, Number the terminal, from 1.
	Transformer string `json:"transformer"`
	Number      int    `json:"number"`
	// Index is the common's place in the type's list.
	Index int `json:"index"`
	// Amps is the worst current of all runs that return on it.
	Amps float64 `json:"amps"`
	// NominalAmps is the current at nominal supply, all on.
	NominalAmps float64 `json:"nominal_amps"`
	// Corner is the corner that gave Amps.
	Corner string `json:"corner"`
	// VA is the worst load on it, VACorner its corner.
	VA       float64 `json:"va"`
	VACorner string  `json:"va_corner"`
	// LargestVA is the most the listing allows on it.
	LargestVA *float64 `json:"largest_va,omitempty"`
	// Protection is own (a device of its own), elsewhere (the unit limits
	// itself, or a device on a tap or the primary), none (the terminals are
	// described, without a device) or unknown (they are not described).
	Protection string `json:"protection"`
	// DeviceAmps and DeviceKind are its own device.
	DeviceAmps *float64 `json:"device_amps,omitempty"`
	DeviceKind string   `json:"device_kind,omitempty"`
	// Conductors is how many legs land on it, MostConductors how many fit.
	Conductors     int  `json:"conductors"`
	MostConductors *int `json:"most_conductors,omitempty"`
	// Runs are the ids of the runs that return on it.
	Runs []string `json:"runs"`
}

// Run is a network of cable from one common at one tap.
type Run struct {
	ID string `json:"id"`
	// Transformer and Common are where it starts, TapVolts the rated tap.
	Transformer string  `json:"transformer"`
	Common      int     `json:"common"`
	TapVolts    float64 `json:"tap_volts"`
	// Lamps are the ids of the fixtures it feeds.
	Lamps []string `json:"lamps"`
	// ConnectedVA is what its lamps draw at nominal supply.
	ConnectedVA float64 `json:"connected_va"`
	// Solved is false when constant-power lamps have no stable answer.
	Solved bool `json:"solved"`
	// Corner is the corner without an answer.
	Corner string `json:"corner,omitempty"`
	// CouldCarry is the share of its load that the run could carry in that
	// corner; absent when it is solved.
	CouldCarry *float64 `json:"could_carry,omitempty"`
	// CouldCarryVA is the same in VA.
	CouldCarryVA *float64 `json:"could_carry_va,omitempty"`
	// FilamentVA, LEDVA are the loads by kind.
	FilamentVA float64 `json:"filament_va"`
	LEDVA      float64 `json:"led_va"`
	// FilamentSpreadV is the highest less the lowest volts of the filament
	// lamps at nominal supply; absent with fewer than two.
	FilamentSpreadV *float64 `json:"filament_spread_v,omitempty"`
	// FirstLamp and LastLamp are the lamps of that spread.
	FirstLamp string `json:"first_lamp,omitempty"`
	LastLamp  string `json:"last_lamp,omitempty"`
	// Amps is the worst current at its start, Corner given in AmpsCorner.
	Amps       float64 `json:"amps"`
	AmpsCorner string  `json:"amps_corner"`
	// LengthM is all its cable, FarthestM the longest path to a lamp.
	LengthM   float64 `json:"length_m"`
	FarthestM float64 `json:"farthest_m"`
	// EqualLeads is true when the leads of its hubs are meant to be equal;
	// LongestLeadM and ShortestLeadM are what they are.
	EqualLeads    bool     `json:"equal_leads"`
	LongestLeadM  *float64 `json:"longest_lead_m,omitempty"`
	ShortestLeadM *float64 `json:"shortest_lead_m,omitempty"`
}

// Node is a hub, tee or splice.
type Node struct {
	ID string `json:"id"`
	// Run is the run's id.
	Run string `json:"run"`
	// Kind is hub, tee or splice.
	Kind string `json:"kind"`
	// NominalVolts is the voltage there at nominal supply.
	NominalVolts *float64 `json:"nominal_volts,omitempty"`
}

// Leg is one cable between two ends.
type Leg struct {
	ID string `json:"id"`
	// Run, From and To are ids.
	Run  string `json:"run"`
	From string `json:"from"`
	To   string `json:"to"`
	// Chained is true when the leg comes from a run's chain.
	Chained bool `json:"chained"`
	// Cable is the catalogue name, Conductor its size; absent when the plan
	// states no cable.
	Cable     string `json:"cable,omitempty"`
	Conductor string `json:"conductor,omitempty"`
	// AreaMM2 is the conductor's cross-section, Flexible true when it has
	// many thin strands.
	AreaMM2  float64 `json:"area_mm2"`
	Flexible bool    `json:"flexible"`
	// LengthM is one way; absent when the plan gives neither length nor
	// positions. SlackM is extra cable at its ends.
	LengthM *float64 `json:"length_m,omitempty"`
	SlackM  float64  `json:"slack_m"`
	// Amps is the worst current, AmpsCorner its corner; NominalAmps at
	// nominal supply.
	Amps        float64 `json:"amps"`
	AmpsCorner  string  `json:"amps_corner"`
	NominalAmps float64 `json:"nominal_amps"`
	// DropV is the drop along it at nominal supply.
	DropV float64 `json:"drop_v"`
	// LossW is the power lost in it at nominal supply.
	LossW float64 `json:"loss_w"`
	// AmpacityA is what the cable may carry, AmpacitySource where that is
	// from, AmpacityMarked true when it is the mark on the cable type.
	AmpacityA      *float64 `json:"ampacity_a,omitempty"`
	AmpacitySource string   `json:"ampacity_source,omitempty"`
	AmpacityMarked bool     `json:"ampacity_marked"`
	// DeviceAmps is the device that protects it. LargestDeviceA is the largest
	// that the profile's table has for its conductor, LargestDeviceSource where
	// that is from.
	DeviceAmps          *float64 `json:"device_amps,omitempty"`
	LargestDeviceA      *float64 `json:"largest_device_a,omitempty"`
	LargestDeviceSource string   `json:"largest_device_source,omitempty"`
	// Method is how it is laid.
	Method string `json:"method,omitempty"`
	// CoverM is its cover, ListedCoverM the shallower cover of a listed
	// system.
	CoverM       *float64 `json:"cover_m,omitempty"`
	ListedCoverM *float64 `json:"listed_cover_m,omitempty"`
	// SleeveMaterial is absent without a sleeve; SleeveWhere is whole or
	// crossings.
	SleeveMaterial string `json:"sleeve_material,omitempty"`
	SleeveWhere    string `json:"sleeve_where,omitempty"`
	// CableListing lists what the cable is listed for; DirectBurial and
	// SunlightResistant say it as well, stated apart or in the listing.
	CableListing      []string `json:"cable_listing"`
	DirectBurial      *bool    `json:"direct_burial,omitempty"`
	SunlightResistant *bool    `json:"sunlight_resistant,omitempty"`
	// Routed is true when its place on the ground is known.
	Routed bool `json:"routed"`
	// OffLandM is how much of it lies on other people's land.
	OffLandM float64 `json:"off_land_m"`
	// ToFixture is true when it ends at a fixture.
	ToFixture bool `json:"to_fixture"`
}

// Joint is a place where conductors are joined.
type Joint struct {
	// ID is the node's or fixture's id.
	ID string `json:"id"`
	// IsFixture is true at a fixture.
	IsFixture bool `json:"is_fixture"`
	// Connector is the catalogue name, Kind its kind.
	Connector string `json:"connector,omitempty"`
	Kind      string `json:"kind,omitempty"`
	// Listing lists what the connector is listed for; absent without one.
	Listing []string `json:"listing,omitempty"`
	// Buried is true when the joint lies in the ground: as the plan says, else
	// when a cable in the ground ends there and nothing lifts it out.
	Buried bool `json:"buried"`
	// Place is buried, box, above-ground or in-enclosure.
	Place string `json:"place,omitempty"`
	// Accessible says whether it can be reached without breaking anything.
	Accessible *bool `json:"accessible,omitempty"`
	// Under lists what lies above a node and is in the way: paving, drive,
	// deck, building. A fixture is its own way in.
	Under []string `json:"under"`
	// Conductors is how many cables meet, the fixture's own lead counted, so
	// how many conductors each pole joins; MostConductors is how many fit one
	// connector.
	Conductors     int  `json:"conductors"`
	MostConductors *int `json:"most_conductors,omitempty"`
}

// Misfeed is a place where the network is not what it should be.
type Misfeed struct {
	// ID is the leg, node, fixture or run.
	ID string `json:"id"`
	// Kind is island, joined-taps, joined-commons, joined-sources, swapped or
	// on-itself.
	Kind string `json:"kind"`
	// Runs are the runs that it joins.
	Runs []string `json:"runs"`
	// Members are the nodes and fixtures of an island.
	Members []string `json:"members"`
	// Volts drive the current round the closed loop.
	Volts float64 `json:"volts"`
}

// Fault is the weakest short circuit of one run, against the device that should
// end it.
type Fault struct {
	// ID is the run's id.
	ID string `json:"id"`
	// At is the far end where a bolted short gives the least current.
	At string `json:"at"`
	// DeviceAmps, DeviceKind and DeviceWhere (common, tap or primary) are the
	// device that opens at the least current of those a short on the run goes
	// through, as marked; absent without one.
	DeviceAmps  *float64 `json:"device_amps,omitempty"`
	DeviceKind  string   `json:"device_kind,omitempty"`
	DeviceWhere string   `json:"device_where,omitempty"`
	// NeededAmps is what surely opens the device: its rating times the
	// profile's multiple, as amps on the run.
	NeededAmps *float64 `json:"needed_amps,omitempty"`
	// LeastAmps flows with hot cable and low supply into a short at At.
	LeastAmps float64 `json:"least_amps"`
	// MostAmps is the most at the transformer's terminals.
	MostAmps float64 `json:"most_amps"`
	// Clears is true when LeastAmps opens the device.
	Clears bool `json:"clears"`
	// Protection is that of the run's common: own, elsewhere, none or unknown.
	Protection string `json:"protection"`
	// SupplyReacts is true of an electronic supply whose own reaction to an
	// overload is stated: a short puts every lamp on it out.
	SupplyReacts bool `json:"supply_reacts"`
	// HeatedLeg is the leg that a short loads beyond what it may carry for as
	// long as the device stays closed; HeatedAmps says with how much.
	// HeatedAllowedA is what it may carry for so long: its ampacity,
	// HeatedAmpacityA, or behind a device whose rating is not above that the
	// profile's multiple of it.
	HeatedLeg       string   `json:"heated_leg,omitempty"`
	HeatedAmps      *float64 `json:"heated_amps,omitempty"`
	HeatedAmpacityA *float64 `json:"heated_ampacity_a,omitempty"`
	HeatedAllowedA  *float64 `json:"heated_allowed_a,omitempty"`
}
