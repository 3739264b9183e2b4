package facts

import (
	"context"
	"crypto/sha256"
	"encoding/binary"
	"fmt"
	"hash"
	"math"
	"sync"

	"duskproof/checker/light"
	"duskproof/checker/wire"
)

// Kept is work that is kept from one plan for others that differ from it little:
// solved networks and light. It is found again by all that goes into it, so that
// facts are the same with it as without, and only what differs is computed. All
// plans must have the same folder of photometric files. It is safe for
// concurrent use, and bounded.
type Kept struct {
	networks *store[*keptNetwork]
	landings *store[light.Landing]
	aims     *store[bestAim]
	mu       sync.Mutex   // of what follows
	lights   []*keptLight // the first is that of the plan as it was
}

// NewKept returns a store that is empty.
func NewKept() *Kept {
	return &Kept{networks: newStore[*keptNetwork](mostNetworks), landings: newStore[light.Landing](mostAims), aims: newStore[bestAim](mostAims)}
}

type key [sha256.Size]byte

// store keeps what was made, by all that goes into it, up to a bound.
type store[V any] struct {
	mu    sync.Mutex
	most  int
	known map[key]V
}

func newStore[V any](most int) *store[V] { return &store[V]{most: most, known: map[key]V{}} }

// get makes a value, or finds it made.
func (s *store[V]) get(id key, make func() (V, error)) (V, error) {
	s.mu.Lock()
	found, known := s.known[id]
	s.mu.Unlock()
	if known {
		return found, nil
	}
	made, err := make()
	if err != nil {
		return made, err
	}
	s.mu.Lock()
	defer s.mu.Unlock()
	if len(s.known) < s.most {
		s.known[id] = made
	}
	return made, nil
}

// Bounds on what is kept.
const (
	mostNetworks = 256
	mostLights   = 6
	mostFields   = 2048
	mostAims     = 4096
)

// keptNetwork is one network, solved.
type keptNetwork struct {
	analysis wire.Analysis
	faults   []wire.Fault
}

// keptLight is one set of luminaires among one set of occluders, with the light at
// the points that were asked for.
type keptLight struct {
	*light.Evaluator
	key    key
	fields *store[*light.Field]
	kept   *Kept // nil when nothing is kept
	kinds  []*lightKind
	among  key // the occluders
}

// bestAim is the aim of one luminaire that lands most light on some targets.
type bestAim struct{ bearing, tilt, share float64 }

// solve solves a network, or finds it solved.
func (j *join) solve(n *network, set wire.Setting, faults wire.FaultSetting) (*keptNetwork, error) {
	k := j.in.Kept
	if k == nil {
		return solved(n, set, faults)
	}
	h := sha256.New()
	writeNetwork(h, n.net)
	fmt.Fprintf(h, "%+v|%+v", set, faults)
	var id key
	h.Sum(id[:0])
	return k.networks.get(id, func() (*keptNetwork, error) { return solved(n, set, faults) })
}

// writeNetwork writes all that a network is made of.
func writeNetwork(h hash.Hash, n wire.Network) {
	for _, load := range n.Loads {
		lead := load.Lead
		load.Lead = nil
		fmt.Fprintf(h, "%+v", load)
		if lead != nil {
			fmt.Fprintf(h, "%+v", *lead)
		}
	}
	n.Loads = nil
	fmt.Fprintf(h, "%+v|", n)
}

func solved(n *network, set wire.Setting, faults wire.FaultSetting) (*keptNetwork, error) {
	circuit, err := n.compiled()
	if err != nil {
		return nil, err
	}
	analysis, err := circuit.Analyse(set)
	if err != nil {
		return nil, err
	}
	shorts, err := n.shorted(faults)
	if err != nil {
		return nil, err
	}
	return &keptNetwork{analysis, shorts.Faults()}, nil
}

