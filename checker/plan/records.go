package plan

import "fmt"

func (r *resolver) resolveTakeOff() {
	for i := range r.doc.TakeOff {
		e := &r.doc.TakeOff[i]
		s := sectionSpot("take_off", fmt.Sprintf("/take_off/%d", i))
		s.base = "/take_off"
		b := &Bought{Pointer: s.pointer}
		measured := false
		switch {
		case e.Cable != "":
			b.What, b.Name, measured = "cable", e.Cable, true
			findType(r, s.key("cable"), "cable type", e.Cable, r.cableTypes)
		case e.Fixture != "":
			b.What, b.Name = "fixture", e.Fixture
			findType(r, s.key("fixture"), "fixture type", e.Fixture, r.fixtureTypes)
		case e.Connector != "":
			b.What, b.Name = "connector", e.Connector
			findType(r, s.key("connector"), "connector type", e.Connector, r.connectorTypes)
		case e.Transformer != "":
			b.What, b.Name = "transformer", e.Transformer
			findType(r, s.key("transformer"), "transformer type", e.Transformer, r.transformerTypes)
		default:
			b.What, b.Name, measured = "sleeve", e.Sleeve, true
		}
		if measured {
			b.Amount = or(r.extent(s, "bought", e.Bought), 0)
		} else {
			b.Amount = r.count(s.key("bought"), e.Bought)
		}
		r.plan.TakeOff = append(r.plan.TakeOff, b)
	}
}

// count reads a number of pieces.
func (r *resolver) count(s spot, q Quantity) float64 {
	if q.Set && !q.Numeric {
		r.dangling(s, "%q is not a number of pieces", q.Text)
		return 0
	}
	if q.Number < 0 {
		r.conflict(s, "a number of pieces cannot be negative")
		return 0
	}
	return q.Number
}

func (r *resolver) declareReadings() {
	for i := range r.doc.Readings {
		set := &ReadingSet{}
		r.enter(&set.Element, "reading set", r.doc.Readings[i].ID, fmt.Sprintf("/readings/%d", i), set)
		r.plan.Readings = append(r.plan.Readings, set)
	}
}

// The steps of an ordinary meter.
const (
	ordinaryVoltStep = 0.1
	ordinaryAmpStep  = 0.1
)

func (r *resolver) resolveReadings() {
	for i, set := range r.plan.Readings {
		e, s := &r.doc.Readings[i], spotOf(&set.Element)
		set.Date, set.Scene = e.Date, e.Scene
		set.SupplyVolts = r.size(s, "supply", e.Supply, Voltage)
		if e.Scene != "" && e.Scene != everything {
			find[*Scene](r, s.key("scene"), "scene", e.Scene)
		}
		set.TrueRMS = e.Meter.TrueRMS
		set.VoltStep = or(r.amount(s, "meter/volt_resolution", e.Meter.VoltResolution, Voltage), ordinaryVoltStep)
		set.AmpStep = or(r.amount(s, "meter/amp_resolution", e.Meter.AmpResolution, Current), ordinaryAmpStep)
		set.AccuracyPct = or(r.percentOf(s, "meter/accuracy", e.Meter.Accuracy), 0)
		for j := range e.Values {
			set.Values = append(set.Values, r.reading(s.at("values", j), &e.Values[j]))
		}
	}
}

// metered is where a meter can be held.
type metered interface{ metered() }

func (*Transformer) metered() {}
func (*Node) metered()        {}
func (*Fixture) metered()     {}
func (*Leg) metered()         {}

// reading reads one value: volts at a fixture, node or transformer, amps at a
// leg or at a transformer's common.
func (r *resolver) reading(s spot, e *ReadingEntry) Reading {
	v := Reading{
		Pointer: s.pointer, At: e.At, Common: e.Common, Note: e.Note,
		Volts: r.amount(s, "volts", e.Volts, Voltage), Amps: r.amount(s, "amps", e.Amps, Current),
	}
	at, _ := find[metered](r, s.key("at"), "fixture, node, transformer or leg", e.At)
	switch thing := at.(type) {
	case *Transformer:
		v.Common = max(v.Common, 1)
		if thing.Type != nil && len(thing.Type.Commons) > 0 && v.Common > len(thing.Type.Commons) {
			r.dangling(s.key("common"), "there is no common %d; %s has %s", v.Common, thing.Type.ID, countOf(len(thing.Type.Commons), "common"))
		}
	case *Leg:
		if v.Volts != nil {
			r.conflictOnKey(s.key("volts"), "volts are read at an end, not along leg %q", e.At)
		}
	case *Node, *Fixture:
		if v.Amps != nil {
			r.conflictOnKey(s.key("amps"), "amps are read at a leg or at a transformer's common, not at %q", e.At)
		}
	}
	if _, isTransformer := at.(*Transformer); at != nil && !isTransformer && e.Common > 0 {
		r.conflictOnKey(s.key("common"), "only a transformer has commons, and %q is none", e.At)
	}
	return v
}

func (r *resolver) resolveNotes() {
	for i, note := range r.doc.Notes {
		if note.About == "" || r.plan.Elements[note.About] != nil {
			continue
		}
		s := sectionSpot("notes", "/notes").index(i)
		find[any](r, s.key("about"), "element", note.About)
	}
}
