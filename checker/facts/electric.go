package facts

import (
	"context"
	"errors"
	"fmt"
	"math"
	"slices"
	"sort"
	"strconv"
	"strings"

	"duskproof/checker/plan"
	"duskproof/checker/wire"
)

// wire solves every transformer's network and writes what came out.
func (j *join) wire(ctx context.Context) error {
	j.supplyFacts()
	j.doc.Fixtures = slices.Grow(j.doc.Fixtures, len(j.plan.Fixtures))
	for _, f := range j.plan.Fixtures {
		j.doc.Fixtures = append(j.doc.Fixtures, j.fixtureFacts(f))
	}
	for i := range j.doc.Fixtures {
		j.fixtures[j.doc.Fixtures[i].ID] = &j.doc.Fixtures[i]
	}
	for _, t := range j.plan.Transformers {
		if err := ctx.Err(); err != nil {
			return err
		}
		n, err := j.networkOf(t)
		if err != nil {
			return &NumbersError{Pointer: t.Pointer, Transformer: t.ID, Err: err}
		}
		j.networks = append(j.networks, n)
		faults := j.faultSetting()
		kept, err := j.solve(n, j.setting(n), faults)
		if errors.Is(err, wire.ErrInput) {
			return &NumbersError{Pointer: t.Pointer, Transformer: t.ID, Err: err}
		}
		if err != nil {
			return fmt.Errorf("transformer %s: %w", t.ID, err)
		}
		j.electricFacts(n, &kept.analysis)
		err = j.faultFacts(n, faults, kept.faults)
		if errors.Is(err, wire.ErrInput) {
			return &NumbersError{Pointer: t.Pointer, Transformer: t.ID, Err: err}
		}
		if err != nil {
			return fmt.Errorf("transformer %s: %w", t.ID, err)
		}
	}
	j.branchFacts()
	return nil
}

// NumbersError says that the numbers of a plan are so far from those of any
// lighting that its network cannot be computed.
type NumbersError struct {
	// Pointer is the JSON Pointer of the transformer, Transformer its id.
	Pointer, Transformer string
	Err                  error
}

// Error says which transformer, and what is out of range.
func (e *NumbersError) Error() string {
	return fmt.Sprintf("the network of transformer %s cannot be computed, because a number is far out of range: %v", e.Transformer, e.Err)
}

// Unwrap returns the reason.
func (e *NumbersError) Unwrap() error { return e.Err }

func (j *join) supplyFacts() {
	s := &j.doc.Supply
	s.LowFactor, s.HighFactor = j.limit("supply.low_factor", fallbackLow), j.limit("supply.high_factor", fallbackHigh)
	s.ToleranceAssumed = true
	p := j.plan.Supply
	if p == nil {
		return
	}
	s.Volts, s.InstalledBy = p.Volts, p.InstalledBy
	if p.LowFactor != nil {
		s.LowFactor, s.ToleranceAssumed = *p.LowFactor, false
	}
	if p.HighFactor != nil {
		s.HighFactor, s.ToleranceAssumed = *p.HighFactor, false
	}
}

// electricFacts writes the facts of one solved network.
func (j *join) electricFacts(n *network, a *wire.Analysis) {
	failed := j.failures(n, a)
	t := j.transformerFacts(n, a)
	t.Solved = len(failed) == 0
	j.doc.Transformers = append(j.doc.Transformers, t)
	j.lampFacts(n, a, failed)
	j.commonFacts(n, a)
	j.runFacts(n, a, failed)
	j.nodeFacts(n, a)
	j.legFacts(n, a)
}

// failure is one run without an answer.
type failure struct {
	corner string
	carry  wire.Carry
}

// failures finds the runs that have no answer in some corner, gravest corner
// first.
func (j *join) failures(n *network, a *wire.Analysis) map[string]failure {
	failed := map[string]failure{}
	for _, f := range a.Failed {
		run := f.Carry.Feed
		if run == "" && len(n.net.Feeds) > 0 {
			run = n.net.Feeds[0].ID
		}
		if _, done := failed[run]; !done {
			failed[run] = failure{corner: cornerWords(f.Corner), carry: f.Carry}
		}
	}
	return failed
}

