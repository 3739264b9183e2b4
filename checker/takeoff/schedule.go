package takeoff

// Format is the version of the schedule's JSON form.
const Format = "1.0"

// Schedule is every schedule of one plan. Values without a suffix in their name
// are in the unit that their comment names. Amps, VA and volts are with all
// lamps on at nominal supply, unless they say otherwise; the most is over all
// corners. Both are absent where a transformer has no stable answer.
type Schedule struct {
	// Format is the version of this form.
	Format string `json:"format"`
	// Title is the plan's title.
	Title string `json:"title"`
	// Stage is survey, design, issued or as-built.
	Stage string `json:"stage"`
	// Today is the date of the check, ISO 8601.
	Today string `json:"today"`
	// Units is the plan's own unit of length, ft or m. Lengths here are in
	// metres all the same.
	Units string `json:"units"`
	// Caution is the standing caution. Show it wherever you show the schedules.
	Caution string `json:"caution"`

	// Transformers are the power units.
	Transformers []Transformer `json:"transformers"`
	// Commons are the outputs in use.
	Commons []Common `json:"commons"`
	// Runs are the networks of cable.
	Runs []Run `json:"runs"`
	// Legs are the cables between two ends.
	Legs []Leg `json:"legs"`
	// Lamps are the fixtures with their volts.
	Lamps []Lamp `json:"lamps"`
	// Treads are treads and landings, each in its darkest scene in use.
	Treads []Lit `json:"treads"`
	// Paths are paths, terraces and decks, each in its darkest scene in use.
	Paths []Lit `json:"paths"`
	// FixtureTypes count the fixtures by type.
	FixtureTypes []FixtureType `json:"fixture_types"`
	// Joints count the connectors by type.
	Joints []Joint `json:"joints"`
	// Trenches are what has to be dug, by cover and surface.
	Trenches []Trench `json:"trenches"`
	// Purchases are what to buy.
	Purchases []Purchase `json:"purchases"`
	// Scenes are the states of the lights, with their controls.
	Scenes []Scene `json:"scenes"`
	// Aims say how to aim the fixtures that are aimed.
	Aims []Aim `json:"aims"`
	// Assumed is what the plan does not state and was computed with all the
	// same.
	Assumed []Assumption `json:"assumed"`
	// Readings are the commissioning sheet.
	Readings []Expected `json:"readings"`
	// OneLines are the one-line diagrams, one for each transformer.
	OneLines []OneLine `json:"one_lines"`
}

// Transformer is the load of one power unit.
type Transformer struct {
	// ID is the transformer's id.
	ID string `json:"id"`
	// Type is the catalogue name.
	Type string `json:"type"`
	// RatingVA is its rated load.
	RatingVA float64 `json:"rating_va"`
	// Solved is false when the load has no stable answer at nominal supply; VA
	// and Loading are then absent, and so are the amps and volts of what it
	// feeds.
	Solved bool `json:"solved"`
	// VA is its load with cable losses.
	VA *float64 `json:"va,omitempty"`
	// Loading is VA over RatingVA.
	Loading *float64 `json:"loading,omitempty"`
	// MostVA is the largest load over all corners; MostCorner says which.
	MostVA     *float64 `json:"most_va,omitempty"`
	MostCorner string   `json:"most_corner,omitempty"`
	// LossW is the power lost in cables and joints.
	LossW *float64 `json:"loss_w,omitempty"`
	// SpareVA is what is left of the rating in the worst corner; nought when
	// nothing is.
	SpareVA *float64 `json:"spare_va,omitempty"`
	// PrimaryAmps is the largest primary current; absent without mains volts.
	PrimaryAmps *float64 `json:"primary_amps,omitempty"`
	// Branch and Receptacle are what it hangs on.
	Branch     string `json:"branch,omitempty"`
	Receptacle string `json:"receptacle,omitempty"`
}

