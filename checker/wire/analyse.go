package wire

import (
	"math"
	"slices"
)

// Analyse solves the network in every corner of the setting and keeps for each
// element the extremes and the corners that gave them. Solutions with a lamp
// out start from the one with all lamps on and reach the same residual as a
// cold start. The error wraps ErrInput.
func Analyse(n Network, set Setting) (Analysis, error) {
	c, err := Compile(n)
	if err != nil {
		return Analysis{}, err
	}
	return c.Analyse(set)
}

// Analyse is [Analyse] of the circuit.
func (c *Circuit) Analyse(set Setting) (Analysis, error) {
	corners := set.corners(c)
	for _, corner := range corners {
		if err := validateCorner(corner); err != nil {
			return Analysis{}, err
		}
	}
	e := newEnvelope(c)
	for i, corner := range corners {
		status := e.solve(corner)
		if i >= 3+len(set.Scenes) {
			e.whole(corner, status, nil)
			continue
		}
		answer := e.s.answer(corner.Name, status)
		e.whole(corner, status, &answer)
		switch i {
		case 0:
			e.a.Nominal = answer
		case 1:
			e.a.Low = answer
		case 2:
			e.a.High = answer
			if set.LampsOut {
				e.lampsOut(corner)
			}
		default:
			e.a.Scenes = append(e.a.Scenes, answer)
		}
	}
	e.finish()
	return e.a, nil
}

// corners lists the corners that are solved in full: nominal, low, high, then
// the scenes, then the zones.
func (set Setting) corners(c *Circuit) []Corner {
	high := Corner{Name: CornerHigh, SupplyFactor: set.HighFactor, End: HighestVolts, GroundC: set.ColdGroundC}
	list := []Corner{
		{Name: CornerNominal, SupplyFactor: 1, End: Middle, GroundC: set.NominalC},
		{Name: CornerLow, SupplyFactor: set.LowFactor, End: LowestVolts, GroundC: set.HotGroundC, RiseK: set.RiseK},
		high,
	}
	for i := range set.Scenes {
		corner := high
		corner.Name += ", scene " + set.Scenes[i].Name
		corner.Scene = &set.Scenes[i]
		list = append(list, corner)
	}
	for _, zone := range set.Zones {
		corner := high
		corner.Name += ", " + zone.Name + " alone"
		corner.Scene = zone.scene(c)
		list = append(list, corner)
	}
	return list
}

// scene is the scene in which only the zone is on.
func (z Zone) scene(c *Circuit) *Scene {
	levels := make(map[string]float64, len(c.loads))
	for i := range c.loads {
		levels[c.loads[i].ID] = 0
	}
	for _, id := range z.Loads {
		delete(levels, id)
	}
	return &Scene{Levels: levels}
}

// envelope gathers extremes over corners.
type envelope struct {
	s       *solver
	a       Analysis
	names   []string // of the corners so far
	commons []int    // index of each feed's common
	amps    []float64
	va      []float64
	// the corner in which each extreme was found
	lampMin, lampMax, lampDrop, legMax, feedMax []int
	commonAmps, commonVA                        []int
	sourceMax                                   int
}

// newEnvelope prepares empty extremes.
func newEnvelope(c *Circuit) *envelope {
	e := &envelope{s: newSolver(c), commons: make([]int, len(c.feeds)),
		lampMin: make([]int, len(c.loads)), lampMax: make([]int, len(c.loads)),
		lampDrop: make([]int, len(c.loads)), legMax: make([]int, len(c.legs)),
		feedMax: make([]int, len(c.feeds))}
	e.a.Lamps, e.a.Legs = make([]LampRange, 0, len(c.loads)), make([]LegRange, 0, len(c.legs))
	for i := range c.loads {
		e.a.Lamps = append(e.a.Lamps, LampRange{ID: c.loads[i].ID, MinVolts: math.Inf(1), MaxVolts: math.Inf(-1)})
	}
	for i := range c.legs {
		e.a.Legs = append(e.a.Legs, LegRange{ID: c.legs[i].ID})
	}
	var ids []string
	for f := range c.feeds {
		e.a.Feeds = append(e.a.Feeds, FeedRange{ID: c.feeds[f].ID})
		ids = append(ids, c.feeds[f].Common)
	}
	slices.Sort(ids)
	ids = slices.Compact(ids)
	for f := range c.feeds {
		e.commons[f], _ = slices.BinarySearch(ids, c.feeds[f].Common)
	}
	for _, id := range ids {
		e.a.Commons = append(e.a.Commons, CommonRange{ID: id})
	}
	e.commonAmps, e.commonVA = make([]int, len(ids)), make([]int, len(ids))
	e.amps, e.va = make([]float64, len(ids)), make([]float64, len(ids))
	return e
}

