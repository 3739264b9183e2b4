package main

import (
	"context"
	"fmt"
	"math"
	"os"
	"os/exec"
	"path/filepath"
	"strconv"
	"strings"
	"time"

	"duskproof/checker/facts"
	"duskproof/checker/plan"
)

// linksOnly is a program that links the policy engine, asks it for the least
// answer there is, and ends.
const linksOnly = `package main

import (
	"context"
	"fmt"

	"github.com/open-policy-agent/opa/v1/rego"
)

func main() {
	set, err := rego.New(rego.Query("x = 1 + 1")).Eval(context.Background())
	fmt.Println(set, err)
}
`

// compilesRules is a program that does with the rules what the engine alone
// would do in any program: it reads and compiles them, in its usual way, and
// evaluates nothing.
const compilesRules = `package main

import (
	"fmt"
	"io/fs"
	"os"
	"strings"

	"github.com/open-policy-agent/opa/v1/ast"

	"duskproof/rules"
)

func main() {
	modules := map[string]*ast.Module{}
	err := fs.WalkDir(rules.Files, ".", func(path string, entry fs.DirEntry, err error) error {
		if err != nil || !strings.HasSuffix(path, ".rego") || strings.HasSuffix(path, "_test.rego") || strings.HasPrefix(path, "entry") {
			return err
		}
		text, err := fs.ReadFile(rules.Files, path)
		if err != nil {
			return err
		}
		modules[path], err = ast.ParseModuleWithOpts(path, string(text), ast.ParserOptions{ProcessAnnotation: true})
		return err
	})
	compiler := ast.NewCompiler()
	if err == nil {
		compiler.Compile(modules)
	}
	if err != nil || compiler.Failed() {
		fmt.Println(err, compiler.Errors)
		os.Exit(2)
	}
}
`

// electricity measures the network alone beside a general circuit simulator,
// which is given the same network at nominal supply and must find the same volts.
func (m *measured) electricity(text []byte) {
	document, err := plan.Decode(text)
	m.must(err)
	p, _ := plan.Resolve(document)
	compute := func(enough func(*facts.Document) bool) *facts.Document {
		doc, err := facts.Compute(context.Background(), facts.Input{Plan: p, Today: day, Enough: enough})
		m.must(err)
		return doc
	}
	doc := compute(nil)
	ours := often(func() { compute(func(*facts.Document) bool { return true }) })
	m.say("the networks of the same plan")
	simulator, err := exec.LookPath("ngspice")
	if err != nil {
		m.say("  floor skipped: ngspice is not installed; .ci/run installs it")
		m.say("  %-50s %12s", "every corner, every lamp out in turn, faults", ms(ours))
		return
	}
	file := filepath.Join(m.folder, "network.cir")
	m.must(os.WriteFile(file, []byte(deck(doc)), 0o600))
	floor := time.Hour
	var out []byte
	for range coldTries {
		began := time.Now()
		out, err = exec.Command(simulator, "-b", file).Output()
		floor = min(floor, time.Since(began))
	}
	m.say("  %-50s %12s", "floor: ngspice, a process, one operating point", ms(floor))
	m.say("  %-50s %12s %31.3f", "every corner, every lamp out in turn, faults", ms(ours), float64(ours)/float64(floor))
	m.must(err)
	m.say("  volts of each lamp at nominal supply agree within %.1e V; the simulator is not given the joints at the lamps", m.differs(doc, string(out)))
}

// deck writes the networks for the simulator: each run from its loaded tap, each
// cable as the resistance that its drop and amps give.
func deck(doc *facts.Document) string {
	var b strings.Builder
	line := func(format string, a ...any) { fmt.Fprintf(&b, format+"\n", a...) }
	line("* lamps on cables\n.options reltol=1e-9 abstol=1e-12 vntol=1e-10 gmin=1e-18 itl1=1000")
	seen := map[string]bool{}
	head := func(run, end string) string { // a run starts at its own loaded tap
		for i := range doc.Transformers {
			if doc.Transformers[i].ID == end {
				return "run_" + node(run)
			}
		}
		return node(end)
	}
	for i := range doc.Fixtures {
		f := &doc.Fixtures[i]
		if !f.Fed || f.NominalVolts == nil || f.DropV == nil {
			continue
		}
		if !seen[f.Run] {
			seen[f.Run] = true
			line("Vrun%d run_%s 0 %.17g", i, node(f.Run), *f.NominalVolts+*f.DropV)
		}
		line("Blamp%d %s 0 I = %s", i, node(f.ID), lampLaw(f))
		line(".nodeset V(%s)=%g", node(f.ID), *f.NominalVolts)
	}
	for i := range doc.Legs {
		l := &doc.Legs[i]
		if l.NominalAmps > 0 {
			line("Rleg%d %s %s %.17g", i, head(l.Run, l.From), head(l.Run, l.To), l.DropV/l.NominalAmps)
		}
	}
	line(".control\nset numdgt=12\nop")
	for i := range doc.Fixtures {
		line("print v(%s)", node(doc.Fixtures[i].ID))
	}
	line("quit\n.endc\n.end")
	return b.String()
}

// node is a name that the simulator reads as one word and does not mistake for
// another, since it takes no notice of case.
func node(id string) string { return fmt.Sprintf("n%x", id) }

// lampLaw is the current of a lamp by its volts.
func lampLaw(f *facts.Fixture) string {
	if f.Load == "filament" {
		return fmt.Sprintf("%.17g*pwr(V(%s)/%.17g, 0.55)", f.VAUsed/f.RatedVolts, node(f.ID), f.RatedVolts)
	}
	return fmt.Sprintf("%.17g/V(%s)", f.VAUsed, node(f.ID))
}

// differs returns the largest difference between the simulator's volts and ours.
func (m *measured) differs(doc *facts.Document, out string) float64 {
	volts := map[string]float64{}
	for _, l := range strings.Split(out, "\n") {
		name, value, found := strings.Cut(l, " = ")
		if v, err := strconv.ParseFloat(strings.TrimSpace(value), 64); found && err == nil {
			volts[strings.TrimSpace(name)] = v
		}
	}
	worst := 0.0
	for i := range doc.Fixtures {
		f := &doc.Fixtures[i]
		v, found := volts["v("+node(f.ID)+")"]
		if f.NominalVolts == nil {
			continue
		}
		if !found {
			m.b.Fatalf("the simulator says nothing of %s:\n%s", f.ID, out)
		}
		worst = max(worst, math.Abs(v-*f.NominalVolts))
	}
	return worst
}
