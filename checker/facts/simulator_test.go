package facts_test

import (
	"context"
	"fmt"
	"math"
	"os"
	"os/exec"
	"path/filepath"
	"regexp"
	"strconv"
	"strings"
	"testing"

	"duskproof/checker/facts"
	"duskproof/checker/plan"
)

// Whole plans against a general-purpose circuit simulator (ngspice): from the cables,
// joints, lamps, taps and impedances that a plan states to the volts in its facts. The
// deck has both conductors of every cable, and the resistances come from the
// definitions (ASTM B258 and IEC 60028, IEC 60228 for metric sizes) written out here.

// simulatedWithin is how far volts may be apart, in volts.
const simulatedWithin = 1e-3

// simulatedPlans are good plans with magnetic transformers of stated impedance: trees,
// hubs, several taps on one transformer, a loop, filaments and drivers.
var simulatedPlans = []string{"as-built", "deck", "halogen-multi-tap", "hub", "iec-courtyard", "led-retrofit", "looped", "moonlight",
	"pool-garden", "public-stair", "uk-garden", "wiring-only"}

// copperOhmPerM is one conductor of bare copper at a temperature: stranded in AWG
// sizes, of class 2 or 5 in metric ones.
func copperOhmPerM(t *testing.T, c plan.Conductor, tempC float64) float64 {
	t.Helper()
	size := c.Size
	warm := 1 + 0.00393*(tempC-20)
	if number, ok := strings.CutSuffix(size, " AWG"); ok {
		n, err := strconv.Atoi(number)
		if err != nil {
			t.Fatal(err)
		}
		mm := 0.127 * math.Pow(92, float64(36-n)/39)
		return 1.02 / 58 / (math.Pi / 4 * mm * mm) * warm // 2 % of lay
	}
	ohmPerKm, ok := map[string]float64{
		"2.5 mm2 stranded": 7.41, "4 mm2 stranded": 4.61, "6 mm2 stranded": 3.08,
		"2.5 mm2 fine-stranded": 7.98, "4 mm2 fine-stranded": 4.95, "6 mm2 fine-stranded": 3.30,
	}[size+" "+c.Stranding]
	if !ok {
		t.Fatalf("no resistance for %s", size)
	}
	return ohmPerKm / 1000 * warm
}

// deck writes the network of one transformer in one state.
type deck struct {
	t      *testing.T
	text   strings.Builder
	names  map[string]int
	plan   *plan.Plan
	unit   *plan.Transformer
	tempC  float64
	factor float64 // of the mains
	ohmsPU float64
	out    string // a lamp that is out
}

// node numbers a place.
func (d *deck) node(name string) int {
	n, ok := d.names[name]
	if !ok {
		n = len(d.names) + 1
		d.names[name] = n
	}
	return n
}

func (d *deck) line(format string, a ...any) { fmt.Fprintf(&d.text, format+"\n", a...) }

// jointOhms is the resistance of the joint at a place.
func (d *deck) jointOhms(id string) float64 {
	for _, f := range d.plan.Fixtures {
		if f.ID == id && f.Connector != nil && f.Connector.ResistanceOhm != nil {
			return *f.Connector.ResistanceOhm
		}
	}
	for _, run := range d.plan.Runs {
		for _, n := range run.Nodes {
			if n.ID == id && n.Connector != nil && n.Connector.ResistanceOhm != nil {
				return *n.Connector.ResistanceOhm
			}
		}
	}
	return 0
}