// Common is the load of one output of a transformer.
type Common struct {
	// ID is the transformer's id, a slash and the number of the terminal.
	ID string `json:"id"`
	// Transformer and Number are its parts.
	Transformer string `json:"transformer"`
	Number      int    `json:"number"`
	// Amps is its current, absent without an answer; MostAmps the largest over
	// all corners.
	Amps     *float64 `json:"amps,omitempty"`
	MostAmps *float64 `json:"most_amps,omitempty"`
	// MostVA is the largest load over all corners.
	MostVA *float64 `json:"most_va,omitempty"`
	// DeviceAmps is the rating of its breaker or fuse.
	DeviceAmps *float64 `json:"device_amps,omitempty"`
	// Runs are the ids of the runs that return on it.
	Runs []string `json:"runs"`
}

// Run is the load of one run.
type Run struct {
	// ID is the run's id.
	ID string `json:"id"`
	// Title is what the plan calls it.
	Title string `json:"title,omitempty"`
	// Transformer, Common and TapVolts are where it starts.
	Transformer string  `json:"transformer"`
	Common      int     `json:"common"`
	TapVolts    float64 `json:"tap_volts"`
	// Lamps is how many fixtures it feeds, LampVA what they draw.
	Lamps  int     `json:"lamps"`
	LampVA float64 `json:"lamp_va"`
	// Solved is false when some corner has no stable answer; FailsAt is that
	// corner, and CouldCarryVA what the run could carry in it.
	Solved       bool     `json:"solved"`
	FailsAt      string   `json:"fails_at,omitempty"`
	CouldCarryVA *float64 `json:"could_carry_va,omitempty"`
	// Amps is its current at its start, absent without an answer; MostAmps the
	// largest over all corners.
	Amps     *float64 `json:"amps,omitempty"`
	MostAmps *float64 `json:"most_amps,omitempty"`
	// LengthM is all its cable with its slack; FarthestM the longest way to a
	// lamp.
	LengthM   float64 `json:"length_m"`
	FarthestM float64 `json:"farthest_m"`
	// SpareVA is how much more it could carry at its farthest lamp, nought when
	// nothing; absent when the run has no answer. SpareUntil says what fails
	// with more.
	SpareVA    *float64 `json:"spare_va,omitempty"`
	SpareUntil string   `json:"spare_until,omitempty"`
}

// Leg is one cable.
type Leg struct {
	// ID is the leg's id.
	ID string `json:"id"`
	// Run, From and To are ids.
	Run  string `json:"run"`
	From string `json:"from"`
	To   string `json:"to"`
	// Cable is the catalogue name, Conductor its size.
	Cable     string `json:"cable,omitempty"`
	Conductor string `json:"conductor,omitempty"`
	// LengthM is one way, without slack; absent when it is not known.
	LengthM *float64 `json:"length_m,omitempty"`
	// SlackM is extra cable at its ends.
	SlackM float64 `json:"slack_m"`
	// Method is how it is laid, CoverM the earth above it, Sleeve what it is
	// drawn through.
	Method string   `json:"method,omitempty"`
	CoverM *float64 `json:"cover_m,omitempty"`
	Sleeve string   `json:"sleeve,omitempty"`
	// Amps is its current, absent without an answer; MostAmps the largest over
	// all corners.
	Amps     *float64 `json:"amps,omitempty"`
	MostAmps *float64 `json:"most_amps,omitempty"`
	// DropV is the drop along it; absent without an answer.
	DropV *float64 `json:"drop_v,omitempty"`
}

// Lamp is one fixture and what its lamp gets.
type Lamp struct {
	// ID is the fixture's id.
	ID string `json:"id"`
	// Type is the catalogue name.
	Type string `json:"type"`
	// Run is the run that feeds it.
	Run string `json:"run,omitempty"`
	// VA is what it draws.
	VA float64 `json:"va"`
	// Volts are absent when the run has no answer or nothing feeds it.
	Volts *Volts `json:"volts,omitempty"`
	// MinVolts and MaxVolts are its window.
	MinVolts *float64 `json:"min_volts,omitempty"`
	MaxVolts *float64 `json:"max_volts,omitempty"`
	// DropV is the drop from the loaded tap to the lamp; DropShare the same
	// over the rated tap.
	DropV     *float64 `json:"drop_v,omitempty"`
	DropShare *float64 `json:"drop_share,omitempty"`
}

