package wire

import (
	"encoding/json"
	"flag"
	"fmt"
	"math"
	"math/rand/v2"
	"os"
	"os/exec"
	"path/filepath"
	"regexp"
	"slices"
	"strconv"
	"strings"
	"sync"
	"testing"
)

// The comparison with a general-purpose circuit simulator (ngspice). The
// simulator sees the circuit as it is built: two conductors for every cable,
// the power unit as an ideal transformer with its resistance on the primary
// side, and each lamp as a behavioural current source across its terminals. It
// shares no formula with the solver but the lamps' laws.
//
//	DUSKPROOF_OUTSIDE=1 go test -run Simulator -v ./checker/wire
//
// makes the networks, simulates and compares them; without the simulator it
// then fails instead of skipping. With -simulated it also rewrites the subset
// that TestSimulatedSubset reads.

var rewriteSimulated = flag.Bool("simulated", false, "rewrite the committed simulator results")

const (
	simulatorWithin   = 1e-3 // volts
	simulatedPerShape = 50
	simulatedFile     = "../../testdata/wire/simulated.json"
)

// simShapes adds joined commons and drop-out to the shapes.
var simShapes = append(slices.Clone(shapes), "joined", "drop-out")

// simCase is a network as the simulator and the committed file have it.
type simCase struct {
	Name string `json:"name"`
	// Open volts over base volts, and resistance per unit over rated VA.
	Ratio float64   `json:"ratio"`
	PerVA float64   `json:"per_va"`
	Feeds []simFeed `json:"feeds"`
	Legs  []simLeg  `json:"legs"`
	Loads []simLoad `json:"loads"`
	// Volts between the conductors, by node, from the simulator.
	Volts map[string]float64 `json:"volts"`
}

type simFeed struct {
	Node   string  `json:"node"`
	Common string  `json:"common"`
	Volts  float64 `json:"volts"`
}

type simLeg struct {
	From string  `json:"from"`
	To   string  `json:"to"`
	Ohms float64 `json:"ohms"` // one conductor with its joints
}

type simLoad struct {
	Node  string   `json:"node"`
	Kind  LoadKind `json:"kind"`
	VA    float64  `json:"va,omitempty"`
	Amps  float64  `json:"amps,omitempty"`
	Rated float64  `json:"rated,omitempty"`
	Drop  float64  `json:"drop_out,omitempty"`
	Ohms  float64  `json:"lead_ohms,omitempty"` // one conductor
}

// simulatorCase reduces a network at 20 C.
func simulatorCase(name string, n Network) simCase {
	s := simCase{Name: name, Ratio: 1}
	if r := n.Source.Impedance.Low.R; r > 0 && !n.Source.Regulated {
		s.PerVA = r / n.Source.RatedVA
		if n.Source.TapsAt == AtRatedLoad {
			s.Ratio = 1 + r
		}
	}
	for _, f := range n.Feeds {
		s.Feeds = append(s.Feeds, simFeed{f.Node, f.Common, f.Volts})
	}
	for _, l := range n.Legs {
		ohms := (l.LengthM+l.SlackM)*l.Conductor.OhmPerM20 + l.FromJointOhms + l.ToJointOhms
		s.Legs = append(s.Legs, simLeg{l.From, l.To, ohms})
	}
	for _, l := range n.Loads {
		level := l.Level
		if level == 0 {
			level = 1
		}
		x := simLoad{Node: l.Node, Kind: l.Kind, Drop: l.MinVolts, Ohms: l.JointOhms}
		if l.Lead != nil {
			x.Ohms += l.Lead.LengthM * l.Lead.Conductor.OhmPerM20
		}
		switch l.Kind {
		case ConstantPower:
			x.VA = level * l.Watts / l.PowerFactor
		case ConstantCurrent:
			x.Amps = level * l.Amps
		default:
			x.VA, x.Rated = level*l.Watts, l.RatedVolts
		}
		s.Loads = append(s.Loads, x)
	}
	return s
}