// write puts down the transformer as an ideal one for each tap behind one resistance,
// the runs and the lamps.
func (d *deck) write(lamps map[string]*facts.Fixture) string {
	d.line("* %s", d.unit.ID)
	d.line(".options reltol=1e-9 abstol=1e-12 vntol=1e-10 gmin=1e-18 itl1=1000")
	open := d.factor
	if d.unit.Type.TapsStatedAt == "rated-load" {
		open *= 1 + d.ohmsPU
	}
	d.line("Vopen e0 0 %.17g\nRinside e0 e1 %.17g", open, d.ohmsPU/d.unit.Type.RatingVA)
	lit := map[string]bool{}
	for i, run := range d.plan.Runs {
		if run.Transformer != d.unit {
			continue
		}
		start := d.node("run " + run.ID)
		d.line("Ew%d x%d 0 e1 0 %.17g\nVa%d x%d p%d 0\nFw%d e1 0 Va%d %.17g\nVb%d m%d 0 0", i, i, run.TapVolts, i, i, start, i, i, run.TapVolts, i, start)
		for j, leg := range run.Legs {
			ends := [2]int{start, start}
			for k, id := range []string{leg.From, leg.To} {
				if id != d.unit.ID {
					ends[k] = d.node(id)
					lit[id] = true
				}
			}
			ohms := (*leg.LengthM+leg.SlackM)*copperOhmPerM(d.t, leg.Cable.Conductor, d.tempC) + (d.jointOhms(leg.From)+d.jointOhms(leg.To))/2
			d.line("Rp%d_%d p%d p%d %.17g\nRm%d_%d m%d m%d %.17g", i, j, ends[0], ends[1], ohms, i, j, ends[0], ends[1], ohms)
		}
	}
	for i, f := range d.plan.Fixtures {
		if lit[f.ID] {
			d.lamp(i, f, lamps[f.ID])
		}
	}
	d.line(".control\nset numdgt=12\nop")
	for i, f := range d.plan.Fixtures {
		if lit[f.ID] {
			d.line("print v(a%d)-v(b%d)", i, i)
		}
	}
	d.line("quit\n.endc\n.end")
	return d.text.String()
}

// lamp writes one lamp behind its joint and its factory lead.
func (d *deck) lamp(i int, f *plan.Fixture, lamp *facts.Fixture) {
	ohms := d.jointOhms(f.ID)/2 + 1e-9
	if lead := f.Type.Lead; lead != nil {
		ohms += *f.Type.LeadM * copperOhmPerM(d.t, *lead, d.tempC)
	}
	n := d.node(f.ID)
	d.line("Rlp%d p%d a%d %.17g\nRlm%d m%d b%d %.17g\n.nodeset V(a%d)=12 V(p%d)=12", i, n, i, ohms, i, n, i, ohms, i, n)
	v, amps := fmt.Sprintf("V(a%d,b%d)", i, i), lamp.VAUsed/f.Lamp.RatedVolts*f.Level
	switch {
	case f.ID == d.out:
		amps = 0
		fallthrough
	case f.Lamp.Load == "constant-current":
		d.line("B%d a%d b%d I = %.17g", i, i, i, amps)
	case f.Lamp.Load == "filament":
		d.line("B%d a%d b%d I = %.17g*pwr(%s/%.17g, 0.55)", i, i, i, amps, v, f.Lamp.RatedVolts)
	default:
		d.line("B%d a%d b%d I = %.17g/%s", i, i, i, lamp.VAUsed*f.Level, v)
	}
}

// simulated matches one line of the simulator's answer.
var simulated = regexp.MustCompile(`(?m)^v\(a(\d+)\)-v\(b\d+\) = (\S+)`)

// run simulates the deck: volts by the fixture's id.
func (d *deck) run(program string, lamps map[string]*facts.Fixture) map[string]float64 {
	d.t.Helper()
	path := filepath.Join(d.t.TempDir(), "deck.cir")
	if err := os.WriteFile(path, []byte(d.write(lamps)), 0o600); err != nil {
		d.t.Fatal(err)
	}
	out, err := exec.Command(program, "-b", path).CombinedOutput()
	volts := map[string]float64{}
	for _, m := range simulated.FindAllStringSubmatch(string(out), -1) {
		i, _ := strconv.Atoi(m[1])
		v, _ := strconv.ParseFloat(m[2], 64)
		volts[d.plan.Fixtures[i].ID] = v
	}
	if len(volts) == 0 {
		d.t.Fatalf("no answer (%v):\n%s", err, out)
	}
	return volts
}

