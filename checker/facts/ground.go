package facts

// Stair is one flight of steps.
type Stair struct {
	ID string `json:"id"`
	// Risers is the number of risers.
	Risers int `json:"risers"`
	// Public is true for a public way.
	Public bool `json:"public"`
	// Handrails is none, left, right or both.
	Handrails string `json:"handrails,omitempty"`
	// Unlit is true when the plan says that it is not meant to be lit.
	Unlit bool `json:"not_meant_lit"`
	// TopSourceM is the distance from its head to the nearest fixture that
	// lights its top in any scene in use; absent when none does.
	TopSourceM *float64 `json:"top_source_m,omitempty"`
	// Tops are the light and the source at its head in each scene in use.
	Tops []StairTop `json:"tops"`
	// Controls lists the controls that switch the fixtures that light it;
	// Automatic is true when one of them works by itself, Reachable when one
	// can be worked from the flight or from a building.
	Controls  []string `json:"controls"`
	Automatic bool     `json:"automatic"`
	Reachable bool     `json:"reachable"`
}

// StairTop is the top of a flight in one scene in use.
type StairTop struct {
	// Scene is the scene.
	Scene string `json:"scene"`
	// Source is the nearest fixture that lights the top, SourceM how far it
	// stands from the head; absent when none does. One of unknown light near
	// the top counts.
	Source  string   `json:"source,omitempty"`
	SourceM *float64 `json:"source_m,omitempty"`
	// Unknown is true when no source was found, but fixtures without a place
	// are on.
	Unknown bool `json:"unknown"`
	// Lux is on the level one pace beyond the head; absent when a fixture in
	// range has no known light.
	Lux *float64 `json:"lux,omitempty"`
}

// Tread is one tread or landing in one scene in use. Its id is the stair's
// id, a slash and the number from the bottom, or the landing's id.
type Tread struct {
	ID string `json:"id"`
	// Stair is the stair's id; Number counts from the bottom, 0 for a
	// landing.
	Stair  string `json:"stair,omitempty"`
	Number int    `json:"number"`
	// Landing is true for a landing.
	Landing bool `json:"landing"`
	// First and Last are true for the lowest and highest tread.
	First bool `json:"first"`
	Last  bool `json:"last"`
	// End is top or bottom, for a landing.
	End string `json:"end,omitempty"`
	// Public is true on a public way.
	Public bool `json:"public"`
	// Scene is the scene.
	Scene string `json:"scene"`
	// LuxCentre is at the centre of the walking strip, LuxMin the least of
	// centre and corners, LuxAvg their mean. Absent when a fixture in range
	// has no known light.
	LuxCentre *float64 `json:"lux_centre,omitempty"`
	LuxMin    *float64 `json:"lux_min,omitempty"`
	LuxAvg    *float64 `json:"lux_avg,omitempty"`
	// LuxLow is LuxCentre with low supply and hot cable.
	LuxLow *float64 `json:"lux_low,omitempty"`
	// Lamps are the ids of the fixtures that light it, the strongest first.
	Lamps []string `json:"lamps"`
	// Unlit is true when the plan says that it is not meant to be lit.
	Unlit bool `json:"not_meant_lit"`
}

// Leaf is a gate or a door.
type Leaf struct {
	ID string `json:"id"`
	// Door is true for a door.
	Door bool `json:"door"`
	// LeafM is the leaf's length, GapM its gap above the ground.
	LeafM float64 `json:"leaf_m"`
	GapM  float64 `json:"gap_m"`
	// HeightM is its height; absent when the plan does not say.
	HeightM *float64 `json:"height_m,omitempty"`
	// MayShade is true when it stops light and a place that is meant to be
	// lit, and a light, are near.
	MayShade bool `json:"may_shade"`
}

// LeafClearance is a fixture in or near the sweep of a leaf; only pairs nearer
// than 1 m are listed. Its id is the fixture's id.
type LeafClearance struct {
	ID string `json:"id"`
	// Leaf is the gate's or door's id.
	Leaf string `json:"leaf"`
	// Door is true for a door.
	Door bool `json:"door"`
	// Slides is true for a leaf that slides and does not swing.
	Slides bool `json:"slides"`
	// ClearanceM is from the fixture's body to the swept region, negative
	// when it is inside.
	ClearanceM float64 `json:"clearance_m"`
	// Clears is true when the leaf passes over the fixture, or it is flush.
	Clears bool `json:"clears"`
}

// LeafShadow is a tread or path that a leaf throws into shadow.
type LeafShadow struct {
	// ID is the tread's or path's id.
	ID string `json:"id"`
	// Leaf is the gate's or door's id.
	Leaf string `json:"leaf"`
	// Scene is the scene.
	Scene string `json:"scene"`
	// Position is closed; open, for a leaf that is left open; or swing, which
	// is any other position and is given for treads only.
	Position string `json:"position"`
	// OpenDeg is how far the leaf is open there.
	OpenDeg float64 `json:"open_deg"`
	// Tread is true for a tread.
	Tread bool `json:"tread"`
	// LuxWithout and LuxWith are at the point that the leaf leaves darkest, of
	// those that are not dark without it: without the leaf and with it there.
	LuxWithout float64 `json:"lux_without"`
	LuxWith    float64 `json:"lux_with"`
}