// network is the case as the solver reads it.
func (s simCase) network() Network {
	n := Network{Source: Source{ID: "T", RatedVA: 1e-6}}
	if s.PerVA > 0 {
		n.Source.RatedVA = 0.01 / s.PerVA
		n.Source.Impedance = ImpedanceRange{Impedance{R: 0.01}, Impedance{R: 0.01}}
	}
	for i, f := range s.Feeds {
		// The taps are restated at no load, on their own base.
		n.Feeds = append(n.Feeds, Feed{ID: fmt.Sprint(i), Node: f.Node, Common: f.Common, Tap: "t", Volts: f.Volts * s.Ratio})
	}
	n.Source.Impedance.Low.R /= s.Ratio * s.Ratio
	n.Source.Impedance.High.R /= s.Ratio * s.Ratio
	for i, l := range s.Legs {
		n.Legs = append(n.Legs, Leg{ID: fmt.Sprintf("%03d", i), From: l.From, To: l.To, LengthM: 1, Conductor: Conductor{OhmPerM20: l.Ohms}})
	}
	for i, l := range s.Loads {
		n.Loads = append(n.Loads, Load{ID: fmt.Sprintf("%03d", i), Node: l.Node, Kind: l.Kind, Watts: l.VA, Amps: l.Amps,
			RatedVolts: l.Rated, MinVolts: l.Drop, JointOhms: l.Ohms})
	}
	return n
}

// deck writes the case as a simulator's input.
func (s simCase) deck() string {
	var b strings.Builder
	line := func(format string, a ...any) { fmt.Fprintf(&b, format+"\n", a...) }
	line("* %s", s.Name)
	line(".options reltol=1e-9 abstol=1e-12 vntol=1e-10 gmin=1e-18 itl1=1000")
	line("Vopen e0 0 %.17g", s.Ratio)
	line("Rinside e0 e1 %.17g", max(s.PerVA, 1e-12))
	for i, f := range s.Feeds {
		line("Ewind%d x%d 0 e1 0 %.17g", i, i, f.Volts)
		line("Vamps%d x%d p_%s 0", i, i, f.Node)
		line("Fprim%d e1 0 Vamps%d %.17g", i, i, f.Volts)
		line("Vback%d m_%s 0 0", i, f.Node)
	}
	for i, l := range s.Legs {
		line("Rp%d p_%s p_%s %.17g", i, l.From, l.To, l.Ohms)
		line("Rm%d m_%s m_%s %.17g", i, l.From, l.To, l.Ohms)
	}
	for i, l := range s.Loads {
		p, m := "p_"+l.Node, "m_"+l.Node
		if l.Ohms > 0 {
			line("Rlp%d %s lp%d %.17g", i, p, i, l.Ohms)
			line("Rlm%d %s lm%d %.17g", i, m, i, l.Ohms)
			p, m = fmt.Sprintf("lp%d", i), fmt.Sprintf("lm%d", i)
		}
		line("Blamp%d %s %s I = %s", i, p, m, l.law(fmt.Sprintf("V(%s,%s)", p, m)))
		line(".nodeset V(%s)=%g", p, s.Feeds[0].Volts)
	}
	for _, node := range s.nodes() {
		line(".nodeset V(p_%s)=%g", node, s.Feeds[0].Volts)
	}
	line(".control\nset numdgt=12\nop")
	for _, node := range s.nodes() {
		line("print v(p_%s)-v(m_%s)", node, node)
	}
	line("quit\n.endc\n.end")
	return b.String()
}

