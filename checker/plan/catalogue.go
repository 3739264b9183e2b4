package plan

import (
	"maps"
	"math"
	"slices"
)

// powerFactorSlack is how far a stated power factor may lie from watts divided
// by volt-amperes before they contradict each other. Labels round watts to
// tenths and volt-amperes to tenths.
const powerFactorSlack = 0.05

// defaultLampVolts is what a filament or resistive lamp is rated for when its
// type does not say.
const defaultLampVolts = 12

// catalogue reads the types. Their names are a world of their own: a cable type
// may have the name of a fixture.
func (r *resolver) catalogue() {
	c := &r.doc.Catalogue
	r.cableTypes = readTypes(c.Cables, "cables", "cable type", r.cableType)
	r.connectorTypes = readTypes(c.Connectors, "connectors", "connector type", r.connectorType)
	r.transformerTypes = readTypes(c.Transformers, "transformers", "transformer type", r.transformerType)
	r.fixtureTypes = readTypes(c.Fixtures, "fixtures", "fixture type", r.fixtureType)
	p := r.plan
	p.FixtureTypes, p.CableTypes = byName(r.fixtureTypes), byName(r.cableTypes)
	p.ConnectorTypes, p.TransformerTypes = byName(r.connectorTypes), byName(r.transformerTypes)
}

// byName lists types in order of name.
func byName[T any](types map[string]*T) []*T {
	list := make([]*T, 0, len(types))
	for _, name := range slices.Sorted(maps.Keys(types)) {
		list = append(list, types[name])
	}
	return list
}

// readTypes reads one part of the catalogue, in the order of names.
func readTypes[E, T any](entries map[string]E, section, kind string, read func(spot, Element, *E) *T) map[string]*T {
	types := make(map[string]*T, len(entries))
	for _, name := range slices.Sorted(maps.Keys(entries)) {
		entry := entries[name]
		s := sectionSpot(name, "/catalogue/"+section).name(name)
		s.base = s.pointer
		types[name] = read(s, Element{ID: name, Kind: kind, Pointer: s.pointer}, &entry)
	}
	return types
}

func (r *resolver) cableType(_ spot, e Element, c *CableTypeEntry) *CableType {
	s := spotOf(&e)
	cores := c.Cores
	if cores == 0 {
		cores = 2
	}
	return &CableType{
		Element: e, Title: c.Title, Cores: cores,
		Conductor:    conductor(c.Conductor, c.Material, c.Stranding),
		DirectBurial: c.DirectBurial, SunlightResistant: c.SunlightResistant,
		AmpacityA: r.size(s, "ampacity", c.Ampacity, Current), Listing: c.Listing,
	}
}

func conductor(size, material, stranding string) Conductor {
	if material == "" {
		material = "copper"
	}
	if stranding == "" {
		stranding = "stranded"
	}
	return Conductor{Size: size, Material: material, Stranding: stranding}
}

func (r *resolver) connectorType(s spot, e Element, c *ConnectorTypeEntry) *ConnectorType {
	return &ConnectorType{
		Element: e, Title: c.Title, Kind: c.Kind, Listing: c.Listing, MostConductors: c.MostConductor,
		ResistanceOhm: r.amount(s, "resistance", c.Resistance, Resistance),
	}
}

