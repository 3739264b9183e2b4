package plan

func (r *resolver) declareSupply() {
	e := r.doc.Supply
	if e == nil {
		return
	}
	supply := &Supply{}
	r.plan.Supply = supply
	s := sectionSpot("supply", "/supply")
	for i := range e.BranchCircuits {
		b := &Branch{}
		r.enter(&b.Element, "branch circuit", e.BranchCircuits[i].ID, s.at("branch_circuits", i).pointer, b)
		supply.Branches = append(supply.Branches, b)
	}
	for i := range e.Receptacles {
		c := &Receptacle{}
		r.enter(&c.Element, "receptacle", e.Receptacles[i].ID, s.at("receptacles", i).pointer, c)
		r.anchorAt(&c.Element, "at", &e.Receptacles[i].At)
		supply.Receptacles = append(supply.Receptacles, c)
	}
}

func (r *resolver) resolveSupply() {
	e, supply := r.doc.Supply, r.plan.Supply
	if e == nil {
		return
	}
	s := sectionSpot("supply", "/supply")
	supply.Volts = r.size(s, "volts", e.Volts, Voltage)
	if e.Frequency > 0 {
		supply.FrequencyHz = &e.Frequency
	}
	supply.InstalledBy, supply.SurgeProtected = e.InstalledBy, e.SurgeProtection
	if t := e.Tolerance; t != nil {
		supply.LowFactor = r.factor(s, "tolerance/low", t.Low)
		supply.HighFactor = r.factor(s, "tolerance/high", t.High)
		if supply.LowFactor != nil && supply.HighFactor != nil && *supply.LowFactor > *supply.HighFactor {
			r.conflict(s.key("tolerance"), "the lowest supply (%+.1f %%) is above the highest (%+.1f %%)",
				(*supply.LowFactor-1)*100, (*supply.HighFactor-1)*100)
			supply.LowFactor, supply.HighFactor = nil, nil
		}
	}
	for i, b := range supply.Branches {
		be, bs := &e.BranchCircuits[i], spotOf(&b.Element)
		b.BreakerAmps = r.size(bs, "breaker", be.Breaker, Current)
		b.OtherLoadVA = r.amount(bs, "other_load", be.OtherLoad, ApparentPower)
		b.GFCI = be.GFCI
	}
	for i, c := range supply.Receptacles {
		r.resolveReceptacle(c, &e.Receptacles[i])
	}
}

// factor turns "-5 %" into 0.95.
func (r *resolver) factor(s spot, key string, q Quantity) *float64 {
	v := r.value(s, key, q, Percent)
	if v == nil {
		return nil
	}
	factor := 1 + *v
	return &factor
}

func (r *resolver) resolveReceptacle(c *Receptacle, e *ReceptacleEntry) {
	s := spotOf(&c.Element)
	c.At = r.pointOf(&c.Element, "at", &e.At)
	c.HeightM = r.extent(s, "height", e.Height)
	c.Location, c.FedBy = orText(e.Location, "outdoor"), orText(e.FedBy, "wiring")
	c.InUseCover, c.WeatherResistant, c.ExtraDuty, c.Switched = e.InUseCover, e.WeatherResistant, e.ExtraDuty, e.Switched
	c.Branch, _ = find[*Branch](r, s.key("branch_circuit"), "branch circuit", e.BranchCircuit)
	c.GFCI = e.GFCI
	if c.Branch != nil && or(c.Branch.GFCI, false) {
		c.GFCI = c.Branch.GFCI
	}
}
