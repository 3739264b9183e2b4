package plan

// SiteEntry is what is on the ground.
type SiteEntry struct {
	Ground       *GroundEntry    `json:"ground"`
	Paths        []PathEntry     `json:"paths"`
	Stairs       []StairEntry    `json:"stairs"`
	Landings     []LandingEntry  `json:"landings"`
	Decks        []DeckEntry     `json:"decks"`
	Areas        []AreaEntry     `json:"areas"`
	Gates        []LeafEntry     `json:"gates"`
	Doors        []LeafEntry     `json:"doors"`
	Walls        []ScreenEntry   `json:"walls"`
	Fences       []ScreenEntry   `json:"fences"`
	Hedges       []ScreenEntry   `json:"hedges"`
	Posts        []PostEntry     `json:"posts"`
	Trees        []TreeEntry     `json:"trees"`
	Beds         []BedEntry      `json:"beds"`
	Lawns        []LawnEntry     `json:"lawns"`
	Drives       []DriveEntry    `json:"drives"`
	Water        []WaterEntry    `json:"water"`
	Windows      []WindowEntry   `json:"windows"`
	Buildings    []BuildingEntry `json:"buildings"`
	Services     []ServiceEntry  `json:"services"`
	PropertyLine []Position      `json:"property_line"`
}

// GroundEntry is the soil and climate of the site.
type GroundEntry struct {
	Soil         string   `json:"soil"` // clay | loam | sand | chalk | rock
	FreeDraining *bool    `json:"free_draining"`
	Temperature  Quantity `json:"temperature"`
	SnowDepth    Quantity `json:"snow_depth"`
	FloodLevel   Quantity `json:"flood_level"`
}

// PathEntry is a walked path.
type PathEntry struct {
	ID         string     `json:"id"`
	Title      string     `json:"title"`
	Centreline []Position `json:"centreline"`
	Width      Quantity   `json:"width"`
	Surface    string     `json:"surface"`
	Elevation  Quantity   `json:"elevation"`
	Elevations []Quantity `json:"elevations"` // one per vertex; instead of elevation
	Lit        *bool      `json:"lit"`        // meant to be lit; absent means true
}

// StairEntry is a flight of steps; foot and head are lines across the stair.
type StairEntry struct {
	ID            string     `json:"id"`
	Title         string     `json:"title"`
	Foot          []Position `json:"foot"`
	Head          []Position `json:"head"`
	Risers        int        `json:"risers"`
	Rise          Quantity   `json:"rise"`
	Going         Quantity   `json:"going"`
	Width         Quantity   `json:"width"`
	BaseElevation Quantity   `json:"base_elevation"`
	Handrails     string     `json:"handrails"` // none | left | right | both
	OpenRisers    *bool      `json:"open_risers"`
	Material      string     `json:"material"` // stone | concrete | timber | composite | metal
	Public        *bool      `json:"public"`
	Lit           *bool      `json:"lit"`
}

// LandingEntry is a level place at a stair.
type LandingEntry struct {
	ID        string     `json:"id"`
	Outline   []Position `json:"outline"`
	Elevation Quantity   `json:"elevation"`
	Stair     string     `json:"stair"`
	End       string     `json:"end"` // top | bottom
	Lit       *bool      `json:"lit"`
}

// DeckEntry is a raised deck.
type DeckEntry struct {
	ID        string     `json:"id"`
	Outline   []Position `json:"outline"`
	Elevation Quantity   `json:"elevation"`
	Material  string     `json:"material"`
	BoardGap  Quantity   `json:"board_gap"`
	Lit       *bool      `json:"lit"`
}

// AreaEntry is any other surface.
type AreaEntry struct {
	ID        string     `json:"id"`
	Title     string     `json:"title"`
	Kind      string     `json:"kind"` // terrace | slab | mower-strip | snow-store | planting | play | other
	Surface   string     `json:"surface"`
	Thickness Quantity   `json:"thickness"` // of a slab
	Outline   []Position `json:"outline"`
	Elevation Quantity   `json:"elevation"`
	Lit       *bool      `json:"lit"`
}

