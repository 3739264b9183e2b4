package profile

import "testing"

// Spot values, each with the published source it is held against. Values from
// memory are not here: there is nothing to hold them against.
func TestSpotValues(t *testing.T) {
	for _, c := range []struct {
		profile, name, row string
		want               float64
		source             string
	}{
		{"us-nec-2020", "earth.cover", "all", 0.150, "NFPA 70, table 300.5, column 5: 6 in (150 mm)"},
		{"us-nec-2020", "earth.cover", "under-thin-concrete", 0.150, "NFPA 70, table 300.5, column 5: 6 in (150 mm)"},
		{"us-nec-2020", "earth.cover", "under-building", 0, "NFPA 70, table 300.5, column 5: 0, in a raceway"},
		{"us-nec-2020", "earth.cover", "under-slab", 0.150, "NFPA 70, table 300.5, column 5: 6 in (150 mm), direct burial"},
		{"us-nec-2020", "earth.cover_sleeved", "under-slab", 0.100, "NFPA 70, table 300.5, column 5: 4 in (100 mm), in a raceway"},
		{"us-nec-2020", "earth.cover", "street", 0.600, "NFPA 70, table 300.5, column 5: 24 in (600 mm)"},
		{"us-nec-2020", "earth.cover", "home-drive", 0.450, "NFPA 70, table 300.5, column 5: 18 in (450 mm)"},
		{"us-nec-2020", "earth.cover", "runway", 0.450, "NFPA 70, table 300.5, column 5: 18 in (450 mm)"},
		{"us-nec-2020", "wire.ampacity", "14 AWG", 15, "NFPA 70, table 310.16, 60 C, copper"},
		{"us-nec-2020", "wire.ampacity", "12 AWG", 20, "NFPA 70, table 310.16, 60 C, copper"},
		{"us-nec-2020", "wire.ampacity", "10 AWG", 30, "NFPA 70, table 310.16, 60 C, copper"},
		{"us-nec-2020", "wire.ampacity", "8 AWG", 40, "NFPA 70, table 310.16, 60 C, copper"},
		{"us-nec-2020", "wire.ampacity", "6 AWG", 55, "NFPA 70, table 310.16, 60 C, copper"},
		{"us-nec-2020", "wire.ampacity", "18 AWG", 10, "NFPA 70, table 400.5(A), two conductors"},
		{"us-nec-2020", "wire.ampacity", "16 AWG", 13, "NFPA 70, table 400.5(A), two conductors"},
		{"us-nec-2020", "wire.largest_device", "14 AWG", 15, "NFPA 70, 240.4(D)(3)"},
		{"us-nec-2020", "wire.largest_device", "12 AWG", 20, "NFPA 70, 240.4(D)(5)"},
		{"us-nec-2020", "wire.largest_device", "10 AWG", 30, "NFPA 70, 240.4(D)(7)"},
		{"us-nec-2020", "power.common_max_a", "", 25, "NFPA 70, article 411"},
		{"us-nec-2020", "power.branch_max_a", "", 20, "NFPA 70, 411.7"},
		{"us-nec-2020", "power.branch_continuous", "", 1 / 1.25, "NFPA 70, 210.20(A): 125 % of the continuous load"},
		{"us-nec-2020", "power.ac_max_v", "", 30, "NFPA 70, 411.1"},
		{"us-nec-2020", "power.dc_max_v", "", 60, "NFPA 70, 411.1"},
		{"us-nec-2020", "power.wet_ac_max_v", "", 15, "NFPA 70, 411.1 and 680.2"},
		{"us-nec-2020", "power.wet_dc_max_v", "", 30, "NFPA 70, 411.1 and 680.2"},
		{"us-nec-2020", "power.wet_pulsed_max_v", "", 12.4, "NFPA 70, 680.2"},
		{"us-nec-2020", "power.wet_ac_peak_max_v", "", 21.2, "NFPA 70, 680.2"},
		{"us-nec-2020", "water.setback_m", "", 3.0, "NFPA 70, 411.5(B): 10 ft (3.0 m)"},
		{"us-nec-2020", "wire.drop_advice", "", 0.03, "NFPA 70, 210.19(A), informational note"},
		{"us-nec-2020", "wire.drop_max", "", 0.05, "NFPA 70, 215.2(A), informational note"},
		{"iec-60364", "wire.drop_max", "", 0.05, "IEC 60364-7-715, 715.525"},
		{"iec-60364", "wire.smallest_mm2", "", 1.5, "IEC 60364-7-715, 715.524"},
		{"iec-60364", "wire.smallest_flexible_mm2", "", 1, "IEC 60364-7-715, 715.524"},
		{"iec-60364", "wire.smallest_flexible_m", "", 3, "IEC 60364-7-715, 715.524"},
		{"iec-60364", "power.ac_max_v", "", 50, "IEC 60364-7-715, scope"},
		{"iec-60364", "power.dc_max_v", "", 120, "IEC 60364-7-715, scope"},
		{"public-egress", "light.step_public_lx", "", 108, "IFC and IBC 2021, 1008.2.1: 10 fc (108 lx)"},
		{"public-egress", "light.landing_public_lx", "", 108, "IFC and IBC 2021, 1008.2.1: 10 fc (108 lx)"},
		{"public-egress", "light.path_public_lx", "", 11, "IFC and IBC 2021, 1008.2.1: 1 fc (11 lx)"},
		{"public-egress", "light.path_avg_to_min", "", 4, "ANSI/IES RP-8-14, as a state's highway manual tabulates it"},
		{"shore-wildlife", "neighbour.shortest_nm_min", "", 560, "Florida FWC wildlife lighting criteria"},
		{"bat-corridor", "neighbour.cct_max_k", "", 2700, "an English planning authority's ecology guidance"},
		{"e1", "neighbour.window_lux_pre", "", 2, "CIE 150:2003, EN 12193"},
		{"e2", "neighbour.window_lux_pre", "", 5, "CIE 150:2003, EN 12193"},
		{"e3", "neighbour.window_lux_post", "", 2, "CIE 150:2003"},
		{"e4", "neighbour.window_lux_post", "", 5, "CIE 150:2003"},
		{"e3", "neighbour.up_share_max", "", 0.15, "CIE 150:2003, EN 12193"},
		{"e4", "neighbour.intensity_pre_cd", "", 25000, "CIE 150:2003, EN 12193"},
		{"lz0", "neighbour.up_lumens_max", "", 0, "Model Lighting Ordinance 2011, table C-2: U0, no light upwards"},
		{"lz2", "neighbour.up_lumens_max", "", 100, "Model Lighting Ordinance user's guide: U2, 50 lm in each zone"},
	} {
		limits := stack(t, c.profile)
		got, ok := limits.Number(c.name)
		if c.row != "" {
			got, ok = limits.Row(c.name, c.row)
		}
		if !ok || got != c.want {
			t.Errorf("%s %s %s is %v, want %v (%s)", c.profile, c.name, c.row, got, c.want, c.source)
		}
		if l, _ := limits.Get(c.name); l.Confidence == Memory {
			t.Errorf("%s %s is from memory; it has no published source to be held against", c.profile, c.name)
		}
	}
}