// solve solves one corner and takes it into the extremes.
func (e *envelope) solve(corner Corner) Status {
	e.s.set(corner)
	status := e.s.run(false)
	e.fold(corner.Name, status)
	return status
}

// whole finds, for a corner without an answer, what the network could carry in it,
// and writes it to the answer where that is kept.
func (e *envelope) whole(corner Corner, status Status, answer *Solution) {
	if status != NoSolution && status != NotConverged {
		return
	}
	carry := e.s.carryAll(corner)
	if answer != nil {
		answer.Carry = &carry
	}
	e.a.Failed = append(e.a.Failed, FailedCorner{corner.Name, status, carry})
	e.s.set(corner)
	e.s.run(false)
}

// lampsOut solves the corner just solved again with each lamp out in turn.
func (e *envelope) lampsOut(corner Corner) {
	failed := len(e.a.Failed) > 0 && e.a.Failed[len(e.a.Failed)-1].Corner == corner.Name
	base := slices.Clone(e.s.net.volts)
	for i := range e.s.c.loads {
		level := e.s.level[i]
		if level == 0 {
			continue
		}
		e.s.setLevel(i, 0)
		e.s.setSource(corner)
		copy(e.s.net.volts, base)
		status := e.s.run(!failed)
		name := corner.Name + ", " + e.s.c.loads[i].ID + " out"
		e.fold(name, status)
		if (status == NoSolution || status == NotConverged) && !failed {
			e.a.Failed = append(e.a.Failed, FailedCorner{Corner: name, Status: status})
		}
		e.s.setLevel(i, level)
	}
}

// sameExtreme is the difference, in volts, amperes or volt-amperes, that rounding
// alone may make between corners: the first of such corners keeps the name.
const sameExtreme = 1e-10

// fold takes the present state into the extremes. A state without volts tells
// nothing and is left out.
func (e *envelope) fold(name string, status Status) {
	now := len(e.names)
	e.names = append(e.names, name)
	e.a.Corners++
	s := e.s
	if s.dead() {
		return
	}
	e.a.WorstResidualAmps = max(e.a.WorstResidualAmps, s.residual)
	for i, at := range s.c.loadAt {
		if s.level[i] == 0 || s.c.feedOf[at] < 0 {
			continue
		}
		l, v := &e.a.Lamps[i], s.net.volts[at]
		if v < l.MinVolts-sameExtreme {
			l.MinVolts, e.lampMin[i] = v, now
		}
		if v > l.MaxVolts+sameExtreme {
			l.MaxVolts, e.lampMax[i] = v, now
		}
		if s.draws[i].dropped && !l.Dropped {
			l.Dropped, e.lampDrop[i] = true, now
		}
	}
	for i := range s.c.legs {
		if amps := math.Abs(s.legAmps(i)); amps > e.a.Legs[i].MaxAmps+sameExtreme {
			e.a.Legs[i].MaxAmps, e.legMax[i] = amps, now
		}
	}
	e.foldFeeds(now)
}

