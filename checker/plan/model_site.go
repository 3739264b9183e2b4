package plan

import "gonum.org/v1/gonum/spatial/r2"

// Site is what is on the ground, in metres. A thing that cannot be placed, for a
// contradiction that has been reported, is not in its list.
type Site struct {
	Soil         string
	FreeDraining *bool
	GroundC      *float64
	SnowM        *float64
	FloodM       *float64

	Paths        []*Path
	Stairs       []*Stair
	Landings     []*Landing
	Decks        []*Deck
	Areas        []*Area
	Leaves       []*Leaf // gates, then doors
	Screens      []*Screen
	Posts        []*Post
	Trees        []*Tree
	Beds         []*Bed
	Lawns        []*Lawn
	Drives       []*Drive
	Water        []*Water
	Windows      []*Window
	Buildings    []*Building
	Services     []*Service
	PropertyLine []r2.Vec // closed outline of the owner's land, first point not repeated
}

// Path is a walked path.
type Path struct {
	Element
	Title       string
	Centreline  []r2.Vec
	ElevationsM []float64 // one per vertex
	WidthM      float64
	Surface     string
	Lit         bool
}

// Stair is a flight; Treads are derived, lowest first.
type Stair struct {
	Element
	Title      string
	FootLeft   r2.Vec // left when going up
	FootRight  r2.Vec
	HeadLeft   r2.Vec
	HeadRight  r2.Vec
	Risers     int
	RiseM      float64
	GoingM     float64
	WidthM     float64
	BaseM      float64 // elevation of the ground at the foot
	Handrails  string
	OpenRisers bool
	Material   string
	Public     bool
	Lit        bool
	Treads     []Tread
}

// Tread is one walking surface of a flight: a stair with n risers has n-1
// treads, and the level at its head is the landing or path there. The top
// level is counted as a tread too when nothing else covers it (Top is true),
// so that no riser leads to unjudged ground.
type Tread struct {
	ID       string // "lower/1", 1 is the lowest
	Number   int
	Outline  [4]r2.Vec // front left, front right, back right, back left, going up
	HeightM  float64   // elevation
	First    bool      // lowest
	Last     bool      // highest
	Top      bool      // the level at the head, not between two risers
	RiserTop float64   // elevation of the top of the riser behind it
}

// Landing is a level place at a stair.
type Landing struct {
	Element
	Outline    []r2.Vec
	ElevationM float64
	Stair      *Stair
	End        string // top | bottom
	Lit        bool
}

// Deck is a raised deck.
type Deck struct {
	Element
	Outline    []r2.Vec
	ElevationM float64
	Material   string
	BoardGapM  *float64
	Lit        bool
}

// Area is any other surface.
type Area struct {
	Element
	Title      string
	Kind       string
	Surface    string
	ThicknessM *float64
	Outline    []r2.Vec
	ElevationM float64
	Lit        bool
}

// Leaf is a gate's or a door's leaf.
type Leaf struct {
	Element
	Title         string
	Door          bool
	Hinge         r2.Vec
	LeafM         float64
	ClosedBearing float64
	Towards       string // left | right | both; empty when it slides
	AngleDeg      float64
	SlideBearing  *float64
	TravelM       float64
	HeightM       float64 // 0 when the plan does not say
	GroundGapM    float64
	ElevationM    float64
	Solid         bool
	HeldOpen      bool
	PostM         *float64
}

// Screen is a wall, fence or hedge.
type Screen struct {
	Element
	Line         []r2.Vec
	HeightM      float64
	ElevationM   float64
	ThicknessM   float64
	Material     string
	Transmission float64
}

// Post is a post or column.
type Post struct {
	Element
	At         r2.Vec
	DiameterM  float64
	HeightM    float64
	ElevationM float64
}

// Tree is a tree.
type Tree struct {
	Element
	Title        string
	At           r2.Vec
	TrunkM       float64 // diameter
	HasCanopy    bool
	BaseM, TopM  float64 // above the ground at the tree
	RadiusM      float64
	RootM        float64 // stated, else the canopy radius
	ElevationM   float64
	Transmission float64
}

// Bed is a planting bed.
type Bed struct {
	Element
	Outline []r2.Vec
	Cover   string
	Annuals bool
}

// Lawn is turf.
type Lawn struct {
	Element
	Outline     []r2.Vec
	MowerStripM *float64
	Aerated     *bool
}

// Drive is ground that vehicles use.
type Drive struct {
	Element
	Kind    string
	Surface string
	Outline []r2.Vec
}

// Water is open water.
type Water struct {
	Element
	Kind    string
	Outline []r2.Vec
}

// Window is a window pane.
type Window struct {
	Element
	Line  [2]r2.Vec
	SillM float64
	HeadM float64
	Whose string
}

// Building is a building.
type Building struct {
	Element
	Outline  []r2.Vec
	HeightM  float64 // 100 when the plan does not say: higher than any light
	Whose    string
	Cladding string
}

// Service is a buried service line.
type Service struct {
	Element
	Kind    string
	Route   []r2.Vec
	DepthM  *float64
	Located *bool
	Private *bool
}
