package plan

import "gonum.org/v1/gonum/spatial/r2"

// Plan is a resolved plan: SI units, ids looked up, positions computed.
//
// Lengths are metres, angles degrees, bearings degrees clockwise from plan
// north (+y). A nil pointer means that the plan does not say; nothing is
// guessed. Slices are in file order; arrays of fixtures are expanded.
type Plan struct {
	Title        string
	PreparedBy   string
	Date         string
	Stage        string // survey | design | issued | as-built
	Jurisdiction string
	Units        string // ft | m
	Profiles     []string

	Supply       *Supply
	Site         *Site // nil when the plan has only wiring
	Permissions  PermissionsEntry
	Transformers []*Transformer
	Runs         []*Run
	Fixtures     []*Fixture
	Controls     []*Control
	Scenes       []*Scene // of all controls, in file order
	TakeOff      []*Bought
	Readings     []*ReadingSet
	Variances    []VarianceEntry
	Notes        []NoteEntry

	// The catalogue's types, used or not, in order of name.
	FixtureTypes     []*FixtureType
	CableTypes       []*CableType
	ConnectorTypes   []*ConnectorType
	TransformerTypes []*TransformerType

	// Elements indexes everything that has an id, the derived ids of arrays,
	// chains and treads included. The names of catalogue types are apart.
	Elements map[string]*Element

	ground ground
}

// Element is where an id is defined.
type Element struct {
	ID      string
	Kind    string // singular, as people say it: "fixture", "leg", "stair"
	Pointer string // RFC 6901, of the whole element
}

// Supply is the mains side.
type Supply struct {
	Volts          *float64
	FrequencyHz    *float64
	LowFactor      *float64 // 0.95 for "-5 %"
	HighFactor     *float64
	Branches       []*Branch
	Receptacles    []*Receptacle
	InstalledBy    string
	SurgeProtected *bool
}

// Branch is a mains branch circuit.
type Branch struct {
	Element
	BreakerAmps *float64
	OtherLoadVA *float64
	GFCI        *bool
}

// Receptacle is a mains receptacle. GFCI is true when it or its branch has
// ground-fault protection.
type Receptacle struct {
	Element
	At               *r2.Vec
	HeightM          *float64
	Location         string // outdoor when the plan does not say
	Branch           *Branch
	GFCI             *bool
	InUseCover       *bool
	WeatherResistant *bool
	ExtraDuty        *bool
	FedBy            string
	Switched         *bool
}

// Distribution is a fixture type's light, unread: a file name or a shape.
type Distribution struct {
	File         string
	Shape        string
	BeamAngleDeg *float64
	PeakAngleDeg *float64
	ZeroPlaneDeg float64
}

// Conductor says what a cable is made of.
type Conductor struct {
	Size      string // "12 AWG" | "2.5 mm2"
	Material  string // copper when the plan does not say
	Stranding string // stranded when the plan does not say
}

// FixtureType is one kind of fixture.
type FixtureType struct {
	Element
	Kind              string
	Title             string
	Lamp              Lamp
	LargestLamp       *LargestLamp
	IP                string
	Listing           []string
	Dimmable          *bool
	CombustibleM      *float64
	SurfaceC          *float64
	ThermalCutOut     *bool
	Mounting          string
	LoadClass         string
	DiameterM         *float64
	BodyHeightM       *float64
	LuminousM         *float64
	Lead              *Conductor
	LeadM             *float64
	Shield            string
	Light             *Distribution
	CCT               *float64 // kelvin
	PeakNM            *float64
	ShortestNM        *float64
	PhosphorConverted *bool
	Tunable           *bool
}

// Lamp is the electrical and luminous side of a fixture.
type Lamp struct {
	Load        string // constant-power | constant-current | filament | resistive
	Watts       *float64
	VA          *float64
	PowerFactor *float64
	Amps        *float64
	RatedVolts  float64 // 12 when the plan does not say
	MinVolts    *float64
	MaxVolts    *float64
	DropOutV    *float64
	Lumens      *float64
}

// CableType is one kind of cable.
type CableType struct {
	Element
	Title             string
	Conductor         Conductor
	Cores             int // 2 when the plan does not say
	DirectBurial      *bool
	SunlightResistant *bool
	AmpacityA         *float64
	Listing           []string
}

// ConnectorType is one kind of joint.
type ConnectorType struct {
	Element
	Title          string
	Kind           string
	ResistanceOhm  *float64
	Listing        []string
	MostConductors *int
}

// TransformerType is one kind of power unit.
type TransformerType struct {
	Element
	Title            string
	RatingVA         float64
	Kind             string
	PrimaryVolts     *float64
	Output           string // ac | hf-ac | dc
	Regulated        bool
	TapVolts         []float64
	TapsStatedAt     string // no-load | rated-load; empty when not said
	ImpedancePct     *float64
	RegulationPct    *float64
	OnOverload       string
	MinimumLoadVA    *float64
	LargestDistanceM *float64
	NoLoadLossW      *float64
	Inrush           *float64
	Commons          []Common
	Protection       []Protection
	Outdoor          *bool
	IP               string
	Listing          []string
	LargestVA        *float64 // per common
	Dimmable         *bool
	PWMHz            *float64
	VentilationM     *float64
}

