package facts

import (
	"math"
	"slices"

	"duskproof/checker/plan"
	"duskproof/checker/wire"
)

// runFacts writes the runs of one transformer.
func (j *join) runFacts(n *network, a *wire.Analysis, failed map[string]failure) {
	feeds, corners := map[string]int{}, solvedCorners(a)
	for i := range a.Feeds {
		feeds[a.Feeds[i].ID] = i
	}
	for _, run := range j.plan.Runs {
		if run.Transformer != n.transformer {
			continue
		}
		i := feeds[run.ID]
		feed := &a.Feeds[i]
		out := Run{
			ID: run.ID, Transformer: n.transformer.ID, Common: run.Common, TapVolts: run.TapVolts,
			Solved: true, Amps: feed.MaxAmps,
			AmpsCorner: telling(feed.MaxAmps, feed.Corner, "A", nil, corners, func(s *wire.Solution) float64 { return s.Feeds[i].Amps }),
			EqualLeads: run.EqualLeads != nil && *run.EqualLeads,
		}
		j.addLamps(&out)
		if f, bad := failed[run.ID]; bad {
			out.Solved, out.Corner = false, f.corner
			if share, ok := couldCarry(f.carry); ok {
				out.CouldCarry, out.CouldCarryVA = ptr(share), ptr(share*out.ConnectedVA)
			}
		}
		j.addLengths(&out, run)
		j.doc.Runs = append(j.doc.Runs, out)
		last := &j.doc.Transformers[len(j.doc.Transformers)-1]
		last.FarthestM = math.Max(last.FarthestM, out.FarthestM)
	}
}

// couldCarry is the share of its load that the weakest run could carry beside
// the others; where those have no answer either, the share that all could.
func couldCarry(c wire.Carry) (float64, bool) {
	if c.FeedMultiple > 0 {
		return c.FeedMultiple, c.Bounded
	}
	return c.Multiple, c.Bounded
}

// addLamps adds the lamps of a run, their load by kind and the spread of its
// filament lamps.
func (j *join) addLamps(out *Run) {
	var first, last *Fixture
	for i := range j.doc.Fixtures {
		f := &j.doc.Fixtures[i]
		if f.Run != out.ID {
			continue
		}
		out.Lamps = append(out.Lamps, f.ID)
		out.ConnectedVA += f.VAUsed
		if f.Load != string(wire.Filament) {
			if f.Load != string(wire.Resistive) {
				out.LEDVA += f.VAUsed
			}
			continue
		}
		out.FilamentVA += f.VAUsed
		if f.NominalVolts == nil {
			continue
		}
		if first == nil || *f.NominalVolts > *first.NominalVolts {
			first = f
		}
		if last == nil || *f.NominalVolts < *last.NominalVolts {
			last = f
		}
	}
	if first != nil && first != last {
		out.FilamentSpreadV = ptr(*first.NominalVolts - *last.NominalVolts)
		out.FirstLamp, out.LastLamp = first.ID, last.ID
	}
}

// addLengths adds all cable of a run, the longest way to a lamp, and the leads
// of its hubs.
func (j *join) addLengths(out *Run, run *plan.Run) {
	next := map[string][]*plan.Leg{}
	hubs := map[string]bool{}
	for _, node := range run.Nodes {
		hubs[node.ID] = node.Kind == "hub"
	}
	for _, leg := range run.Legs {
		out.LengthM += lengthOf(leg)
		next[leg.From] = append(next[leg.From], leg)
		if leg.To != run.Transformer.ID {
			next[leg.To] = append(next[leg.To], leg)
		}
		if hubs[leg.From] && j.planFixture[leg.To] != nil {
			widen(out, lengthOf(leg))
		}
	}
	away := farthest(run.Transformer.ID, next)
	for _, id := range out.Lamps {
		if d, ok := away[id]; ok {
			out.FarthestM = math.Max(out.FarthestM, d)
		}
	}
}

func widen(out *Run, m float64) {
	if out.LongestLeadM == nil || m > *out.LongestLeadM {
		out.LongestLeadM = ptr(m)
	}
	if out.ShortestLeadM == nil || m < *out.ShortestLeadM {
		out.ShortestLeadM = ptr(m)
	}
}

func lengthOf(leg *plan.Leg) float64 {
	if leg.LengthM == nil {
		return 0
	}
	return *leg.LengthM + leg.SlackM
}

// farthest measures the shortest cable way from start to every end.
func farthest(start string, next map[string][]*plan.Leg) map[string]float64 {
	away := map[string]float64{start: 0}
	queue := []string{start}
	for len(queue) > 0 {
		at := queue[0]
		queue = queue[1:]
		for _, leg := range next[at] {
			end := leg.To
			if end == at {
				end = leg.From
			}
			d := away[at] + lengthOf(leg)
			if old, seen := away[end]; !seen || d < old-1e-9 {
				away[end] = d
				queue = append(queue, end)
			}
		}
	}
	return away
}

func (j *join) nodeFacts(n *network, a *wire.Analysis) {
	volts := make(map[string]float64, len(a.Nominal.Nodes))
	if a.Nominal.Status != wire.NoSolution {
		for _, r := range a.Nominal.Nodes {
			volts[r.ID] = r.Volts
		}
	}
	for _, run := range j.plan.Runs {
		if run.Transformer != n.transformer {
			continue
		}
		for _, node := range run.Nodes {
			out := Node{ID: node.ID, Run: run.ID, Kind: node.Kind}
			if v, ok := volts[node.ID]; ok {
				out.NominalVolts = ptr(v)
			}
			j.doc.Nodes = append(j.doc.Nodes, out)
		}
	}
}

