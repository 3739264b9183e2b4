package plan

// Resolve turns a document into the resolved plan: quantities in SI units, ids
// and references looked up, positions computed, arrays and chains expanded. The
// document is one that its schema has accepted; whatever else it holds, Resolve
// does not panic.
//
// The issues are in the order of their pointers. When one of them is
// [Dangling] the plan has gaps where the references were, and is good for
// showing only. A [Conflict] leaves unset what it is about, or keeps the first
// of two statements, and the rest of the plan can be judged.
func Resolve(doc *Document) (*Plan, []Issue) {
	if doc == nil {
		doc = &Document{}
	}
	r := newResolver(doc)
	r.title()
	r.permissions()
	r.catalogue()
	r.defaults = r.planDefaults()
	r.declare()
	r.resolveSite()
	r.resolveSupply()
	r.resolveTransformers()
	r.expandArrays()
	r.resolveFixtures()
	r.resolveRuns()
	r.finishFixtures()
	r.resolveControls()
	r.resolveTakeOff()
	r.resolveReadings()
	r.resolveNotes()
	r.reportCircles()
	r.dropTaken()
	return r.plan, sortIssues(r.issues)
}

// resolver carries one resolution. Ids are declared first, so that everything
// can refer to anything in any file order; positions are computed when they are
// first asked for.
type resolver struct {
	doc    *Document
	plan   *Plan
	units  string
	issues []Issue

	fixtureTypes     map[string]*FixtureType
	cableTypes       map[string]*CableType
	connectorTypes   map[string]*ConnectorType
	transformerTypes map[string]*TransformerType

	things   map[string]any // what an id names: *Path, *Fixture, *arrayOf ...
	anchors  map[string]*anchor
	site     siteThings
	arrays   []*arrayOf
	defaults inherited
	inherit  map[*Run]inherited
	groups   map[string][]*Fixture
	lamps    map[string][]*Fixture // what the names in controls stand for

	slots   [][]*Fixture               // fixtures of each entry, in file order
	entries map[*Fixture]*FixtureEntry // the entry each fixture comes from
	arrayed int                        // fixtures of all arrays so far

	leftOut map[*Element]bool // things of the site that have no place

	visits visits
	gaps   bool // a reference led nowhere, or a leg was left out
	offers int  // messages that suggested a name so far
	levels int  // scene levels set so far
	looked int  // corners looked at for the level of the ground so far
	pairs  int  // segment pairs compared so far
}

func newResolver(doc *Document) *resolver {
	ids := 3 * len(doc.Fixtures) // themselves, a leg to each, and what else there is
	return &resolver{
		doc:     doc,
		units:   doc.Units,
		plan:    &Plan{Elements: make(map[string]*Element, ids)},
		things:  make(map[string]any, ids),
		anchors: map[string]*anchor{},
		groups:  map[string][]*Fixture{},
		inherit: map[*Run]inherited{},
		lamps:   map[string][]*Fixture{},
		entries: make(map[*Fixture]*FixtureEntry, len(doc.Fixtures)),
		leftOut: map[*Element]bool{},
	}
}

func (r *resolver) title() {
	p, d := r.plan, r.doc
	p.Title, p.PreparedBy, p.Date, p.Stage = d.Plan.Title, d.Plan.PreparedBy, d.Plan.Date, orText(d.Plan.Stage, "design")
	p.Jurisdiction, p.Units, p.Profiles = d.Plan.Jurisdiction, d.Units, d.Profiles
	p.Permissions, p.Variances, p.Notes = d.Permissions, d.Variances, d.Notes
}

// permissions holds the dates of the locate against each other.
func (r *resolver) permissions() {
	l := r.doc.Permissions.Locate
	if l == nil || l.Called == "" || l.Expires == "" || l.Called <= l.Expires {
		return // dates are written year-month-day, so text compares as time
	}
	s := sectionSpot("permissions", "/permissions/locate")
	r.conflict(s.key("expires"), "the marks expire on %s, before the lines were asked for on %s", l.Expires, l.Called)
}

// declare enters every id of the plan, in file order. The expanded ids of
// arrays and the derived ones of chains and treads follow later.
func (r *resolver) declare() {
	r.declareSupply()
	r.declareSite()
	r.declareTransformers()
	r.declareRuns()
	r.declareFixtures()
	r.declareControls()
	r.declareReadings()
}