// Common is one common terminal.
type Common struct {
	DeviceAmps     *float64 // nil: no protection stated
	DeviceKind     string
	MostConductors *int
}

// Protection is a device on a tap or the primary.
type Protection struct {
	Kind     string
	Amps     float64
	Protects string
	TapVolts *float64
}

// Transformer is one power unit on site.
type Transformer struct {
	Element
	Type       *TransformerType
	At         *r2.Vec
	HeightM    *float64
	Location   string
	Receptacle *Receptacle
	Branch     *Branch // of the receptacle, or hard wired
	HardWired  bool
	CordM      *float64
	Extension  *bool
	MountedOn  string
	Enclosed   *bool
	GrowthVA   *float64 // stated growth, in VA
}

// Run is a network of legs fed from one output.
type Run struct {
	Element
	Title       string
	Transformer *Transformer
	Common      int // 1-based
	TapVolts    float64
	EqualLeads  *bool
	Nodes       []*Node
	Legs        []*Leg
}

// Node is a hub, tee or splice.
type Node struct {
	Element
	Run        *Run
	At         *r2.Vec
	Kind       string
	Connector  *ConnectorType
	Place      string
	Accessible *bool
}

// Leg is one cable between two ends. From and To are ids of a transformer, a
// node or a fixture.
type Leg struct {
	Element
	Run     *Run
	From    string
	To      string
	Cable   *CableType // never nil; without an ID when the plan states none
	Route   []r2.Vec   // from end to end, bends included; nil when an end has no position
	LengthM *float64   // one way; stated, else measured along Route
	RoutedM *float64   // measured along Route, with the climb between ends of known level
	SlackM  float64    // extra cable at the ends, both ends together
	Method  string
	CoverM  *float64
	Listed  *float64 // shallower cover of a listed system
	Sleeve  *Sleeve
	Returns *Returns
	Chained bool // from a run's chain
}

// Sleeve is a sleeve round a leg.
type Sleeve struct {
	Material string
	Size     string
	Where    string // whole | crossings
}

// Returns is where a loop's far end lands.
type Returns struct {
	Transformer *Transformer
	Common      int
	TapVolts    float64
	Swapped     bool
}

// Fixture is one fixture on site.
type Fixture struct {
	Element
	Type       *FixtureType
	Lamp       Lamp // the type's, with what the fixture overrides
	At         *r2.Vec
	GroundM    float64  // elevation of what it stands on
	HeightM    *float64 // light centre above that
	Mount      string
	Host       string
	AimBearing *float64 // degrees; nil: the built-in shape's own (straight down)
	AimTilt    *float64 // degrees from straight down
	AimAt      *Target
	Connector  *ConnectorType
	SlackM     float64
	LeadM      *float64 // left of the factory lead
	Group      string
	Level      float64 // 0..1
	GravelM    *float64
	Drain      *bool
	Surround   string
	TreeMount  *TreeMountEntry
	GrowthM    *float64
	Shield     string
	Runs       []*Run // that reach it

	groundKnown bool // something states GroundM
}

// Target is a place aimed at.
type Target struct {
	At      r2.Vec
	HeightM float64 // absolute elevation
	Tree    string
}

// Control is one control device.
type Control struct {
	Element
	Kind        string
	Switches    []string
	SensorAt    *r2.Vec
	SensorM     *float64
	SensorDeg   *float64
	Shaded      *bool
	On, Off     string
	LocationSet *bool
	Location    string
	Rating      string
	Dimmer      *DimmerEntry
	ReachableAt []string
	Scenes      []*Scene
}

// Scene is one state of the lights. Levels gives the level, 0..1, of each
// fixture that is on, by id; the fixture's own Level is in it already. What the
// scene's control does not switch is on at its own level. A plan without scenes
// has one, "all", in use, with everything on; its Control is nil.
type Scene struct {
	Element
	Control *Control
	InUse   bool
	Levels  map[string]float64
	From    string
	Until   string
}

// Bought is one line of what has been bought: metres for cable and sleeve,
// else a count.
type Bought struct {
	Pointer string
	What    string // cable | fixture | connector | transformer | sleeve
	Name    string
	Amount  float64
}

// ReadingSet is one visit with a meter.
type ReadingSet struct {
	Element
	Date        string
	SupplyVolts *float64
	Scene       string
	TrueRMS     *bool
	VoltStep    float64 // resolution
	AmpStep     float64
	AccuracyPct float64
	Values      []Reading
}

// Reading is one value read.
type Reading struct {
	Pointer string
	At      string
	Common  int
	Volts   *float64
	Amps    *float64
	Note    string
}