// LeafEntry is a gate or a door: one leaf.
type LeafEntry struct {
	ID            string       `json:"id"`
	Title         string       `json:"title"`
	Hinge         Position     `json:"hinge"`
	Leaf          Quantity     `json:"leaf"`
	ClosedBearing *float64     `json:"closed_bearing"`
	Opens         OpensEntry   `json:"opens"`
	Slides        *SlidesEntry `json:"slides"`
	Height        Quantity     `json:"height"`
	GroundGap     Quantity     `json:"ground_gap"`
	Elevation     Quantity     `json:"elevation"`
	Solid         *bool        `json:"solid"`
	HeldOpen      *bool        `json:"held_open"`
	PostDiameter  Quantity     `json:"post_diameter"`
}

// OpensEntry is how a hinged leaf opens, seen from the hinge along the
// closed leaf.
type OpensEntry struct {
	Towards string   `json:"towards"` // left | right | both
	Angle   *float64 `json:"angle"`
}

// SlidesEntry is how a sliding leaf moves.
type SlidesEntry struct {
	Bearing *float64 `json:"bearing"`
	Travel  Quantity `json:"travel"`
}

// ScreenEntry is a wall, fence or hedge.
type ScreenEntry struct {
	ID           string     `json:"id"`
	Line         []Position `json:"line"`
	Height       Quantity   `json:"height"`
	Elevation    Quantity   `json:"elevation"`
	Thickness    Quantity   `json:"thickness"`
	Material     string     `json:"material"`
	Transmission *float64   `json:"transmission"` // 0 opaque .. 1 clear
}

// PostEntry is a post or column.
type PostEntry struct {
	ID        string   `json:"id"`
	At        Position `json:"at"`
	Diameter  Quantity `json:"diameter"`
	Height    Quantity `json:"height"`
	Elevation Quantity `json:"elevation"`
}

// TreeEntry is a tree.
type TreeEntry struct {
	ID           string       `json:"id"`
	Title        string       `json:"title"`
	At           Position     `json:"at"`
	Trunk        Quantity     `json:"trunk"` // diameter
	Canopy       *CanopyEntry `json:"canopy"`
	RootRadius   Quantity     `json:"root_radius"`
	Elevation    Quantity     `json:"elevation"`
	Transmission *float64     `json:"transmission"`
}

// CanopyEntry is a tree's crown.
type CanopyEntry struct {
	Base   Quantity `json:"base"`
	Top    Quantity `json:"top"`
	Radius Quantity `json:"radius"`
}

// BedEntry is a planting bed.
type BedEntry struct {
	ID      string     `json:"id"`
	Outline []Position `json:"outline"`
	Cover   string     `json:"cover"` // mulch | bark | leaves | gravel | soil | planting
	Annuals *bool      `json:"annuals"`
}

// LawnEntry is turf.
type LawnEntry struct {
	ID         string     `json:"id"`
	Outline    []Position `json:"outline"`
	MowerStrip Quantity   `json:"mower_strip"`
	Aerated    *bool      `json:"aerated"`
}

// DriveEntry is ground that vehicles use.
type DriveEntry struct {
	ID      string     `json:"id"`
	Kind    string     `json:"kind"` // home | shared | street | parking
	Surface string     `json:"surface"`
	Outline []Position `json:"outline"`
}

// WaterEntry is open water.
type WaterEntry struct {
	ID      string     `json:"id"`
	Kind    string     `json:"kind"` // pool | spa | fountain | pond | stream | sea
	Outline []Position `json:"outline"`
}

// WindowEntry is a window pane, seen from above as a line.
type WindowEntry struct {
	ID    string     `json:"id"`
	Line  []Position `json:"line"`
	Sill  Quantity   `json:"sill"`
	Head  Quantity   `json:"head"`
	Whose string     `json:"whose"` // own | neighbour
}

// BuildingEntry is a building.
type BuildingEntry struct {
	ID       string     `json:"id"`
	Outline  []Position `json:"outline"`
	Height   Quantity   `json:"height"`
	Whose    string     `json:"whose"`
	Cladding string     `json:"cladding"` // masonry | timber | vinyl | render | metal
}

// ServiceEntry is a buried service line.
type ServiceEntry struct {
	ID      string     `json:"id"`
	Kind    string     `json:"kind"` // gas | water | mains | telecom | irrigation | drain | septic | other
	Route   []Position `json:"route"`
	Depth   Quantity   `json:"depth"`
	Located *bool      `json:"located"`
	Private *bool      `json:"private"`
}