// foldFeeds takes feeds, commons and source into the extremes.
func (e *envelope) foldFeeds(now int) {
	s := e.s
	clear(e.amps)
	clear(e.va)
	output := 0.0
	for f, amps := range s.feedAmps {
		va := amps * s.net.volts[s.c.feedAt[f]]
		e.amps[e.commons[f]] += amps
		e.va[e.commons[f]] += va
		output += va
		if math.Abs(amps) > e.a.Feeds[f].MaxAmps+sameExtreme {
			e.a.Feeds[f].MaxAmps, e.feedMax[f] = math.Abs(amps), now
		}
	}
	for i := range e.amps {
		c := &e.a.Commons[i]
		if amps := math.Abs(e.amps[i]); amps > c.MaxAmps+sameExtreme {
			c.MaxAmps, e.commonAmps[i] = amps, now
		}
		if va := math.Abs(e.va[i]); va > c.MaxVA+sameExtreme {
			c.MaxVA, e.commonVA[i] = va, now
		}
	}
	if output > e.a.Source.MaxVA+sameExtreme {
		e.a.Source.MaxVA, e.sourceMax = output, now
		e.a.Source.MaxInternalVA = output + s.sourceLoss()
	}
}

// finish names the corners and adds what the nominal corner tells.
func (e *envelope) finish() {
	for i := range e.a.Lamps {
		e.finishLamp(i)
	}
	for i := range e.a.Legs {
		l, n := &e.a.Legs[i], e.a.Nominal.Legs[i]
		l.Corner = e.names[e.legMax[i]]
		l.NominalAmps, l.Ohms, l.LossWatts = n.Amps, n.Ohms, n.LossWatts
		l.ConductorC = e.a.Low.Legs[i].ConductorC
	}
	for i := range e.a.Feeds {
		f, n := &e.a.Feeds[i], e.a.Nominal.Feeds[i]
		f.Corner = e.names[e.feedMax[i]]
		f.NominalVolts, f.NominalVA, f.CableWatts = n.Volts, n.VA, n.CableWatts
		f.Spread = e.spread(f.ID, func(LoadKind) bool { return true })
		f.Filaments = e.spread(f.ID, func(k LoadKind) bool { return k == Filament })
	}
	for i := range e.a.Commons {
		c, n := &e.a.Commons[i], e.a.Nominal.Commons[i]
		c.AmpsCorner, c.VACorner = e.names[e.commonAmps[i]], e.names[e.commonVA[i]]
		c.NominalAmps, c.NominalVA = n.Amps, n.VA
	}
	src, n := &e.a.Source, e.a.Nominal.Source
	src.Corner = e.names[e.sourceMax]
	src.NominalVA, src.NominalLossWatts, src.NominalCableWatts = n.OutputVA, n.LossWatts, n.CableWatts
	if rated := e.s.c.source.RatedVA; rated > 0 {
		src.Loading, src.SpareVA = src.MaxVA/rated, rated-src.MaxVA
	}
}

// finishLamp names one lamp's corners. A lamp that no corner lit has no volts.
func (e *envelope) finishLamp(i int) {
	l, n := &e.a.Lamps[i], e.a.Nominal.Lamps[i]
	load := e.s.c.loads[i]
	l.Feed, l.NominalVolts, l.NominalAmps = n.Feed, n.Volts, n.Amps
	l.NominalVA, l.NominalWatts = n.VA, n.Watts
	l.DropVolts, l.DropFraction = n.DropVolts, n.DropFraction
	if math.IsInf(l.MinVolts, 0) {
		l.MinVolts, l.MaxVolts = 0, 0
	} else {
		l.MinCorner, l.MaxCorner = e.names[e.lampMin[i]], e.names[e.lampMax[i]]
	}
	if l.Dropped {
		l.DroppedCorner = e.names[e.lampDrop[i]]
	}
	l.LightMin, l.LightMax = load.LightFactor(l.MinVolts), load.LightFactor(l.MaxVolts)
	l.LightNominal = load.LightFactor(n.Volts)
	l.LifeLow, l.LifeHigh = load.LifeFactor(n.Volts)
}

// spread compares the nominal volts of a feed's lamps of the kinds wanted.
func (e *envelope) spread(feed string, wanted func(LoadKind) bool) Spread {
	var out Spread
	low, high := math.Inf(1), math.Inf(-1)
	for i, l := range e.a.Nominal.Lamps {
		if l.Feed != feed || !l.On || !wanted(e.s.c.loads[i].Kind) {
			continue
		}
		if l.Volts < low {
			low, out.Lowest = l.Volts, l.ID
		}
		if l.Volts > high {
			high, out.Highest = l.Volts, l.ID
		}
	}
	if out.Lowest != "" {
		out.Volts = high - low
	}
	return out
}