// Beam is a fixture aimed at a tree.
type Beam struct {
	// ID is the fixture's id.
	ID string `json:"id"`
	// Tree is the tree's id. Stated is true when the plan aims the fixture at
	// it; else it is the tree nearest to where an uplight points.
	Tree   string `json:"tree"`
	Stated bool   `json:"stated"`
	// OnTree is the share of its light on trunk and canopy, PastTree the
	// share that goes past into the sky, Blocked the share that something
	// else stops. Absent when the plan gives the tree no crown.
	OnTree   *float64 `json:"on_tree,omitempty"`
	PastTree *float64 `json:"past_tree,omitempty"`
	Blocked  *float64 `json:"blocked,omitempty"`
	// BestTiltDeg and BestBearingDeg are the aim that lands most on it, and
	// BestOnTree that share; given where OnTree is below the limit
	// light.beam_on_tree_min.
	BestTiltDeg    *float64 `json:"best_tilt_deg,omitempty"`
	BestBearingDeg *float64 `json:"best_bearing_deg,omitempty"`
	BestOnTree     *float64 `json:"best_on_tree,omitempty"`
}

// Sightline is a bare source in sight: at its brightest scene, new and clean.
type Sightline struct {
	// ID is the fixture's id.
	ID string `json:"id"`
	// From is the path, stair or window it is seen from, or "property-line";
	// FromKind is path, stair, window, neighbour-window or boundary.
	From     string `json:"from"`
	FromKind string `json:"from_kind"`
	// DistanceM is how far away the eye is.
	DistanceM float64 `json:"distance_m"`
	// OffAxisDeg is how far from its axis the eye is.
	OffAxisDeg float64 `json:"off_axis_deg"`
	// FromDownDeg is the direction of the eye from straight down at the
	// source: 90 is level.
	FromDownDeg float64 `json:"from_down_deg"`
	// Candela is its intensity towards the eye.
	Candela float64 `json:"candela"`
	// CandelaPerKlm is the same for each 1,000 lm.
	CandelaPerKlm float64 `json:"candela_per_klm"`
	// Lux is what it gives at the eye, facing it.
	Lux float64 `json:"lux"`
}

// BoundaryLight is the worst light on a property line's edge or a window, with
// lamps new and clean.
type BoundaryLight struct {
	// ID is "property-line" or the window's id.
	ID string `json:"id"`
	// Kind is property-line, own-window or neighbour-window.
	Kind string `json:"kind"`
	// Edge is the edge's number from 1, for the property line.
	Edge int `json:"edge"`
	// Scene is the scene.
	Scene string `json:"scene"`
	// Lux is vertical.
	Lux float64 `json:"lux"`
	// XM and YM are where.
	XM float64 `json:"x_m"`
	YM float64 `json:"y_m"`
	// Worst is the fixture that gives most there, Lamps all that do, the
	// strongest first.
	Worst string   `json:"worst,omitempty"`
	Lamps []string `json:"lamps"`
}

// Standing is a fixture that stands in, or near the edge of, a zone where people,
// mowers, vehicles or snow go, or beyond the property line.
type Standing struct {
	// ID is the fixture's id.
	ID string `json:"id"`
	// Zone is the area's id, or "property-line". ZoneKind is drive, path,
	// stair, landing, lawn, mower-strip, snow-store or off-land; for a flush
	// fixture also terrace, slab, play or other.
	Zone     string `json:"zone"`
	ZoneKind string `json:"zone_kind"`
	// IntoM is how far it reaches into the zone, its body counted; negative
	// when it stands beside the zone, within the room that the limits ask
	// for there.
	IntoM float64 `json:"into_m"`
	// Flush is true when it does not rise above the surface.
	Flush bool `json:"flush"`
	// LoadClass is none, walk-over or drive-over; absent when the type does
	// not say.
	LoadClass string `json:"load_class,omitempty"`
}

// Piece is a stretch of a leg with the same surfaces above it. Its id is the
// leg's id.
type Piece struct {
	ID string `json:"id"`
	// FromM and ToM are stations along the leg.
	FromM float64 `json:"from_m"`
	ToM   float64 `json:"to_m"`
	// Above lists the kinds of what lies above: home-drive, shared-drive,
	// street-drive, parking-drive, path, stair, landing, deck, bed, lawn,
	// building, or the area's kind. A leg along the edge of anything but a
	// drive is not under it. It is empty for a leg without a route.
	Above []string `json:"above"`
	// Over lists their ids.
	Over []string `json:"over"`
	// Row is the row of the cover table that governs.
	Row string `json:"row"`
	// RequiredM is the cover that row asks for; absent when the profile has
	// no table.
	RequiredM *float64 `json:"required_m,omitempty"`
	// RequiredSource names the clause.
	RequiredSource string `json:"required_source,omitempty"`
	// CoverM is what the leg has there; absent when the plan does not say.
	CoverM *float64 `json:"cover_m,omitempty"`
	// Method is how the leg is laid, Exempt true for the short rise to a
	// fixture, hub or transformer, or a leg that is not in the ground.
	Method string `json:"method,omitempty"`
	Exempt bool   `json:"exempt"`
	// Sleeved is true when a sleeve covers this piece.
	Sleeved bool `json:"sleeved"`
	// Hard lists the ids of the drives and of the paving above it, which have
	// to be broken up to reach the cable.
	Hard []string `json:"hard"`
	// Paved is true when what lies above cannot be lifted and laid again by
	// hand. It is absent when a surface above does not say what it is made
	// of, or when the site has drives and the leg has no route.
	Paved *bool `json:"paved,omitempty"`
}