// cornerWords names a corner as people read it.
func cornerWords(corner string) string {
	if corner == wire.CornerNominal {
		return "nominal supply"
	}
	return strings.TrimPrefix(corner, wire.CornerNominal+", ")
}

func (j *join) transformerFacts(n *network, a *wire.Analysis) Transformer {
	t := n.transformer
	s := a.Source
	out := Transformer{
		ID: t.ID, Type: t.Type.ID, Kind: t.Type.Kind, Output: t.Type.Output, RatingVA: t.Type.RatingVA,
		ConnectedVA: a.Nominal.Source.LampVA, LossW: s.NominalCableWatts, NominalVA: s.NominalVA, LoadVA: s.MaxVA,
		LoadCorner: telling(s.MaxVA, s.Corner, "VA", &t.Type.RatingVA, solvedCorners(a), func(s *wire.Solution) float64 { return s.Source.OutputVA }),
		Loading:    s.Loading, GrowthVA: t.GrowthVA, ImpedancePct: n.zPct, ImpedanceAssumed: n.zAssumed,
		MinimumLoadVA: t.Type.MinimumLoadVA, LeastLoadVA: leastLoad(a), LargestDistanceM: t.Type.LargestDistanceM,
		OnOverload: t.Type.OnOverload, HasProtection: protected(t.Type), PWMHz: t.Type.PWMHz,
		HeightM: t.HeightM, Location: locationOr(t.Location), Outdoor: t.Type.Outdoor, Listing: t.Type.Listing,
		HardWired: t.HardWired, CordM: t.CordM, Extension: t.Extension, MountedOn: t.MountedOn, Enclosed: t.Enclosed,
		Dimmable: t.Type.Dimmable, Residual: a.WorstResidualAmps,
	}
	if t.Receptacle != nil {
		out.Receptacle = t.Receptacle.ID
	}
	if t.Branch != nil {
		out.Branch = t.Branch.ID
	}
	if n.primary = j.primaryAmps(n, a); n.primary != nil {
		amps, _ := worstPrimary(n.primary)
		out.PrimaryAmps = &amps
	}
	out.OverloadEnds = j.opens(n, a, out.PrimaryAmps)
	for _, f := range n.net.Feeds {
		if f.Source == t.ID {
			out.LargestTapVolts = math.Max(out.LargestTapVolts, f.Volts)
		}
	}
	out.LargestLampVA = j.largestLampVA(n)
	return out
}

// leastLoad is the load of the lightest scene in use that lights any of its lamps,
// or of everything. A supply without a lit lamp has nothing that could flicker.
func leastLoad(a *wire.Analysis) float64 {
	least := a.Nominal.Source.OutputVA
	for _, s := range a.Scenes {
		if s.Source.OutputVA > 0 {
			least = math.Min(least, s.Source.OutputVA)
		}
	}
	return least
}

func locationOr(location string) string {
	if location == "" {
		return "outdoor"
	}
	return location
}

// largestLampVA sums the largest lamp of each fixture that states one, and the
// fitted lamp of the others; nil when none states one.
func (j *join) largestLampVA(n *network) *float64 {
	total, stated := 0.0, false
	for _, load := range n.net.Loads {
		f := j.fixtures[load.ID]
		if f.LargestVA != nil && *f.LargestVA > f.VAUsed {
			total, stated = total+*f.LargestVA, true
			continue
		}
		total += f.VAUsed
	}
	if !stated {
		return nil
	}
	return &total
}

