package facts

// Fixture is one luminaire, with what its lamp gets.
type Fixture struct {
	ID string `json:"id"`
	// Type is the catalogue name, Kind its kind.
	Type string `json:"type"`
	Kind string `json:"kind"`
	// ArrayOf is the id of the array it belongs to.
	ArrayOf string `json:"array_of,omitempty"`
	// Placed is true when its position is known.
	Placed bool `json:"placed"`
	// XM and YM are its position.
	XM *float64 `json:"x_m,omitempty"`
	YM *float64 `json:"y_m,omitempty"`
	// HeightM is the light centre above what it stands on.
	HeightM *float64 `json:"height_m,omitempty"`
	// RadiusM is half its body's diameter.
	RadiusM *float64 `json:"radius_m,omitempty"`
	// Mount and Host are how and on what it is mounted.
	Mount string `json:"mount,omitempty"`
	Host  string `json:"host,omitempty"`
	// Mounting is what the type is made for.
	Mounting string `json:"mounting,omitempty"`
	// Group is its switching group.
	Group string `json:"group,omitempty"`
	// Load is constant-power, constant-current, filament or resistive.
	Load string `json:"load"`
	// Watts and VA are what the plan states; VAUsed is what was computed
	// with, VAAssumed true when that rests on an assumed power factor.
	Watts     *float64 `json:"watts,omitempty"`
	VA        *float64 `json:"va,omitempty"`
	VAUsed    float64  `json:"va_used"`
	VAAssumed bool     `json:"va_assumed"`
	// LargestVA is the load of the largest lamp the fixture accepts.
	LargestVA *float64 `json:"largest_va,omitempty"`
	// MinVolts and MaxVolts are its window, DropOutV where it goes out.
	MinVolts *float64 `json:"min_volts,omitempty"`
	MaxVolts *float64 `json:"max_volts,omitempty"`
	DropOutV *float64 `json:"drop_out_v,omitempty"`
	// RatedVolts is a filament lamp's rating.
	RatedVolts float64 `json:"rated_volts"`
	// Wired is true when a leg of a run ends at it, Fed when it gets volts
	// from a transformer; Run, Transformer and TapVolts say which.
	Wired       bool     `json:"wired"`
	Fed         bool     `json:"fed"`
	Run         string   `json:"run,omitempty"`
	Transformer string   `json:"transformer,omitempty"`
	TapVolts    *float64 `json:"tap_volts,omitempty"`
	// NominalVolts, LowVolts and HighVolts are at the lamp, over the
	// corners; LowCorner and HighCorner say which corner.
	NominalVolts *float64 `json:"nominal_volts,omitempty"`
	LowVolts     *float64 `json:"low_volts,omitempty"`
	LowCorner    string   `json:"low_corner,omitempty"`
	HighVolts    *float64 `json:"high_volts,omitempty"`
	HighCorner   string   `json:"high_corner,omitempty"`
	// Corners are its volts at nominal, low and high supply with every lamp on,
	// and in each scene in use that lights it; for readers, not for rules.
	Corners []CornerVolts `json:"-"`
	// DropsOut is true when its driver goes out in some corner, DropsOutAt
	// the first of these. It draws less once it is out, so its volts are
	// higher than those that it lacked.
	DropsOut   bool   `json:"drops_out"`
	DropsOutAt string `json:"drops_out_at,omitempty"`
	// DropV and DropShare are from the loaded tap to the lamp at nominal
	// supply, wire and joints only; the share is of the rated tap.
	DropV     *float64 `json:"drop_v,omitempty"`
	DropShare *float64 `json:"drop_share,omitempty"`
	// Lumens is what the lamp gives at rated volts.
	Lumens *float64 `json:"lumens,omitempty"`
	// LightShare is its light at nominal volts over its rated light.
	LightShare *float64 `json:"light_share,omitempty"`
	// EmittedLm is what the fixture gives at rated volts: as the plan states
	// it, else as its photometric file does.
	EmittedLm *float64 `json:"emitted_lm,omitempty"`
	// Light is the built-in shape or the file that says where its light goes.
	Light string `json:"light,omitempty"`
	// HasLight is true when its light is known: its place, height and aim,
	// how much there is and where it goes.
	HasLight bool `json:"has_light"`
	// LightsSite is true when its light has to be known: it stands near a
	// place that is meant to be lit, may stand there, or is aimed at a tree.
	LightsSite bool `json:"lights_site"`
	// NearLine and NearWindow are true when its light has to be known for the
	// neighbours' sake: it stands near the property line or a neighbour's
	// window, or may.
	NearLine   bool `json:"near_line"`
	NearWindow bool `json:"near_window"`
	// UpShare is the share of its light above the horizontal as installed.
	UpShare *float64 `json:"up_share,omitempty"`
	// UpLumens is the same in lumens, at rated volts.
	UpLumens *float64 `json:"up_lumens,omitempty"`
	// Aim is stated, or own for one that shines as it is made or mounted;
	// absent where the plan leaves open which way it shines.
	Aim string `json:"aim,omitempty"`
	// AimTiltDeg is how far it is tipped from straight down.
	AimTiltDeg *float64 `json:"aim_tilt_deg,omitempty"`
	// Shield is full-cutoff, shrouded, louvred or none.
	Shield string `json:"shield,omitempty"`
	// Colour is coloured when the plan states a wavelength, else white when
	// it states a colour temperature.
	Colour string `json:"colour,omitempty"`
	// CCT is in kelvin; PeakNM and ShortestNM in nanometres.
	CCT               *float64 `json:"cct_k,omitempty"`
	PeakNM            *float64 `json:"peak_nm,omitempty"`
	ShortestNM        *float64 `json:"shortest_nm,omitempty"`
	PhosphorConverted *bool    `json:"phosphor_converted,omitempty"`
	Tunable           *bool    `json:"tunable,omitempty"`
	// IPSolid and IPWater are the two numerals of the IP code; IPDual is
	// true for a dual marking such as IP65/IP67.
	IPSolid *int `json:"ip_solid,omitempty"`
	IPWater *int `json:"ip_water,omitempty"`
	IPDual  bool `json:"ip_dual"`
	// Listing lists what it is listed for.
	Listing []string `json:"listing"`
	// SurfaceC is its hottest surface, CombustibleM the clearance its label
	// asks for, ThermalCutOut whether it has one.
	SurfaceC      *float64 `json:"surface_c,omitempty"`
	CombustibleM  *float64 `json:"combustible_m,omitempty"`
	ThermalCutOut *bool    `json:"thermal_cut_out,omitempty"`
	// Surround is what lies round it, stated or from the bed it stands in.
	Surround string `json:"surround,omitempty"`
	// NearestCombustibleM is the distance from its light centre to mulch,
	// leaves, timber or a trunk, heights counted; absent beyond 3 m. What it
	// is mounted on does not count, and a fixture whose height is not stated
	// is taken to lie on the ground.
	NearestCombustibleM *float64 `json:"nearest_combustible_m,omitempty"`
	// NearestCombustible says what that is.
	NearestCombustible string `json:"nearest_combustible,omitempty"`
	// HostBurns says what it is mounted on, where that burns.
	HostBurns string `json:"host_burns,omitempty"`
	// InEarth is true when it lies flush in the ground.
	InEarth bool `json:"in_earth"`
	// GravelM is the gravel below it, Drain whether it has a drain.
	GravelM *float64 `json:"gravel_m,omitempty"`
	Drain   *bool    `json:"drain,omitempty"`
	// SoilDrains says whether the site's soil drains freely.
	SoilDrains *bool `json:"soil_drains,omitempty"`
	// SlackM is the spare cable at it, LeadM what is left of its factory
	// lead.
	SlackM float64  `json:"slack_m"`
	LeadM  *float64 `json:"lead_m,omitempty"`
	// LoadClass is none, walk-over or drive-over.
	LoadClass string `json:"load_class,omitempty"`
	// TreeFixing, TreeCableFixing, TreeGrowthM and TreeProtected describe a
	// fixture in a tree.
	TreeFixing      string   `json:"tree_fixing,omitempty"`
	TreeCableFixing string   `json:"tree_cable_fixing,omitempty"`
	TreeGrowthM     *float64 `json:"tree_growth_m,omitempty"`
	TreeProtected   *bool    `json:"tree_protected,omitempty"`
	// Dimmed is true when a dimmer acts on it, Dimmable what its maker says.
	Dimmed   bool  `json:"dimmed"`
	Dimmable *bool `json:"dimmable,omitempty"`
	// UnderDeck is the id of the deck it is under, UnderDeckBurns true when
	// that is of timber or composite.
	UnderDeck      string `json:"under_deck,omitempty"`
	UnderDeckBurns bool   `json:"under_deck_burns"`
}