// Crossing is a place where a leg meets something that matters; one for each
// leg and thing.
type Crossing struct {
	// ID is the leg's id.
	ID string `json:"id"`
	// What is the element's id, or "property-line"; Kind is service,
	// root-zone, wall, building, deck, annual-bed, aerated-lawn or off-land.
	What string `json:"what"`
	Kind string `json:"kind"`
	// ServiceKind is the service's kind.
	ServiceKind string `json:"service_kind,omitempty"`
	// StationM is where along the leg they first cross, or come nearest.
	StationM float64 `json:"station_m"`
	// LengthM is how much of the leg lies there: in the zone, under the
	// building, or beside the service, no farther from it than the limit for
	// its kind and within 20 degrees of its direction.
	LengthM float64 `json:"length_m"`
	// ZoneM is the radius of a root zone; absent when the plan gives neither
	// the crown nor the roots of a tree within 3 m.
	ZoneM *float64 `json:"zone_m,omitempty"`
	// Crosses is true when they cross.
	Crosses bool `json:"crosses"`
	// SeparationM is the least distance to a service, nought when they
	// cross; absent when the leg has no route, so that nobody can tell.
	SeparationM *float64 `json:"separation_m,omitempty"`
	// BesideM is the least distance along that length beside a service.
	BesideM *float64 `json:"beside_m,omitempty"`
	// Located says whether a service was marked on site, or is private and
	// private lines were mapped.
	Located *bool `json:"located,omitempty"`
	// InGround is true for a leg that has to be dug in.
	InGround bool `json:"in_ground"`
	// Sleeved is true when a sleeve covers the leg there.
	Sleeved bool `json:"sleeved"`
	// Method is how the leg is laid.
	Method string `json:"method,omitempty"`
}

// WaterDistance is something near water.
type WaterDistance struct {
	// ID is the fixture's, leg's, transformer's or receptacle's id.
	ID string `json:"id"`
	// Thing is fixture, leg, transformer or receptacle.
	Thing string `json:"thing"`
	// Water is the water's id, Kind its kind.
	Water string `json:"water"`
	Kind  string `json:"kind"`
	// DistanceM is horizontal, from the fixture's body to the water's edge;
	// nought inside. It is absent when the plan has a pool, spa or fountain
	// and does not say where the thing is.
	DistanceM *float64 `json:"distance_m,omitempty"`
	// Listing lists what the fixture, cable or transformer is listed for.
	Listing []string `json:"listing"`
	// SupplyListing lists what its transformer is listed for.
	SupplyListing []string `json:"supply_listing"`
	// TapVolts is the rated tap, Output ac, hf-ac or dc.
	TapVolts *float64 `json:"tap_volts,omitempty"`
	Output   string   `json:"output,omitempty"`
}

// Service is a buried service line.
type Service struct {
	ID string `json:"id"`
	// Kind is gas, water, mains, telecom, irrigation, drain, septic or other.
	Kind string `json:"kind"`
	// Located says whether it was marked on site, or is private and private
	// lines were mapped.
	Located *bool `json:"located,omitempty"`
	// Private says whether no public service marks it.
	Private *bool `json:"private,omitempty"`
	// Met is true when a cable in the ground crosses it or comes near it.
	Met bool `json:"met"`
}

// Bed is a planting bed.
type Bed struct {
	ID string `json:"id"`
	// Cover is mulch, bark, leaves, gravel, soil or planting.
	Cover string `json:"cover,omitempty"`
	// Annuals is true when it is dug over every year.
	Annuals bool `json:"annuals"`
}

// Photometry says how one fixture type's photometric file agrees with the
// plan.
type Photometry struct {
	// ID is the fixture type's name.
	ID string `json:"id"`
	// File is the file's name.
	File string `json:"file"`
	// Problem says why it could not be used.
	Problem string `json:"problem,omitempty"`
	// FluxLm is what the file's intensities add up to: what the fixture
	// gives. StatedLm is what the plan states that it gives.
	FluxLm   *float64 `json:"flux_lm,omitempty"`
	StatedLm *float64 `json:"stated_lm,omitempty"`
	// LampLm is the flux of the lamps by the file, OutputRatio the share of it
	// that leaves the fixture; absent for a file of absolute intensities.
	LampLm      *float64 `json:"lamp_lm,omitempty"`
	OutputRatio *float64 `json:"output_ratio,omitempty"`
}