// lampFacts writes volts and drop; lamps of a run without an answer have none.
func (j *join) lampFacts(n *network, a *wire.Analysis, failed map[string]failure) {
	taps, corners := map[string]*plan.Run{}, cornerVolts(a)
	for _, run := range j.plan.Runs {
		taps[run.ID] = run
	}
	for _, lamp := range a.Lamps {
		f := j.fixtures[lamp.ID]
		f.VAAssumed = n.assumedPF[lamp.ID]
		f.Transformer = n.transformer.ID
		run := taps[n.runOf(lamp.Feed)]
		if lamp.Feed == "" {
			continue // on an island; wire.loop-misfed says so
		}
		f.Fed = true
		if run == nil {
			run = j.runOf(lamp.ID)
		}
		if run != nil {
			f.Run, f.TapVolts = run.ID, ptr(run.TapVolts)
		}
		if len(failed) > 0 && a.Nominal.Status == wire.NoSolution {
			continue
		}
		f.NominalVolts, f.DropV = ptr(lamp.NominalVolts), ptr(lamp.DropVolts)
		if run != nil {
			f.DropShare = ptr(lamp.DropVolts / run.TapVolts)
		}
		f.LowVolts, f.LowCorner = ptr(lamp.MinVolts), cornerWords(lamp.MinCorner)
		f.HighVolts, f.HighCorner = ptr(lamp.MaxVolts), cornerWords(lamp.MaxCorner)
		if f.DropsOut = lamp.Dropped; lamp.Dropped {
			f.DropsOutAt = cornerWords(lamp.DroppedCorner)
		}
		f.LightShare = ptr(lamp.LightNominal)
		f.Corners = corners[lamp.ID]
		j.lamps[lamp.ID] = lampLight{share: lamp.LightNominal, low: lamp.LightMin}
	}
}

// cornerVolts are the volts of each lamp in the corners that were solved, without
// those in which single lamps are out.
func cornerVolts(a *wire.Analysis) map[string][]CornerVolts {
	out := make(map[string][]CornerVolts, len(a.Lamps))
	for _, s := range append([]wire.Solution{a.Nominal, a.Low, a.High}, a.Scenes...) {
		if s.Status == wire.NoSolution {
			continue
		}
		for _, lamp := range s.Lamps {
			if lamp.On {
				out[lamp.ID] = append(out[lamp.ID], CornerVolts{cornerWords(s.Corner), lamp.Volts})
			}
		}
	}
	return out
}

// runOf is the first run that reaches a fixture.
func (j *join) runOf(fixture string) *plan.Run {
	if f := j.planFixture[fixture]; f != nil && len(f.Runs) > 0 {
		return f.Runs[0]
	}
	return nil
}

func (j *join) commonFacts(n *network, a *wire.Analysis) {
	corners := solvedCorners(a)
	for i, c := range a.Commons {
		owner, number, ok := strings.Cut(c.ID, "/")
		if !ok || owner != n.transformer.ID {
			continue
		}
		out := Common{ID: c.ID, Transformer: owner, Amps: c.MaxAmps, NominalAmps: c.NominalAmps,
			Corner: telling(c.MaxAmps, c.AmpsCorner, "A", nil, corners, func(s *wire.Solution) float64 { return s.Commons[i].Amps }),
			VA:     c.MaxVA, LargestVA: n.transformer.Type.LargestVA,
			VACorner: telling(c.MaxVA, c.VACorner, "VA", n.transformer.Type.LargestVA, corners, func(s *wire.Solution) float64 { return s.Commons[i].VA })}
		if out.Number, _ = strconv.Atoi(number); out.Number < 1 {
			continue
		}
		out.Index = out.Number - 1
		out.Protection = protectionOf(n.transformer.Type, out.Index)
		for _, run := range j.plan.Runs {
			if run.Transformer == n.transformer && run.Common == out.Number {
				out.Runs = append(out.Runs, run.ID)
				out.Conductors += legsAtSource(run)
			}
		}
		if out.Index < len(n.transformer.Type.Commons) {
			device := n.transformer.Type.Commons[out.Index]
			out.DeviceAmps, out.DeviceKind, out.MostConductors = device.DeviceAmps, device.DeviceKind, device.MostConductors
		}
		j.doc.Commons = append(j.doc.Commons, out)
	}
}

func legsAtSource(run *plan.Run) int {
	n := 0
	for _, leg := range run.Legs {
		if leg.From == run.Transformer.ID {
			n++
		}
		if leg.To == run.Transformer.ID {
			n++
		}
	}
	return n
}

// sortedKeys returns the keys of a set in order.
func sortedKeys[V any](m map[string]V) []string {
	keys := make([]string, 0, len(m))
	for k := range m {
		keys = append(keys, k)
	}
	sort.Strings(keys)
	return keys
}