// law is the current of a lamp by its volts v.
func (l simLoad) law(v string) string {
	switch l.Kind {
	case ConstantPower:
		if l.Drop > 0 {
			return fmt.Sprintf("(%s >= %.17g) ? (%.17g/%s) : (%.17g*%s)", v, l.Drop, l.VA, v, l.VA/(l.Drop*l.Drop), v)
		}
		return fmt.Sprintf("%.17g/%s", l.VA, v)
	case ConstantCurrent:
		return fmt.Sprintf("%.17g", l.Amps)
	case Filament:
		return fmt.Sprintf("%.17g*pwr(%s/%.17g, 0.55)", l.VA/l.Rated, v, l.Rated)
	}
	return fmt.Sprintf("%.17g*%s", l.VA/(l.Rated*l.Rated), v)
}

// nodes lists the nodes, sorted.
func (s simCase) nodes() []string {
	var list []string
	for _, f := range s.Feeds {
		list = append(list, f.Node)
	}
	for _, l := range s.Legs {
		list = append(list, l.From, l.To)
	}
	slices.Sort(list)
	return slices.Compact(list)
}

// printed matches one line of the simulator's answer.
var printed = regexp.MustCompile(`^v\(p_([^)]+)\)-v\(m_[^)]+\) = (\S+)`)

// simulate runs the simulator and fills in the volts.
func (s *simCase) simulate(program, folder string) error {
	path := filepath.Join(folder, strings.ReplaceAll(s.Name, " ", "-")+".cir")
	if err := os.WriteFile(path, []byte(s.deck()), 0o600); err != nil {
		return err
	}
	out, err := exec.Command(program, "-b", path).CombinedOutput()
	s.Volts = map[string]float64{}
	for _, l := range strings.Split(string(out), "\n") {
		if m := printed.FindStringSubmatch(l); m != nil {
			v, err := strconv.ParseFloat(m[2], 64)
			if err != nil {
				return fmt.Errorf("%s: %w", l, err)
			}
			s.Volts[m[1]] = v
		}
	}
	if len(s.Volts) != len(s.nodes()) {
		return fmt.Errorf("%s: %d of %d volts (%w):\n%s", s.Name, len(s.Volts), len(s.nodes()), err, out)
	}
	return nil
}

// simulatedNetworks makes the networks of the comparison.
func simulatedNetworks() []Network {
	var list []Network
	for _, shape := range simShapes {
		for seed := range uint64(simulatedPerShape) {
			r := rand.New(rand.NewPCG(seed, 17))
			list = append(list, simulatedNetwork(r, shape))
		}
	}
	return list
}

// simulatedNetwork is a random network of the shape that has a solution.
func simulatedNetwork(r *rand.Rand, shape string) Network {
	switch shape {
	case "joined": // two commons of equal volts feed one ring
		n, _ := solvable(r, "chain", nominal)
		last := n.Legs[len(n.Legs)-1]
		end := last.To
		if end == n.Feeds[0].Node {
			end = last.From
		}
		n.Feeds = append(n.Feeds, Feed{ID: "back", Node: "t9", Common: "9", Tap: n.Feeds[0].Tap, Volts: n.Feeds[0].Volts})
		last.ID, last.From, last.To = "back", end, "t9"
		n.Legs = append(n.Legs, last)
		return n
	case "drop-out": // loads grown until a driver drops out
		n, _ := solvable(r, "tree", nominal)
		for i := range n.Loads {
			n.Loads[i].Kind, n.Loads[i].MinVolts = ConstantPower, 8.5
		}
		for range 40 {
			if a, _ := Solve(n, nominal); a.Status == DroppedOut {
				break
			}
			scaleLoads(&n, 1.1)
		}
		return n
	}
	n, _ := solvable(r, shape, nominal)
	return n
}

// worstOf is the largest difference between the simulator and the solver.
func worstOf(t *testing.T, s simCase, n Network) float64 {
	t.Helper()
	a, err := Solve(n, nominal)
	if err != nil {
		t.Fatal(err)
	}
	worst := 0.0
	for _, node := range a.Nodes {
		if d := math.Abs(node.Volts - s.Volts[node.ID]); !(d <= worst) {
			worst = d
		}
	}
	return worst
}