// CornerVolts is the volts of one lamp in one corner.
type CornerVolts struct {
	Corner string
	Volts  float64
}

// Scene is one state of the lights.
type Scene struct {
	ID string `json:"id"`
	// Control is the control that makes it; empty for the implicit scene.
	Control string `json:"control,omitempty"`
	// InUse is true when people walk in it.
	InUse bool `json:"in_use"`
	// Lamps are the ids of the fixtures that are on.
	Lamps []string `json:"lamps"`
	// From and Until are when it begins and ends, as the plan states.
	From  string `json:"from,omitempty"`
	Until string `json:"until,omitempty"`
	// Ends is when its lamps go out: Until, else when its control goes off;
	// absent when the plan does not say.
	Ends string `json:"ends,omitempty"`
	// Curfew is the hour from which the stricter limits for neighbours hold.
	// AfterCurfew is true when it burns past that, or the plan does not say
	// when it ends.
	Curfew      string `json:"curfew"`
	AfterCurfew bool   `json:"after_curfew"`
}

// Control is one control device.
type Control struct {
	ID string `json:"id"`
	// Kind is what it is.
	Kind string `json:"kind"`
	// Switches lists the ids of the fixtures it acts on.
	Switches []string `json:"switches"`
	// SensorLux is the light that its own lamps throw on its sensor.
	SensorLux *float64 `json:"sensor_lux,omitempty"`
	// SensorWorst is the lamp that throws most.
	SensorWorst string `json:"sensor_worst,omitempty"`
	// HasSensor is true when it has a photocell.
	HasSensor bool `json:"has_sensor"`
	// Shaded says whether the sensor is shaded.
	Shaded *bool `json:"shaded,omitempty"`
	// On and Off are dusk, dawn or a time.
	On  string `json:"on,omitempty"`
	Off string `json:"off,omitempty"`
	// LocationSet says whether an astronomical timer knows where it is.
	LocationSet *bool `json:"location_set,omitempty"`
	// Location and Rating are outdoor or indoor.
	Location string `json:"location,omitempty"`
	Rating   string `json:"rating,omitempty"`
	// DimMethod, DimHz and DimMatched describe a dimmer.
	DimMethod  string   `json:"dim_method,omitempty"`
	DimHz      *float64 `json:"dim_hz,omitempty"`
	DimMatched *bool    `json:"dim_matched,omitempty"`
	// ReachableAt lists the ids of places where people can reach it.
	ReachableAt []string `json:"reachable_at"`
}