// ends of the resistance per unit: of an impedance z that is known while its split is
// not, with reactance up to resistance, from z/sqrt(2) to z. Middle is for nominal
// volts; highest volts have least resistance, or most where the taps are stated at
// rated load and carry less.
func resistances(unit *plan.TransformerType) (middle, forHighest float64) {
	z := *unit.ImpedancePct / 100
	least := z / math.Sqrt2
	if unit.TapsStatedAt == "rated-load" {
		return (least + z) / 2, z
	}
	return (least + z) / 2, least
}

// solvedPlan reads and computes one good plan.
func solvedPlan(t *testing.T, name string) (*plan.Plan, *facts.Document) {
	t.Helper()
	text, err := os.ReadFile("../../testdata/plans/good/" + name + ".lighting.json")
	if err != nil {
		t.Fatal(err)
	}
	document, err := plan.Decode(text)
	if err != nil {
		t.Fatal(err)
	}
	p, _ := plan.Resolve(document)
	doc, err := facts.Compute(context.Background(), facts.Input{Plan: p, Limits: limitsOf(t, p.Profiles...), Today: "2026-06-01",
		Files: os.DirFS("../../testdata/plans/good")})
	if err != nil {
		t.Fatal(err)
	}
	return p, doc
}

// cornerOut is a corner with a lamp out.
var cornerOut = regexp.MustCompile(`^high supply, cold cable(?:, (\S+) out)?$`)

func TestPlansInSimulator(t *testing.T) {
	program, err := exec.LookPath("ngspice")
	if err != nil {
		if os.Getenv("DUSKPROOF_OUTSIDE") == "1" {
			t.Fatal("ngspice is not installed, and DUSKPROOF_OUTSIDE=1 asks for it")
		}
		t.Skip("ngspice is not installed; TestSimulatedSubset of checker/wire compares with its committed answers")
	}
	count, largest := 0, 0.0
	for _, name := range simulatedPlans {
		p, doc := solvedPlan(t, name)
		lamps := map[string]*facts.Fixture{}
		for i := range doc.Fixtures {
			lamps[doc.Fixtures[i].ID] = &doc.Fixtures[i]
		}
		held := func(corner string, d *deck, of func(*facts.Fixture) *float64) {
			for id, volts := range d.run(program, lamps) {
				have := of(lamps[id])
				if have == nil {
					continue
				}
				apart := math.Abs(*have - volts)
				count, largest = count+1, max(largest, apart)
				if !(apart <= simulatedWithin) {
					t.Errorf("%s: %s at %s has %.6f V, simulated %.6f V", name, id, corner, *have, volts)
				}
			}
		}
		for _, unit := range p.Transformers {
			middle, forHighest := resistances(unit.Type)
			held("nominal supply", &deck{t: t, names: map[string]int{}, plan: p, unit: unit, tempC: 20, factor: 1, ohmsPU: middle},
				func(f *facts.Fixture) *float64 { return f.NominalVolts })
			for _, corner := range highCorners(doc, unit.ID) {
				d := &deck{t: t, names: map[string]int{}, plan: p, unit: unit, factor: doc.Supply.HighFactor, ohmsPU: forHighest,
					out: cornerOut.FindStringSubmatch(corner)[1]}
				held(corner, d, func(f *facts.Fixture) *float64 {
					if f.HighCorner != corner {
						return nil
					}
					return f.HighVolts
				})
			}
		}
	}
	t.Logf("%d volts of lamps in %d plans, largest difference %.3g V (allowed %g V)", count, len(simulatedPlans), largest, simulatedWithin)
}

// highCorners are the corners at high supply in which lamps of a transformer have
// their highest volts, with every lamp on or one out.
func highCorners(doc *facts.Document, unit string) []string {
	var list []string
	seen := map[string]bool{}
	for i := range doc.Fixtures {
		f := &doc.Fixtures[i]
		if f.Transformer == unit && cornerOut.MatchString(f.HighCorner) && !seen[f.HighCorner] {
			seen[f.HighCorner] = true
			list = append(list, f.HighCorner)
		}
	}
	return list
}
