package facts

import (
	"context"
	"fmt"
	"io/fs"

	"duskproof/checker/plan"
	"duskproof/checker/wire"
)

// Input is everything that facts are computed from.
type Input struct {
	// Plan is the resolved plan.
	Plan *plan.Plan
	// Limits are the effective limits, sorted by name.
	Limits []Limit
	// Cautions and Profiles are those in force.
	Cautions []Caution
	Profiles []string
	// Files is the plan's own folder, for photometric files; nil when there
	// is none.
	Files fs.FS
	// Today is the date of the check, ISO 8601.
	Today string
	// Kept is what is kept from other plans that differ from this one
	// little; nil keeps nothing.
	Kept *Kept
	// Lights are those kept from any other plans; nil keeps nothing.
	Lights *Lights
	// Enough, when there is one, is asked once the networks are solved. If it
	// says yes nothing more is computed: the facts then have what the network
	// step gives.
	Enough func(*Document) bool
}

const networkStep = "network"

// Compute solves the network, lights the ground, measures the site, and
// returns the facts. It has no other inputs: the same input gives the same
// facts, byte for byte.
func Compute(ctx context.Context, in Input) (*Document, error) {
	j := newJoin(in)
	for _, step := range []struct {
		name string
		run  func(context.Context) error
	}{
		{networkStep, j.wire},
		{"site", j.siteAndLamps},
		{"light", j.light},
		{"take-off", j.takeOff},
		{"readings", j.readings},
	} {
		if err := ctx.Err(); err != nil {
			return nil, fmt.Errorf("compute %s: %w", step.name, err)
		}
		if err := step.run(ctx); err != nil {
			return nil, fmt.Errorf("compute %s: %w", step.name, err)
		}
		if step.name == networkStep && in.Enough != nil && in.Enough(j.doc) {
			break
		}
	}
	j.doc.Normalise()
	return j.doc, nil
}

// join carries what the steps share.
type join struct {
	in     Input
	plan   *plan.Plan
	doc    *Document
	limits map[string]*Limit

	planFixture map[string]*plan.Fixture
	planNode    map[string]*plan.Node
	fixtures    map[string]*Fixture // facts by id, filled by the network step
	networks    []*network
	lamps       map[string]lampLight
	conductors  map[plan.Conductor]wire.Conductor
	lit         *lighting // filled by the site step, for the light step
	ground      *ground
	near        siteIndex
	legs        map[string]*Leg // facts by id, filled by the site step
}

// lampLight is what the light step needs to know of a solved lamp.
type lampLight struct {
	share float64 // of its rated light, at nominal supply
	low   float64 // of its rated light, in the low corner
}

func newJoin(in Input) *join {
	doc := New()
	p := in.Plan
	doc.Units, doc.Stage, doc.Today, doc.Title = p.Units, p.Stage, in.Today, p.Title
	doc.HasSite = p.Site != nil
	doc.HasPropertyLine = p.Site != nil && len(p.Site.PropertyLine) > 0
	doc.Profiles = append(doc.Profiles, in.Profiles...)
	doc.Limits = append(doc.Limits, in.Limits...)
	doc.Cautions = append(doc.Cautions, in.Cautions...)
	j := &join{in: in, plan: p, doc: doc, limits: make(map[string]*Limit, len(in.Limits)),
		fixtures: make(map[string]*Fixture, len(p.Fixtures)), lamps: make(map[string]lampLight, len(p.Fixtures)),
		planFixture: make(map[string]*plan.Fixture, len(p.Fixtures)), planNode: map[string]*plan.Node{},
		conductors: map[plan.Conductor]wire.Conductor{}}
	for _, f := range p.Fixtures {
		j.planFixture[f.ID] = f
	}
	for _, run := range p.Runs {
		for _, n := range run.Nodes {
			j.planNode[n.ID] = n
		}
	}
	for i := range doc.Limits {
		j.limits[doc.Limits[i].Name] = &doc.Limits[i]
	}
	doc.Permissions = permissions(p.Permissions)
	return j
}

// limit returns a numeric limit, or fallback where no profile has it.
func (j *join) limit(name string, fallback float64) float64 {
	if l := j.limits[name]; l != nil && l.Value != nil {
		return *l.Value
	}
	return fallback
}

// row returns one row of a limit that is a table.
func (j *join) row(name, key string) (float64, bool) {
	if l := j.limits[name]; l != nil {
		for _, r := range l.Table {
			if r.Key == key {
				return r.Value, true
			}
		}
	}
	return 0, false
}

func permissions(p plan.PermissionsEntry) Permissions {
	var out Permissions
	if p.Locate != nil {
		out.LocateTicket, out.LocateExpires = p.Locate.Ticket, p.Locate.Expires
		out.PrivateLinesMapped = p.Locate.PrivateLinesMapped
	}
	if p.Permit != nil {
		out.PermitState = p.Permit.State
	}
	if p.Association != nil {
		out.AssociationState = p.Association.State
	}
	return out
}

func ptr[T any](v T) *T { return &v }
