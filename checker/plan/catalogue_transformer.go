package plan

func (r *resolver) transformerType(s spot, e Element, t *TransformerTypeEntry) *TransformerType {
	tt := &TransformerType{
		Element: e, Title: t.Title, Kind: t.Kind, Output: t.Output, Regulated: or(t.Regulated, false),
		RatingVA:         or(r.vital(s, "rating", t.Rating, ApparentPower), 0),
		PrimaryVolts:     r.size(s, "primary_volts", t.PrimaryVolts, Voltage),
		TapsStatedAt:     t.TapsStatedAt,
		ImpedancePct:     r.percentOf(s, "impedance", t.Impedance),
		RegulationPct:    r.percentOf(s, "regulation", t.Regulation),
		OnOverload:       t.OnOverload,
		MinimumLoadVA:    r.amount(s, "minimum_load", t.MinimumLoad, ApparentPower),
		LargestDistanceM: r.extent(s, "largest_distance", t.LargestDistance),
		NoLoadLossW:      r.amount(s, "no_load_loss", t.NoLoadLoss, Power),
		Inrush:           t.Inrush, Outdoor: t.Outdoor, IP: t.IP, Listing: t.Listing,
		LargestVA: r.size(s, "largest_va_per_common", t.LargestVA, ApparentPower),
		Dimmable:  t.Dimmable, PWMHz: t.PWMFrequency,
		VentilationM: r.extent(s, "ventilation", t.Ventilation),
	}
	if t.Kind == "magnetic" {
		tt.Output = orText(t.Output, "ac")
	}
	for i, q := range t.Taps {
		if v := r.size(s.at("taps", i), "", q, Voltage); v != nil {
			tt.TapVolts = append(tt.TapVolts, *v)
		}
	}
	r.commons(s, t, tt)
	r.protection(s, t, tt)
	return tt
}

func (r *resolver) commons(s spot, t *TransformerTypeEntry, tt *TransformerType) {
	for i, c := range t.Commons {
		common := Common{
			DeviceAmps: r.size(s.at("commons", i), "breaker", c.Breaker, Current),
			DeviceKind: c.Kind, MostConductors: c.MostConductors,
		}
		if common.DeviceAmps != nil && common.DeviceKind == "" {
			common.DeviceKind = "breaker"
		}
		tt.Commons = append(tt.Commons, common)
	}
}

func (r *resolver) protection(s spot, t *TransformerTypeEntry, tt *TransformerType) {
	for i, p := range t.Protection {
		at := s.at("protection", i)
		device := Protection{
			Kind: p.Kind, Protects: p.Protects,
			Amps:     or(r.size(at, "amps", p.Amps, Current), 0),
			TapVolts: r.size(at, "tap", p.Tap, Voltage),
		}
		if device.TapVolts != nil && !hasTap(tt, *device.TapVolts) {
			r.dangling(at.key("tap"), "there is no tap of %g V; %s has %s", *device.TapVolts, tt.ID, tapList(tt))
		}
		tt.Protection = append(tt.Protection, device)
	}
}
