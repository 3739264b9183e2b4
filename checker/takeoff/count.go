package takeoff

import (
	"cmp"
	"math"
	"slices"
	"strings"

	"duskproof/checker/facts"
)

// fixtureTypes counts fixtures by type, in order of name.
func (b *builder) fixtureTypes() {
	titles := map[string]string{}
	for _, t := range b.plan.FixtureTypes {
		titles[t.ID] = t.Title
	}
	for i := range b.facts.Fixtures {
		f := &b.facts.Fixtures[i]
		at, found := slices.BinarySearchFunc(b.out.FixtureTypes, f.Type, func(t FixtureType, id string) int { return cmp.Compare(t.ID, id) })
		if !found {
			b.out.FixtureTypes = slices.Insert(b.out.FixtureTypes, at, FixtureType{ID: f.Type, Title: titles[f.Type], Kind: f.Kind, VA: f.VAUsed})
		}
		t := &b.out.FixtureTypes[at]
		t.Count++
		t.Fixtures = append(t.Fixtures, f.ID)
		if f.InEarth && f.GravelM != nil && (t.GravelM == nil || *f.GravelM > *t.GravelM) {
			t.GravelM = f.GravelM
		}
	}
}

// joints counts connectors by type, in order of name. The number at each place
// is that of the take-off of package facts.
func (b *builder) joints() {
	needed := map[string]float64{}
	for _, t := range b.facts.TakeOff {
		if t.What == "connector" {
			needed[t.ID] = t.Needed
		}
	}
	for i := range b.facts.Joints {
		j := &b.facts.Joints[i]
		if j.Connector == "" {
			continue
		}
		at, found := slices.BinarySearchFunc(b.out.Joints, j.Connector, func(o Joint, id string) int { return cmp.Compare(o.ID, id) })
		if !found {
			b.out.Joints = slices.Insert(b.out.Joints, at, Joint{ID: j.Connector, Kind: j.Kind, Count: int(needed[j.Connector])})
		}
		b.out.Joints[at].Places = append(b.out.Joints[at].Places, j.ID)
	}
}

// trenches adds up what has to be dug, by cover and surface.
func (b *builder) trenches() {
	for _, p := range facts.Trenches(b.plan) {
		surface := "open ground"
		if len(p.Kinds) > 0 {
			surface = strings.Join(p.Kinds, " and ")
		}
		var cover *float64
		if p.CoverM != facts.CoverNotStated {
			cover = &p.CoverM
		}
		b.addTrench(Trench{CoverM: cover, Surface: surface, LengthM: p.To - p.From, Legs: append([]string{p.Leg}, p.Sharing...), Routed: true})
	}
	for _, run := range b.plan.Runs {
		for _, leg := range run.Legs {
			if len(leg.Route) < 2 && leg.LengthM != nil && facts.InGround(leg.Method) {
				b.addTrench(Trench{CoverM: leg.CoverM, Surface: "not drawn", LengthM: *leg.LengthM, Legs: []string{leg.ID}})
			}
		}
	}
	slices.SortStableFunc(b.out.Trenches, func(a, c Trench) int {
		return cmp.Or(cmp.Compare(deep(c.CoverM), deep(a.CoverM)), cmp.Compare(a.Surface, c.Surface))
	})
	for i := range b.out.Trenches {
		slices.Sort(b.out.Trenches[i].Legs)
		b.out.Trenches[i].Legs = slices.Compact(b.out.Trenches[i].Legs)
	}
}

func deep(coverM *float64) float64 {
	if coverM == nil {
		return facts.CoverNotStated
	}
	return *coverM
}

func (b *builder) addTrench(t Trench) {
	for i := range b.out.Trenches {
		o := &b.out.Trenches[i]
		if deep(o.CoverM) == deep(t.CoverM) && o.Surface == t.Surface {
			o.LengthM += t.LengthM
			o.Legs = append(o.Legs, t.Legs...)
			return
		}
	}
	b.out.Trenches = append(b.out.Trenches, t)
}

const (
	metresPerFoot = 0.3048
	// Cable and sleeve are bought by these steps: cable by 25 ft or 5 m, sleeve
	// in lengths of 10 ft or 3 m (common practice, no source).
	cableStepFt, cableStepM   = 25.0, 5.0
	sleeveStepFt, sleeveStepM = 10.0, 3.0
	// roundM is what rounding leaves of a length that fits a step exactly.
	roundM = 1e-6
	// besideFixtureM is how far the gravel reaches beyond an in-ground fixture
	// on each side (common practice, no source).
	besideFixtureM = 0.1
	litresPerM3    = 1000
	gravelStep     = 5.0 // litres
)

// purchases lists what to buy: what is needed, with the profile's allowance for
// cable, rounded up to what is sold.
func (b *builder) purchases() {
	allowance := 1 + b.limit("plan.take_off_allowance")
	for i := range b.facts.TakeOff {
		t := &b.facts.TakeOff[i]
		p := Purchase{What: t.What, Name: t.ID, Unit: "piece", Needed: t.Needed, Allowed: t.Needed, Buy: math.Ceil(t.Needed),
			Bought: t.Bought, Unmeasured: t.Unmeasured}
		switch t.What {
		case "cable":
			p.Unit, p.Allowed = "m", t.Needed*allowance
			p.Buy = b.stepped(p.Allowed, cableStepFt, cableStepM)
		case "sleeve":
			p.Unit = "m"
			p.Buy = b.stepped(p.Allowed, sleeveStepFt, sleeveStepM)
		}
		b.out.Purchases = append(b.out.Purchases, p)
	}
	if litres := b.gravelLitres(); litres > 0 {
		b.out.Purchases = append(b.out.Purchases, Purchase{What: "gravel", Name: "washed gravel below in-ground fixtures", Unit: "litre",
			Needed: litres, Allowed: litres, Buy: math.Ceil(litres/gravelStep-1e-9) * gravelStep})
	}
}

// stepped rounds metres up to whole steps of the plan's own unit.
func (b *builder) stepped(m, stepFt, stepM float64) float64 {
	step := stepM
	if b.plan.Units == "ft" {
		step = stepFt * metresPerFoot
	}
	return math.Ceil((m-roundM)/step) * step
}

// gravelLitres is a round hole of gravel below each fixture that lies flush in
// the ground, as deep as the plan states, else as the profile asks.
func (b *builder) gravelLitres() float64 {
	total := 0.0
	for i := range b.facts.Fixtures {
		f := &b.facts.Fixtures[i]
		if !f.InEarth {
			continue
		}
		depth, radius := b.limit("earth.gravel_m"), besideFixtureM
		if f.GravelM != nil {
			depth = *f.GravelM
		}
		if f.RadiusM != nil {
			radius += *f.RadiusM
		}
		total += math.Pi * radius * radius * depth * litresPerM3
	}
	return total
}