// Volts are the volts at one lamp.
type Volts struct {
	// Nominal is with all lamps on at nominal supply.
	Nominal float64 `json:"nominal"`
	// Low and High are the least and the most over all corners; LowCorner and
	// HighCorner say which.
	Low        float64 `json:"low"`
	LowCorner  string  `json:"low_corner"`
	High       float64 `json:"high"`
	HighCorner string  `json:"high_corner"`
	// Corners are the volts in each corner with every lamp on, and in each scene
	// in use that lights it. Low and High also count those with one lamp out.
	Corners []CornerVolts `json:"corners"`
}

// CornerVolts are the volts at one lamp in one corner.
type CornerVolts struct {
	// Corner says supply, cable and scene.
	Corner string `json:"corner"`
	// Volts are at the lamp.
	Volts float64 `json:"volts"`
}

// Lit is the light on one tread, landing, path, terrace or deck.
type Lit struct {
	// ID is the tread's, landing's, path's, terrace's or deck's id.
	ID string `json:"id"`
	// Scene is the scene in use in which it is darkest.
	Scene string `json:"scene"`
	// LuxMin and LuxAvg are over its points in that scene; absent when a
	// fixture in range has no known light.
	LuxMin *float64 `json:"lux_min,omitempty"`
	LuxAvg *float64 `json:"lux_avg,omitempty"`
	// LuxCentre is in the middle of the walking strip, for treads and landings.
	LuxCentre *float64 `json:"lux_centre,omitempty"`
	// LuxMax is the most over its points in that scene, for paths, terraces
	// and decks.
	LuxMax *float64 `json:"lux_max,omitempty"`
	// LeastToAverage, AverageToLeast and MostToLeast are the three ways to say
	// how even the light is, for paths, terraces and decks; the last two are
	// absent where the least is nought.
	LeastToAverage *float64 `json:"least_to_average,omitempty"`
	AverageToLeast *float64 `json:"average_to_least,omitempty"`
	MostToLeast    *float64 `json:"most_to_least,omitempty"`
	// GridStepM is the step of the grid of points on a path, terrace or deck.
	GridStepM *float64 `json:"grid_step_m,omitempty"`
	// Points is how many points of that grid people walk on.
	Points int `json:"points,omitempty"`
}

// FixtureType counts one type of fixture.
type FixtureType struct {
	// ID is the catalogue name.
	ID string `json:"id"`
	// Title is what the catalogue calls it; Kind is its kind.
	Title string `json:"title,omitempty"`
	Kind  string `json:"kind"`
	// Count is how many there are, Fixtures which.
	Count    int      `json:"count"`
	Fixtures []string `json:"fixtures"`
	// VA is what one of them draws.
	VA float64 `json:"va"`
	// GravelM is the depth of gravel below each, for those that lie flush in
	// the ground.
	GravelM *float64 `json:"gravel_m,omitempty"`
}

// Joint counts one type of connector.
type Joint struct {
	// ID is the catalogue name; Kind is its kind.
	ID   string `json:"id"`
	Kind string `json:"kind,omitempty"`
	// Count is how many are needed.
	Count int `json:"count"`
	// Places are the nodes and fixtures where they go.
	Places []string `json:"places"`
}

// Trench is what has to be dug with one cover under one surface.
type Trench struct {
	// CoverM is the earth above the cable; absent when the plan does not say.
	CoverM *float64 `json:"cover_m,omitempty"`
	// Surface is what lies above: open ground, or the kinds of the surfaces.
	Surface string `json:"surface"`
	// LengthM counts a trench that several legs share once.
	LengthM float64 `json:"length_m"`
	// Legs are the legs whose way it follows or that share it.
	Legs []string `json:"legs"`
	// Routed is false for legs that give a length and no way: they are counted
	// in full, as if no two shared a trench.
	Routed bool `json:"routed"`
}