func (r *resolver) fixtureType(s spot, e Element, f *FixtureTypeEntry) *FixtureType {
	t := &FixtureType{
		Element: e, Kind: f.Kind, Title: f.Title, Lamp: r.lamp(s, f), LargestLamp: f.LargestLamp,
		IP: f.IP, Listing: f.Listing, Dimmable: f.Dimmable,
		SurfaceC:      r.value(s, "surface_temperature", f.SurfaceTemperature, Temperature),
		ThermalCutOut: f.ThermalCutOut, Mounting: f.Mounting, LoadClass: f.LoadClass, Shield: f.Shield,
	}
	if f.Clearance != nil {
		t.CombustibleM = r.extent(s, "clearance/combustible", f.Clearance.Combustible)
	}
	if b := f.Body; b != nil {
		t.DiameterM = r.extent(s, "body/diameter", b.Diameter)
		t.BodyHeightM = r.extent(s, "body/height", b.Height)
		t.LuminousM = r.luminous(s, b.Luminous)
	}
	if l := f.Lead; l != nil {
		t.LeadM = r.extent(s, "lead/length", l.Length)
		if l.Conductor != "" {
			c := conductor(l.Conductor, "", l.Stranding)
			t.Lead = &c
		}
	}
	if c := f.Colour; c != nil {
		t.CCT = r.size(s, "colour/cct", c.CCT, Colour)
		t.PeakNM = r.size(s, "colour/peak", c.Peak, Wavelength)
		t.ShortestNM = r.size(s, "colour/shortest_output", c.ShortestOutput, Wavelength)
		t.PhosphorConverted, t.Tunable = c.PhosphorConverted, c.Tunable
		if t.PeakNM != nil && t.ShortestNM != nil && *t.ShortestNM > *t.PeakNM {
			r.conflict(s.key("colour/shortest_output"), "the shortest output, %g nm, lies above the peak, %g nm", *t.ShortestNM, *t.PeakNM)
		}
	}
	if l := f.Light; l != nil {
		t.Light = &Distribution{
			File: l.File, Shape: l.Shape, BeamAngleDeg: l.BeamAngle, PeakAngleDeg: l.PeakAngle,
			ZeroPlaneDeg: or(l.ZeroPlane, 0),
		}
	}
	return t
}

// widestLuminousM is beyond the glowing part of any garden light, strips on one
// driver included (common practice, no source).
const widestLuminousM = 10.0

// luminous reads the size of the glowing part.
func (r *resolver) luminous(s spot, q Quantity) *float64 {
	size := r.extent(s, "body/luminous", q)
	if size != nil && *size > widestLuminousM {
		r.conflict(s.key("body/luminous"), "no glowing part is %s long; the most is %s", r.text(*size), r.text(widestLuminousM))
		return nil
	}
	return size
}

func (r *resolver) lamp(s spot, f *FixtureTypeEntry) Lamp {
	l := Lamp{
		Load: f.Load, Watts: f.Watts, VA: f.VA, PowerFactor: f.PowerFactor, Lumens: f.Lumens,
		Amps:       r.size(s, "current", f.Current, Current),
		RatedVolts: or(r.size(s, "rated_volts", f.RatedVolts, Voltage), defaultLampVolts),
		DropOutV:   r.amount(s, "drop_out", f.DropOut, Voltage),
	}
	if len(f.Window) == 2 {
		l.MinVolts = r.amount(s, "window/0", f.Window[0], Voltage)
		l.MaxVolts = r.amount(s, "window/1", f.Window[1], Voltage)
		if l.MinVolts != nil && l.MaxVolts != nil && *l.MinVolts > *l.MaxVolts {
			r.conflict(s.key("window"), "the window starts at %g V, above its end at %g V", *l.MinVolts, *l.MaxVolts)
			l.MinVolts, l.MaxVolts = nil, nil
		}
	}
	if l.DropOutV != nil && l.MinVolts != nil && *l.DropOutV > *l.MinVolts+tapSlackV {
		r.conflict(s.key("drop_out"), "the lamp goes out below %g V, but its window starts at %g V", *l.DropOutV, *l.MinVolts)
	}
	r.checkPowers(s, l.Watts, l.VA, l.PowerFactor)
	return l
}

// checkPowers reports watts, volt-amperes and power factor that cannot all be
// true: PF = W / VA, at most 1.
func (r *resolver) checkPowers(s spot, watts, va, factor *float64) {
	if watts == nil || va == nil {
		return
	}
	if *watts > *va*(1+powerFactorSlack) {
		r.conflict(s.key("va"), "%g VA is less than the lamp's %g W", *va, *watts)
		return
	}
	if factor != nil && *va > 0 && math.Abs(*watts / *va - *factor) > powerFactorSlack {
		r.conflict(s.key("power_factor"), "%g W of %g VA is a power factor of %.2f, not %g", *watts, *va, *watts / *va, *factor)
	}
}
