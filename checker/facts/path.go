package facts

// Path is one path or terrace in one scene in use.
type Path struct {
	ID string `json:"id"`
	// Kind is path, deck or the area's kind.
	Kind string `json:"kind"`
	// Scene is the scene.
	Scene string `json:"scene"`
	// LengthM and WidthM are its size; StepM is the step of the grid and
	// Points the number of its points on which people walk: not under a
	// flight of steps, nor inside a wall or post.
	LengthM float64 `json:"length_m"`
	WidthM  float64 `json:"width_m"`
	StepM   float64 `json:"step_m"`
	Points  int     `json:"points"`
	// Known is true when no fixture of unknown light may add to what is
	// computed.
	Known bool `json:"known"`
	// LuxMin, LuxAvg and LuxMax are over the grid.
	LuxMin *float64 `json:"lux_min,omitempty"`
	LuxAvg *float64 `json:"lux_avg,omitempty"`
	LuxMax *float64 `json:"lux_max,omitempty"`
	// Uo is min over avg, AvgToMin avg over min, MaxToMin max over min; the
	// last two are absent when the minimum is nought.
	Uo       *float64 `json:"uo,omitempty"`
	AvgToMin *float64 `json:"avg_to_min,omitempty"`
	MaxToMin *float64 `json:"max_to_min,omitempty"`
	// DarkM is the longest stretch of the centreline below the limit
	// light.path_dark_lx, from DarkFromM to DarkToM along it. What a fixture
	// of unknown light may reach counts as lit.
	DarkM     *float64 `json:"dark_m,omitempty"`
	DarkFromM *float64 `json:"dark_from_m,omitempty"`
	DarkToM   *float64 `json:"dark_to_m,omitempty"`
	// WidestGapM is the longest gap between path fixtures along it, from
	// GapFrom to GapTo.
	WidestGapM *float64 `json:"widest_gap_m,omitempty"`
	GapFrom    string   `json:"gap_from,omitempty"`
	GapTo      string   `json:"gap_to,omitempty"`
	// LeftLights and RightLights are how many path fixtures stand on either
	// side of it.
	LeftLights  int `json:"left_lights"`
	RightLights int `json:"right_lights"`
	// OppositePairs is how many path fixtures face each other.
	OppositePairs int `json:"opposite_pairs"`
	// Lamps are the ids of the fixtures that light it, the strongest first; for
	// readers, not for rules.
	Lamps []string `json:"-"`
}