// evaluator makes luminaires ready, or finds them so. kinds are their lights by
// luminaire.
func (j *join) evaluator(all []light.Luminaire, kinds []*lightKind) (*keptLight, error) {
	occluders := j.occluders()
	k := j.in.Kept
	if k == nil {
		eval, err := light.NewEvaluator(all, occluders, light.Options{})
		return &keptLight{Evaluator: eval}, err
	}
	var among, id key
	h := sha256.New()
	writeOccluders(h, occluders)
	h.Sum(among[:0])
	for i, l := range all {
		writeLuminaire(h, l, kinds[i])
	}
	h.Sum(id[:0])
	k.mu.Lock()
	defer k.mu.Unlock()
	for _, l := range k.lights {
		if l.key == id {
			return l, nil
		}
	}
	eval, err := light.NewEvaluator(all, occluders, light.Options{})
	if err != nil {
		return nil, err
	}
	out := &keptLight{Evaluator: eval, key: id, fields: newStore[*light.Field](mostFields), kept: k, kinds: kinds, among: among}
	if len(k.lights) == mostLights {
		k.lights = append(k.lights[:1], k.lights[2:]...)
	}
	k.lights = append(k.lights, out)
	return out, nil
}

func writeOccluders(h hash.Hash, occluders []light.Occluder) {
	for _, o := range occluders {
		fmt.Fprintf(h, "%T%+v\n", o, o)
	}
}

// writeLuminaire writes a luminaire with its light by name.
func writeLuminaire(h hash.Hash, l light.Luminaire, kind *lightKind) {
	l.Light = nil
	fmt.Fprintf(h, "%s %v %+v\n", kind.name, kind.angle, l)
}

// Land says where the light of a luminaire lands, or finds that known. How much
// light it gives does not matter.
func (l *keptLight) Land(i int, targets ...light.Occluder) light.Landing {
	if l.kept == nil {
		return l.Evaluator.Land(i, targets...)
	}
	out, _ := l.kept.landings.get(l.aimKey(i, targets), func() (light.Landing, error) { return l.Evaluator.Land(i, targets...), nil })
	return out
}

// BestAim is the aim that lands most light on the targets, or finds that known.
func (l *keptLight) BestAim(i int, targets ...light.Occluder) (bearingDeg, tiltDeg, share float64) {
	if l.kept == nil {
		return l.Evaluator.BestAim(i, targets...)
	}
	out, _ := l.kept.aims.get(l.aimKey(i, targets), func() (best bestAim, err error) {
		best.bearing, best.tilt, best.share = l.Evaluator.BestAim(i, targets...)
		return best, nil
	})
	return out.bearing, out.tilt, out.share
}

// aimKey is all that says where light of a luminaire lands.
func (l *keptLight) aimKey(i int, targets []light.Occluder) (id key) {
	h := sha256.New()
	h.Write(l.among[:])
	luminaire := *l.Luminaire(i)
	luminaire.Lumens = 0
	writeLuminaire(h, luminaire, l.kinds[i])
	writeOccluders(h, targets)
	h.Sum(id[:0])
	return id
}

// Evaluate computes the light at points, or finds it computed.
func (l *keptLight) Evaluate(ctx context.Context, points []light.Point) (*light.Field, error) {
	if l.fields == nil {
		return l.Evaluator.Evaluate(ctx, points)
	}
	return l.fields.get(pointsKey(points), func() (*light.Field, error) { return l.Evaluator.Evaluate(ctx, points) })
}

// Bright is [keptLight.Evaluate] without points that cannot be the brightest. Where
// fields are kept, all points are computed, since the next plan finds them so.
func (l *keptLight) Bright(ctx context.Context, points []light.Point, leastLux float64, levels ...light.Levels) (*light.Field, error) {
	if l.fields == nil {
		return l.Evaluator.Bright(ctx, points, leastLux, levels...)
	}
	return l.Evaluate(ctx, points)
}

func pointsKey(points []light.Point) (id key) {
	h := sha256.New()
	for _, p := range points {
		writeFloats(h, p.At.X, p.At.Y, p.At.Z, p.Normal.X, p.Normal.Y, p.Normal.Z)
	}
	h.Sum(id[:0])
	return id
}

func writeFloats(h hash.Hash, values ...float64) {
	var buffer [48]byte
	text := buffer[:0]
	for _, v := range values {
		text = binary.LittleEndian.AppendUint64(text, math.Float64bits(v))
	}
	h.Write(text)
}
