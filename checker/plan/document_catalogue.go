package plan

// Catalogue holds the types that elements refer to, by name.
type Catalogue struct {
	Fixtures     Types[FixtureTypeEntry]     `json:"fixtures"`
	Cables       Types[CableTypeEntry]       `json:"cables"`
	Connectors   Types[ConnectorTypeEntry]   `json:"connectors"`
	Transformers Types[TransformerTypeEntry] `json:"transformers"`
}

// FixtureTypeEntry is one kind of fixture (luminaire with its lamp).
type FixtureTypeEntry struct {
	Kind               string           `json:"kind"` // path | spot | flood | wash | step | deck | post | rail | wall | well | in-ground | bollard | hanging | strip | underwater
	Title              string           `json:"title"`
	Load               string           `json:"load"` // constant-power | constant-current | filament | resistive
	Watts              *float64         `json:"watts"`
	VA                 *float64         `json:"va"`
	PowerFactor        *float64         `json:"power_factor"`
	Current            Quantity         `json:"current"`     // constant-current lamps
	RatedVolts         Quantity         `json:"rated_volts"` // filament and resistive; absent means 12 V
	Window             []Quantity       `json:"window"`      // [least, most]
	DropOut            Quantity         `json:"drop_out"`    // the driver goes out below this
	Lumens             *float64         `json:"lumens"`
	Colour             *ColourEntry     `json:"colour"`
	IP                 string           `json:"ip"`
	Listing            []string         `json:"listing"`
	LargestLamp        *LargestLamp     `json:"largest_lamp"`
	Dimmable           *bool            `json:"dimmable"`
	Clearance          *ClearanceEntry  `json:"clearance"`
	SurfaceTemperature Quantity         `json:"surface_temperature"`
	ThermalCutOut      *bool            `json:"thermal_cut_out"`
	Mounting           string           `json:"mounting"` // ground | flush | surface | recessed | post | tree | hanging
	LoadClass          string           `json:"load_class"`
	Body               *BodyEntry       `json:"body"`
	Lead               *LeadEntry       `json:"lead"`
	Shield             string           `json:"shield"` // full-cutoff | shrouded | louvred | none
	Light              *LightShapeEntry `json:"light"`
}

// ColourEntry is the colour of the light.
type ColourEntry struct {
	CCT               Quantity `json:"cct"`  // "2700 K"
	Peak              Quantity `json:"peak"` // "590 nm"
	ShortestOutput    Quantity `json:"shortest_output"`
	PhosphorConverted *bool    `json:"phosphor_converted"`
	Tunable           *bool    `json:"tunable"`
}

// LargestLamp is the largest lamp the fixture accepts.
type LargestLamp struct {
	Watts *float64 `json:"watts"`
	VA    *float64 `json:"va"`
	Load  string   `json:"load"`
}

// ClearanceEntry is the clearance that the label states.
type ClearanceEntry struct {
	Combustible Quantity `json:"combustible"`
}

// BodyEntry is the size of the fixture.
type BodyEntry struct {
	Diameter Quantity `json:"diameter"`
	Height   Quantity `json:"height"`
	Luminous Quantity `json:"luminous"` // largest size of the glowing part
}

// LeadEntry is the factory lead.
type LeadEntry struct {
	Conductor string   `json:"conductor"`
	Stranding string   `json:"stranding"`
	Length    Quantity `json:"length"`
}

// LightShapeEntry is the light distribution: a file or a built-in shape.
type LightShapeEntry struct {
	File      string   `json:"file"`
	Shape     string   `json:"shape"`      // lambert | beam | downward-ring | step-wash
	BeamAngle *float64 `json:"beam_angle"` // full angle at half intensity, degrees
	PeakAngle *float64 `json:"peak_angle"` // degrees from straight down
	ZeroPlane *float64 `json:"zero_plane"` // bearing of the file's 0 plane from the aim bearing, degrees
}

// CableTypeEntry is one kind of cable.
type CableTypeEntry struct {
	Title             string   `json:"title"`
	Conductor         string   `json:"conductor"` // "12 AWG" | "2.5 mm2"
	Material          string   `json:"material"`  // copper | tinned-copper | aluminium | copper-clad-aluminium
	Stranding         string   `json:"stranding"` // solid | stranded | fine-stranded
	Cores             int      `json:"cores"`
	DirectBurial      *bool    `json:"direct_burial"`
	SunlightResistant *bool    `json:"sunlight_resistant"`
	Ampacity          Quantity `json:"ampacity"` // as marked
	Listing           []string `json:"listing"`
}

// ConnectorTypeEntry is one kind of joint.
type ConnectorTypeEntry struct {
	Title         string   `json:"title"`
	Kind          string   `json:"kind"` // gel-lug | gel-crimp | heat-shrink | screw-hub | twist-on | piercing | terminal | tape
	Resistance    Quantity `json:"resistance"`
	Listing       []string `json:"listing"`
	MostConductor *int     `json:"most_conductors"`
}

// TransformerTypeEntry is one kind of power unit.
type TransformerTypeEntry struct {
	Title           string            `json:"title"`
	Rating          Quantity          `json:"rating"`
	Kind            string            `json:"kind"` // magnetic | electronic
	PrimaryVolts    Quantity          `json:"primary_volts"`
	Output          string            `json:"output"` // ac | hf-ac | dc
	Regulated       *bool             `json:"regulated"`
	Taps            []Quantity        `json:"taps"`
	TapsStatedAt    string            `json:"taps_stated_at"` // no-load | rated-load
	Impedance       Quantity          `json:"impedance"`      // percent
	Regulation      Quantity          `json:"regulation"`     // percent, no load to rated load
	OnOverload      string            `json:"on_overload"`    // trip | foldback | hiccup
	MinimumLoad     Quantity          `json:"minimum_load"`
	LargestDistance Quantity          `json:"largest_distance"`
	NoLoadLoss      Quantity          `json:"no_load_loss"`
	Inrush          *float64          `json:"inrush"` // multiple of rated primary current
	Commons         []CommonEntry     `json:"commons"`
	Protection      []ProtectionEntry `json:"protection"`
	Outdoor         *bool             `json:"outdoor"`
	IP              string            `json:"ip"`
	Listing         []string          `json:"listing"`
	LargestVA       Quantity          `json:"largest_va_per_common"`
	Dimmable        *bool             `json:"dimmable"`
	PWMFrequency    *float64          `json:"pwm_frequency"`
	Ventilation     Quantity          `json:"ventilation"` // free space asked for round it
}

// CommonEntry is one common terminal with its own protection.
type CommonEntry struct {
	Breaker        Quantity `json:"breaker"`
	Kind           string   `json:"kind"` // breaker | fuse | electronic; absent means breaker
	MostConductors *int     `json:"most_conductors"`
}

// ProtectionEntry is a protective device elsewhere than on a common.
type ProtectionEntry struct {
	Kind     string   `json:"kind"` // breaker | fuse | electronic
	Amps     Quantity `json:"amps"`
	Protects string   `json:"protects"` // tap | primary
	Tap      Quantity `json:"tap"`
}
