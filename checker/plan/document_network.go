package plan

// TransformerEntry is one power unit on site.
type TransformerEntry struct {
	ID          string   `json:"id"`
	Type        string   `json:"type"`
	At          Position `json:"at"`
	Height      Quantity `json:"height"` // underside above grade
	Location    string   `json:"location"`
	PluggedInto string   `json:"plugged_into"`
	WiredTo     string   `json:"wired_to"` // branch circuit, hard wired
	Cord        Quantity `json:"cord"`
	Extension   *bool    `json:"extension_cord"`
	MountedOn   string   `json:"mounted_on"` // masonry | timber | post | vinyl | metal
	Enclosed    *bool    `json:"enclosed"`   // in a cupboard or box without the ventilation asked for
	Growth      Quantity `json:"growth"`     // VA or percent kept for later lamps
}

// RunEntry is a network of legs from one common at one tap.
type RunEntry struct {
	ID        string       `json:"id"`
	Title     string       `json:"title"`
	From      FromEntry    `json:"from"`
	Cable     string       `json:"cable"`
	Method    string       `json:"method"`
	Cover     Quantity     `json:"cover"`
	Connector string       `json:"connector"`
	Hub       *bool        `json:"equal_leads"` // leads from the hub are meant to be equal
	Nodes     []NodeEntry  `json:"nodes"`
	Legs      []LegEntry   `json:"legs"`
	Chain     []ChainEntry `json:"chain"`
}

// FromEntry names the transformer output a run starts at.
type FromEntry struct {
	Transformer string   `json:"transformer"`
	Common      int      `json:"common"` // 1-based; absent means 1
	Tap         Quantity `json:"tap"`
}

// NodeEntry is a hub, tee or splice.
type NodeEntry struct {
	ID         string   `json:"id"`
	At         Position `json:"at"`
	Kind       string   `json:"kind"` // hub | tee | splice
	Connector  string   `json:"connector"`
	Place      string   `json:"place"` // buried | box | above-ground | in-enclosure
	Accessible *bool    `json:"accessible"`
}

// LegEntry is one cable between two ends (nodes, fixtures, the transformer).
type LegEntry struct {
	ID      string        `json:"id"`
	From    string        `json:"from"`
	To      string        `json:"to"`
	Cable   string        `json:"cable"`
	Length  Quantity      `json:"length"`
	Route   []Position    `json:"route"` // bends only
	Method  string        `json:"method"`
	Cover   Quantity      `json:"cover"`
	Sleeve  *SleeveEntry  `json:"sleeve"`
	Slack   Quantity      `json:"slack"`
	Returns *ReturnsEntry `json:"returns"`
	Listed  Quantity      `json:"listed_cover"` // shallower cover that a listed system's instructions state
}

// SleeveEntry is a sleeve or raceway round a leg.
type SleeveEntry struct {
	Material string `json:"material"` // pvc | steel | hdpe | other
	Size     string `json:"size"`
	Where    string `json:"where"` // whole | crossings
}

// ReturnsEntry is where the far end of a loop lands.
type ReturnsEntry struct {
	Transformer string   `json:"transformer"`
	Common      int      `json:"common"`
	Tap         Quantity `json:"tap"`
	Conductor   string   `json:"conductor"` // same | swapped
}

// ChainEntry is one step of a run given by lengths only: each entry continues
// from the one before it.
type ChainEntry struct {
	To     string   `json:"to"`
	Length Quantity `json:"length"`
	Cable  string   `json:"cable"`
	Cover  Quantity `json:"cover"`
	Method string   `json:"method"`
	From   string   `json:"from"` // branch from an earlier end instead
}

// FixtureEntry is one fixture, or an array of them along a path.
type FixtureEntry struct {
	ID        string          `json:"id"`
	Type      string          `json:"type"`
	At        *Position       `json:"at"`
	Array     *ArrayEntry     `json:"array"`
	Height    Quantity        `json:"height"`    // light centre above the ground or surface it stands on
	Elevation Quantity        `json:"elevation"` // of that ground; absent means taken from the site
	Mount     string          `json:"mount"`     // stake | surface | post | wall | riser | tread | deck | under-deck | rail | tree | flush | hanging
	Host      string          `json:"host"`      // what it is mounted on
	Aim       *AimEntry       `json:"aim"`
	Connector string          `json:"connector"`
	Slack     Quantity        `json:"slack"`
	Lead      Quantity        `json:"lead"` // factory lead left after cutting
	Group     string          `json:"group"`
	Lamp      *LampEntry      `json:"lamp"` // instead of the type's lamp
	Drainage  *DrainageEntry  `json:"drainage"`
	Surround  string          `json:"surround"` // mulch | bark | leaves | gravel | soil | paving | timber | turf | water
	TreeMount *TreeMountEntry `json:"tree_mount"`
	Shield    string          `json:"shield"`
	Level     Quantity        `json:"level"` // percent
}

// ArrayEntry spreads fixtures along a path.
type ArrayEntry struct {
	Along   string   `json:"along"`
	Count   *int     `json:"count"`
	Spacing Quantity `json:"spacing"`
	Start   Quantity `json:"start"`
	End     Quantity `json:"end"`
	Offset  Quantity `json:"offset"`
	Side    string   `json:"side"` // left | right | alternate
}

// AimEntry is where a fixture points: bearing and tilt, or a target.
type AimEntry struct {
	Bearing *float64  `json:"bearing"`
	Tilt    *float64  `json:"tilt"` // degrees from straight down
	At      *Position `json:"at"`
	Height  Quantity  `json:"height"` // of the target
	Tree    string    `json:"tree"`
}

// LampEntry is the lamp really fitted.
type LampEntry struct {
	Watts       *float64 `json:"watts"`
	VA          *float64 `json:"va"`
	PowerFactor *float64 `json:"power_factor"`
	Lumens      *float64 `json:"lumens"`
	Load        string   `json:"load"`
}

// DrainageEntry is what is under an in-ground fixture.
type DrainageEntry struct {
	Gravel Quantity `json:"gravel"`
	Drain  *bool    `json:"drain"`
}

// TreeMountEntry is how a fixture hangs in a tree.
type TreeMountEntry struct {
	Fixing      string   `json:"fixing"` // stand-off | strap | plate | nail
	GrowthSlack Quantity `json:"growth_slack"`
	CableFixing string   `json:"cable_fixing"` // clip | stand-off | staple
	Protected   *bool    `json:"protected"`    // cable protected at the trunk base
}