// The words and flags that codes decide, each with its source.
func TestSpotFlags(t *testing.T) {
	for _, c := range []struct {
		profile, name string
		want          bool
		source        string
	}{
		{"us-nec-2020", "power.gfci_required", true, "NFPA 70, 210.8(A)(3)"},
		{"us-nec-2020", "power.in_use_cover_required", true, "NFPA 70, 406.9(B)(1)"},
		{"us-nec-2020", "power.weather_resistant_required", true, "NFPA 70, 406.9(A)"},
		{"us-nec-2020", "water.listed_exception", true, "NFPA 70, 680.22(B)(6)"},
		{"us-irc", "light.top_source_required", true, "International Residential Code, R303.6"},
		{"shore-wildlife", "neighbour.phosphor_allowed", false, "Florida FWC wildlife lighting criteria"},
	} {
		if got, ok := stack(t, c.profile).Flag(c.name); !ok || got != c.want {
			t.Errorf("%s %s is %v, want %v (%s)", c.profile, c.name, got, c.want, c.source)
		}
	}
	if got, _ := stack(t, "iec-60364").Text("wire.drop_severity"); got != "defect" {
		t.Errorf("IEC 60364-7-715 drop severity is %q, want defect", got)
	}
	if got, _ := stack(t, "us-nec-2020").Text("wire.drop_severity"); got != "advice" {
		t.Errorf("NFPA 70 drop severity is %q, want advice: its notes are informational (90.5(C))", got)
	}
}

// 10 fc is 107.639 lx and 1 fc is 10.764 lx by the definition of the foot; the
// codes print 108 and 11, which are kept.
func TestFootcandlesAreAsPrinted(t *testing.T) {
	const perFootcandle = 1 / (0.3048 * 0.3048)
	for _, c := range []struct {
		name        string
		footcandles float64
	}{{"light.step_public_lx", 10}, {"light.path_public_lx", 1}} {
		got, _ := stack(t, "public-egress").Number(c.name)
		if ratio := got / (c.footcandles * perFootcandle); ratio < 1 || ratio > 1.025 {
			t.Errorf("%s is %v lx, %.3f times %v fc", c.name, got, ratio, c.footcandles)
		}
	}
}