// At least 200 random networks against ngspice, node by node within 1 mV.
func TestSimulator(t *testing.T) {
	program, err := exec.LookPath("ngspice")
	if err != nil {
		if os.Getenv("DUSKPROOF_OUTSIDE") == "1" {
			t.Fatal("ngspice is not installed, and DUSKPROOF_OUTSIDE=1 asks for it")
		}
		t.Skip("ngspice is not installed; TestSimulatedSubset compares with its committed answers")
	}
	networks := simulatedNetworks()
	cases := make([]simCase, len(networks))
	folder := t.TempDir()
	var wait sync.WaitGroup
	work := make(chan int)
	errs := make([]error, len(networks))
	for range 2 {
		wait.Go(func() {
			for i := range work {
				errs[i] = cases[i].simulate(program, folder)
			}
		})
	}
	for i, n := range networks {
		cases[i] = simulatorCase(fmt.Sprintf("%s %d", simShapes[i/simulatedPerShape], i%simulatedPerShape), n)
		work <- i
	}
	close(work)
	wait.Wait()
	worst, nodes := map[string]float64{}, 0
	for i, n := range networks {
		if errs[i] != nil {
			t.Error(errs[i])
			continue
		}
		d := worstOf(t, cases[i], n)
		if !(d <= simulatorWithin) {
			t.Errorf("%s: %g V apart", cases[i].Name, d)
		}
		shape := simShapes[i/simulatedPerShape]
		worst[shape] = max(worst[shape], d)
		nodes += len(cases[i].Volts)
	}
	largest := 0.0
	for _, shape := range simShapes {
		t.Logf("%-9s %d networks, largest difference %.3g V", shape, simulatedPerShape, worst[shape])
		largest = max(largest, worst[shape])
	}
	t.Logf("%d networks, %d nodes, largest difference %.3g V (allowed %g V)", len(networks), nodes, largest, simulatorWithin)
	if *rewriteSimulated && !t.Failed() {
		rewriteSubset(t, cases)
	}
}

// rewriteSubset writes the smallest networks of each shape.
func rewriteSubset(t *testing.T, cases []simCase) {
	t.Helper()
	var keep []simCase
	for s := range simShapes {
		some := slices.Clone(cases[s*simulatedPerShape : (s+1)*simulatedPerShape])
		slices.SortStableFunc(some, func(a, b simCase) int { return len(a.Legs) + len(a.Loads) - len(b.Legs) - len(b.Loads) })
		some = slices.DeleteFunc(some, func(c simCase) bool { return len(c.Loads) < 4 })
		keep = append(keep, some[:4]...)
	}
	var b strings.Builder
	b.WriteString("[\n")
	for i, c := range keep {
		text, err := json.Marshal(c)
		if err != nil {
			t.Fatal(err)
		}
		b.Write(text)
		if i < len(keep)-1 {
			b.WriteString(",")
		}
		b.WriteString("\n")
	}
	b.WriteString("]\n")
	if err := os.WriteFile(simulatedFile, []byte(b.String()), 0o644); err != nil {
		t.Fatal(err)
	}
}

// The committed answers of ngspice, no simulator needed.
func TestSimulatedSubset(t *testing.T) {
	text, err := os.ReadFile(simulatedFile)
	if err != nil {
		t.Fatal(err)
	}
	var cases []simCase
	if err := json.Unmarshal(text, &cases); err != nil {
		t.Fatal(err)
	}
	if len(cases) < 4*len(simShapes) {
		t.Fatalf("only %d cases", len(cases))
	}
	largest := 0.0
	for _, c := range cases {
		d := worstOf(t, c, c.network())
		if !(d <= simulatorWithin) {
			t.Errorf("%s: %g V apart", c.Name, d)
		}
		largest = max(largest, d)
	}
	t.Logf("%d committed networks, largest difference %.3g V", len(cases), largest)
}
