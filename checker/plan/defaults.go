package plan

// inherited is what elements have that do not say otherwise, from a section of
// the plan's defaults or from a run.
type inherited struct {
	fixtureHeightM   *float64
	fixtureSlackM    float64
	fixtureConnector *ConnectorType
	nodeConnector    *ConnectorType
	cable            *CableType
	method           string
	coverM           *float64
}

// planDefaults reads the section "defaults", once.
func (r *resolver) planDefaults() inherited {
	d, s := &r.doc.Defaults, sectionSpot("defaults", "/defaults")
	return inherited{
		fixtureHeightM:   r.extent(s, "fixtures/height", d.Fixtures.Height),
		fixtureSlackM:    or(r.extent(s, "fixtures/slack", d.Fixtures.Slack), 0),
		fixtureConnector: r.connector(s.key("fixtures/connector"), d.Fixtures.Connector),
		nodeConnector:    r.connector(s.key("nodes/connector"), d.Nodes.Connector),
		cable:            r.cable(s.key("legs/cable"), d.Legs.Cable),
		method:           d.Legs.Method,
		coverM:           r.extent(s, "legs/cover", d.Legs.Cover),
	}
}

// runDefaults is what the nodes, fixtures and legs of a run have: what the run
// says, else the plan's defaults.
func (r *resolver) runDefaults(run *Run, e *RunEntry) inherited {
	d, s := r.defaults, spotOf(&run.Element)
	if e.Connector != "" {
		d.nodeConnector = r.connector(s.key("connector"), e.Connector)
		d.fixtureConnector = d.nodeConnector
	}
	if e.Cable != "" {
		d.cable = r.cable(s.key("cable"), e.Cable)
	}
	d.method = orText(e.Method, d.method)
	if e.Cover.Set {
		d.coverM = r.extent(s, "cover", e.Cover)
	}
	return d
}

func (r *resolver) connector(s spot, name string) *ConnectorType {
	return findType(r, s, "connector type", name, r.connectorTypes)
}

func (r *resolver) cable(s spot, name string) *CableType {
	return findType(r, s, "cable type", name, r.cableTypes)
}