// Purchase is one line of what to buy.
type Purchase struct {
	// What is cable, sleeve, connector, fixture, transformer or gravel.
	What string `json:"what"`
	// Name is the catalogue name, or the size of a sleeve.
	Name string `json:"name"`
	// Unit is m, litre or piece.
	Unit string `json:"unit"`
	// Needed is what the plan uses, slack counted.
	Needed float64 `json:"needed"`
	// Allowed is Needed with the allowance for offcuts.
	Allowed float64 `json:"allowed"`
	// Buy is Allowed rounded up to what is sold.
	Buy float64 `json:"buy"`
	// Bought is what has been bought; absent when the plan lists nothing of
	// the kind.
	Bought *float64 `json:"bought,omitempty"`
	// Unmeasured is how many legs have no length, so that Needed is too small.
	Unmeasured int `json:"unmeasured"`
}

// Scene is one state of the lights.
type Scene struct {
	// ID is the scene's id.
	ID string `json:"id"`
	// Control is the control that sets it; Kind is its kind.
	Control string `json:"control,omitempty"`
	Kind    string `json:"kind,omitempty"`
	// InUse is true for scenes that are judged.
	InUse bool `json:"in_use"`
	// From and Until are when it begins and ends.
	From  string `json:"from,omitempty"`
	Until string `json:"until,omitempty"`
	// Lamps is how many fixtures are on, VA what they draw at rated volts.
	Lamps int     `json:"lamps"`
	VA    float64 `json:"va"`
	// Groups are the groups with a fixture on.
	Groups []string `json:"groups"`
}

// Aim says how to aim one fixture.
type Aim struct {
	// ID is the fixture's id.
	ID string `json:"id"`
	// Type is the catalogue name.
	Type string `json:"type"`
	// Mount and Host are how and on what it is mounted.
	Mount string `json:"mount,omitempty"`
	Host  string `json:"host,omitempty"`
	// HeightM is its light centre above what it stands on.
	HeightM *float64 `json:"height_m,omitempty"`
	// BearingDeg is clockwise from plan north.
	BearingDeg *float64 `json:"bearing_deg,omitempty"`
	// TiltDeg is from straight down: 90 is level, 180 straight up.
	TiltDeg *float64 `json:"tilt_deg,omitempty"`
	// At is the tree or place that it is aimed at.
	At string `json:"at,omitempty"`
}

// Expected is one line of the commissioning sheet.
type Expected struct {
	// At is the lamp's or the transformer's id; Common the terminal of a
	// transformer, from 1.
	At     string `json:"at"`
	Common int    `json:"common,omitempty"`
	// What says what to measure.
	What string `json:"what"`
	// Quantity is volts or amps.
	Quantity string `json:"quantity"`
	// Expected is at nominal supply with all lamps on; absent without an
	// answer.
	Expected *float64 `json:"expected,omitempty"`
	// Low and High are the least and the most over all corners: outside them
	// something is wrong. Amps have no least, since scenes switch lamps off.
	Low  *float64 `json:"low,omitempty"`
	High *float64 `json:"high,omitempty"`
}

// OneLine is the one-line diagram of one transformer, in text.
type OneLine struct {
	// ID is the transformer's id.
	ID string `json:"id"`
	// Lines are drawn with box characters.
	Lines []string `json:"lines"`
}

// Assumption is one number that the plan does not state and that was computed
// with all the same.
type Assumption struct {
	// Of is the id or the catalogue name that it is about; empty for the plan
	// as a whole.
	Of string `json:"of,omitempty"`
	// What says which number it is.
	What string `json:"what"`
	// From and To are the ends of what was assumed, equal for a single number,
	// in Unit: %, degC, or 1 for a ratio.
	From float64 `json:"from"`
	To   float64 `json:"to"`
	Unit string  `json:"unit"`
	// Source is where the number comes from.
	Source string `json:"source,omitempty"`
}
