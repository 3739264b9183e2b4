// Package plan turns a validated plan file into the resolved model: SI units,
// ids looked up, positions computed, cross references checked.
//
// The Document types mirror the file as people write it, one struct per object
// of schema/plan.schema.json; the model types (model.go) are what the rest of
// the program computes with. [Decode] makes the one, [Resolve] the other.
//
// # Directions and levels
//
// Points are in metres, x to the east and y to plan north. Left of a line or a
// path is as seen along it, left of a stair as seen going up. Levels are
// metres above the plan's zero level. The level that a fixture stands on is, in
// this order: as it states; of the tread that its position names; of the tread
// before the riser it is mounted in; of the ground below the deck it is mounted
// under; of the tread, landing, deck, area or path underfoot that states a level
// (see [Plan.GroundAt]); 0.
//
// # Treads
//
// A stair of n risers has n-1 treads between foot and head, spread evenly. The
// level at its head is one more tread, with Top set, unless a landing is said to
// be there or a landing, deck, path or walked area covers it.
//
// # Arrays and chains
//
// The fixtures of an array "a" have the ids "a-1", "a-2" and so on; by count they
// are spread evenly from start to end, a single one half way; by spacing they
// begin at the start. The leg of a chain to "x" in the run "r" has the id "r/x",
// the second to the same end "r/x/2".
//
// # Legs
//
// A leg is as long as it states, else as its route from end to end through its
// bends. A stated length must not fall short of the route, nor exceed a route
// with bends by much; the difference below that is the installer's. Slack comes
// on top: the leg's own and that of the fixtures at its ends.
//
// # Scenes
//
// A scene sets what its control switches: what it names, at its level; the rest,
// off. What its control does not switch is on. A plan without scenes has one,
// "all", with everything on.
package plan

// Document is a plan file as written. Lengths are [Quantity] values in the
// plan's own unit or with a unit of their own.
type Document struct {
	Schema       string             `json:"$schema"`
	Format       string             `json:"format"`
	Plan         TitleBlock         `json:"plan"`
	Units        string             `json:"units"`
	Profiles     []string           `json:"profiles"`
	Defaults     Defaults           `json:"defaults"`
	Supply       *SupplyEntry       `json:"supply"`
	Catalogue    Catalogue          `json:"catalogue"`
	Site         *SiteEntry         `json:"site"`
	Permissions  PermissionsEntry   `json:"permissions"`
	Transformers []TransformerEntry `json:"transformers"`
	Runs         []RunEntry         `json:"runs"`
	Fixtures     []FixtureEntry     `json:"fixtures"`
	Controls     []ControlEntry     `json:"controls"`
	TakeOff      []TakeOffEntry     `json:"take_off"`
	Readings     []ReadingSetEntry  `json:"readings"`
	Variances    []VarianceEntry    `json:"variances"`
	Notes        []NoteEntry        `json:"notes"`
}

// TitleBlock is the section "plan".
type TitleBlock struct {
	Title        string `json:"title"`
	PreparedBy   string `json:"prepared_by"`
	Date         string `json:"date"`         // ISO 8601 date
	Stage        string `json:"stage"`        // survey | design | issued | as-built
	Jurisdiction string `json:"jurisdiction"` // words only; nothing is looked up from it
	Revision     string `json:"revision"`
}

// Defaults are values that elements of a section have unless they say
// otherwise.
type Defaults struct {
	Fixtures struct {
		Connector string   `json:"connector"`
		Slack     Quantity `json:"slack"`
		Mount     string   `json:"mount"`
		Height    Quantity `json:"height"`
		Group     string   `json:"group"`
	} `json:"fixtures"`
	Nodes struct {
		Connector string `json:"connector"`
	} `json:"nodes"`
	Legs struct {
		Cable  string   `json:"cable"`
		Method string   `json:"method"`
		Cover  Quantity `json:"cover"`
	} `json:"legs"`
}

// SupplyEntry is the section "supply": the mains side.
type SupplyEntry struct {
	Volts           Quantity             `json:"volts"`
	Frequency       float64              `json:"frequency"` // Hz
	Tolerance       *ToleranceEntry      `json:"tolerance"`
	BranchCircuits  []BranchCircuitEntry `json:"branch_circuits"`
	Receptacles     []ReceptacleEntry    `json:"receptacles"`
	InstalledBy     string               `json:"installed_by"` // licensed | unlicensed | existing
	SurgeProtection *bool                `json:"surge_protection"`
}

// ToleranceEntry is the mains tolerance, as percentages.
type ToleranceEntry struct {
	Low  Quantity `json:"low"`
	High Quantity `json:"high"`
}

// BranchCircuitEntry is one mains branch circuit.
type BranchCircuitEntry struct {
	ID        string   `json:"id"`
	Breaker   Quantity `json:"breaker"`
	OtherLoad Quantity `json:"other_load"`
	GFCI      *bool    `json:"gfci"`
}