// legFacts writes the legs of one transformer.
func (j *join) legFacts(n *network, a *wire.Analysis) {
	ranges, corners := make(map[string]int, len(a.Legs)), solvedCorners(a)
	j.doc.Legs = slices.Grow(j.doc.Legs, len(a.Legs))
	for i := range a.Legs {
		ranges[a.Legs[i].ID] = i
	}
	for _, run := range j.plan.Runs {
		if run.Transformer != n.transformer {
			continue
		}
		for _, leg := range run.Legs {
			out := j.legFact(run, leg)
			if i, ok := ranges[leg.ID]; ok {
				r := &a.Legs[i]
				out.Amps, out.NominalAmps = r.MaxAmps, math.Abs(r.NominalAmps)
				out.AmpsCorner = telling(r.MaxAmps, r.Corner, "A", out.AmpacityA, corners, func(s *wire.Solution) float64 { return s.Legs[i].Amps })
				out.DropV, out.LossW = math.Abs(r.NominalAmps)*r.Ohms, r.LossWatts
			}
			j.doc.Legs = append(j.doc.Legs, out)
		}
	}
}

func (j *join) legFact(run *plan.Run, leg *plan.Leg) Leg {
	out := Leg{
		ID: leg.ID, Run: run.ID, From: leg.From, To: leg.To, Chained: leg.Chained,
		Cable: leg.Cable.ID, Conductor: leg.Cable.Conductor.Size, LengthM: leg.LengthM, SlackM: leg.SlackM,
		Method: leg.Method, CoverM: leg.CoverM, ListedCoverM: leg.Listed,
		CableListing: leg.Cable.Listing, DirectBurial: marked(leg.Cable.DirectBurial, leg.Cable, "direct-burial"),
		SunlightResistant: marked(leg.Cable.SunlightResistant, leg.Cable, "sunlight-resistant"),
		Routed:            len(leg.Route) > 1, ToFixture: j.planFixture[leg.To] != nil,
		Flexible: leg.Cable.Conductor.Stranding == "fine-stranded",
	}
	if c, err := j.conductorOf(leg.Cable.Conductor); err == nil {
		out.AreaMM2 = c.AreaMM2
	}
	out.AmpacityA, out.AmpacitySource, out.AmpacityMarked = j.ampacity(leg.Cable)
	out.LargestDeviceA, out.LargestDeviceSource = j.ofCopper("wire.largest_device", leg.Cable)
	if i := run.Common - 1; i >= 0 && i < len(run.Transformer.Type.Commons) {
		out.DeviceAmps = run.Transformer.Type.Commons[i].DeviceAmps
	}
	if leg.Sleeve != nil {
		out.SleeveMaterial, out.SleeveWhere = leg.Sleeve.Material, leg.Sleeve.Where
	}
	return out
}

// marked is what the plan says of a mark on a cable; a listing for it says yes
// as well.
func marked(stated *bool, cable *plan.CableType, listing string) *bool {
	if stated == nil && slices.Contains(cable.Listing, listing) {
		return ptr(true)
	}
	return stated
}

// branchFacts writes branch circuits and receptacles, once every transformer
// is solved.
func (j *join) branchFacts() {
	if j.plan.Supply == nil {
		return
	}
	for _, b := range j.plan.Supply.Branches {
		out := Branch{ID: b.ID, BreakerAmps: b.BreakerAmps, OtherLoadVA: b.OtherLoadVA, GFCI: b.GFCI}
		var primary []atPrimary
		for _, n := range j.networks {
			if n.transformer.Branch == b {
				primary = together(primary, n.primary)
			}
		}
		out.PrimaryAmps, out.PrimaryCorner = worstPrimary(primary)
		for i := range j.doc.Transformers {
			if t := &j.doc.Transformers[i]; t.Branch == b.ID {
				out.Transformers = append(out.Transformers, t.ID)
				j.addInrush(&out, t)
			}
		}
		if v := j.plan.Supply.Volts; v != nil && *v > 0 {
			total := out.PrimaryAmps
			if b.OtherLoadVA != nil {
				total += *b.OtherLoadVA / *v
			}
			out.TotalAmps = &total
		}
		j.doc.Branches = append(j.doc.Branches, out)
	}
	for _, r := range j.plan.Supply.Receptacles {
		j.doc.Receptacles = append(j.doc.Receptacles, j.receptacleFact(r))
	}
}

// addInrush adds a transformer's stated inrush to its branch circuit.
func (j *join) addInrush(out *Branch, t *Transformer) {
	volts := j.doc.Supply.Volts
	for _, p := range j.plan.Transformers {
		if p.ID != t.ID || p.Type.Inrush == nil || volts == nil || *volts <= 0 {
			continue
		}
		amps := *p.Type.Inrush * p.Type.RatingVA / *volts
		if out.InrushAmps != nil {
			amps += *out.InrushAmps
		}
		out.InrushAmps = &amps
	}
}

func (j *join) receptacleFact(r *plan.Receptacle) Receptacle {
	out := Receptacle{
		ID: r.ID, Location: locationOr(r.Location), HeightM: r.HeightM, GFCI: r.GFCI, InUseCover: r.InUseCover,
		WeatherResistant: r.WeatherResistant, ExtraDuty: r.ExtraDuty, FedBy: r.FedBy, Switched: r.Switched,
	}
	if r.Branch != nil {
		out.Branch = r.Branch.ID
	}
	for _, t := range j.plan.Transformers {
		if t.Receptacle == r {
			out.Transformers = append(out.Transformers, t.ID)
		}
	}
	return out
}