// ReceptacleEntry is one mains receptacle.
type ReceptacleEntry struct {
	ID               string   `json:"id"`
	At               Position `json:"at"`
	Height           Quantity `json:"height"`
	Location         string   `json:"location"` // outdoor | garage | indoor
	BranchCircuit    string   `json:"branch_circuit"`
	GFCI             *bool    `json:"gfci"`
	InUseCover       *bool    `json:"in_use_cover"`
	WeatherResistant *bool    `json:"weather_resistant"`
	ExtraDuty        *bool    `json:"extra_duty"`
	FedBy            string   `json:"fed_by"` // wiring | extension-cord
	Switched         *bool    `json:"switched"`
}

// PermissionsEntry is what authorities and owners have been asked.
type PermissionsEntry struct {
	Locate      *LocateEntry `json:"locate"`
	Permit      *PermitEntry `json:"permit"`
	Association *PermitEntry `json:"association"` // homeowners' association or landlord
}

// LocateEntry is the utility locate.
type LocateEntry struct {
	Ticket             string `json:"ticket"`
	Called             string `json:"called"`
	Expires            string `json:"expires"`
	PrivateLinesMapped *bool  `json:"private_lines_mapped"`
}

// PermitEntry is one permission asked for or granted.
type PermitEntry struct {
	Number string `json:"number"`
	State  string `json:"state"` // not-asked | asked | granted | not-needed
	By     string `json:"by"`
}

// ControlEntry is one control device and the scenes it makes.
type ControlEntry struct {
	ID          string       `json:"id"`
	Kind        string       `json:"kind"` // photocell | timer | astronomical-timer | photocell-and-timer | switch | motion | smart | dimmer
	Switches    []string     `json:"switches"`
	Sensor      *SensorEntry `json:"sensor"`
	On          string       `json:"on"`  // "dusk" or HH:MM
	Off         string       `json:"off"` // "dawn" or HH:MM
	LocationSet *bool        `json:"location_set"`
	Location    string       `json:"location"` // outdoor | indoor | in-enclosure
	Rating      string       `json:"rating"`   // outdoor | indoor
	Dimmer      *DimmerEntry `json:"dimmer"`
	ReachableAt []string     `json:"reachable_at"` // ids of stairs, landings, doors, buildings
	Scenes      []SceneEntry `json:"scenes"`
}

// SensorEntry is where a photocell looks.
type SensorEntry struct {
	At      Position `json:"at"`
	Height  Quantity `json:"height"`
	Bearing *float64 `json:"bearing"`
	Shaded  *bool    `json:"shaded"`
}

// DimmerEntry is how a dimmer dims.
type DimmerEntry struct {
	Method    string   `json:"method"` // leading-edge | trailing-edge | pwm | digital
	Frequency *float64 `json:"frequency"`
	Matched   *bool    `json:"matched"` // maker states dimmer, transformer and lamp work together
}

// SceneEntry is one state of the lights.
type SceneEntry struct {
	ID    string       `json:"id"`
	InUse *bool        `json:"in_use"` // people walk here in this scene; absent means true
	On    []GroupLevel `json:"on"`
	From  string       `json:"from"`
	Until string       `json:"until"`
}

// TakeOffEntry is one thing that has been bought; exactly one of the names is
// set.
type TakeOffEntry struct {
	Cable       string   `json:"cable"`
	Fixture     string   `json:"fixture"`
	Connector   string   `json:"connector"`
	Transformer string   `json:"transformer"`
	Sleeve      string   `json:"sleeve"`
	Bought      Quantity `json:"bought"` // a length for cable and sleeve, else a count
}

// ReadingSetEntry is one visit with a meter.
type ReadingSetEntry struct {
	ID     string         `json:"id"`
	Date   string         `json:"date"`
	Supply Quantity       `json:"supply"` // mains volts at the time
	Scene  string         `json:"scene"`  // what was on; absent means everything
	Meter  MeterEntry     `json:"meter"`
	Values []ReadingEntry `json:"values"`
}

// MeterEntry is the instrument.
type MeterEntry struct {
	TrueRMS        *bool    `json:"true_rms"`
	VoltResolution Quantity `json:"volt_resolution"`
	AmpResolution  Quantity `json:"amp_resolution"`
	Accuracy       Quantity `json:"accuracy"` // percent of reading
}

// ReadingEntry is one reading: volts at a fixture, node or transformer
// output, or amps at a leg or common.
type ReadingEntry struct {
	At     string   `json:"at"`
	Common int      `json:"common"`
	Volts  Quantity `json:"volts"`
	Amps   Quantity `json:"amps"`
	Note   string   `json:"note"`
}

// VarianceEntry is a written exception.
type VarianceEntry struct {
	Rule      string `json:"rule"`
	Element   string `json:"element"` // an id, or a pattern with *
	Case      string `json:"case"`
	Reason    string `json:"reason"`
	GrantedBy string `json:"granted_by"`
	On        string `json:"on"`
	Until     string `json:"until"`
}

// NoteEntry is free text about the plan or one element.
type NoteEntry struct {
	About string `json:"about"`
	Text  string `json:"text"`
}
