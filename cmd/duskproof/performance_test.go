package main

import (
	"context"
	"encoding/json"
	"errors"
	"fmt"
	"os"
	"os/exec"
	"path/filepath"
	"runtime"
	"slices"
	"strings"
	"testing"
	"time"

	"duskproof/checker"
	"duskproof/checker/plan"
	"duskproof/checker/source"
	"duskproof/checker/validate"
	"duskproof/schema"
)

// What is measured, and how often. The floor of a measure is the least time of
// many tries: whatever else the machine does only adds to it.
const (
	coldTries   = 60
	folderPlans = 1000
	sharePlans  = 300
	saves       = 15
)

// BenchmarkProgram prints what docs/performance.md quotes, all in one run: the
// command's start on one plan and its run over many, each beside a floor that is
// measured on the same machine within the same minute. Nothing is asserted.
//
//	go test ./cmd/duskproof -run '^$' -bench '^BenchmarkProgram$' -benchtime 1x
func BenchmarkProgram(b *testing.B) {
	for b.Loop() {
		m := &measured{b: b, folder: b.TempDir()}
		m.program = m.build("duskproof", ".")
		m.single()
		m.say("")
		m.many()
		m.say("")
		m.shares()
		m.say("")
		m.watch()
	}
	b.ReportMetric(0, "ns/op") // the run as a whole means nothing
}

// measured is one run of the benchmark.
type measured struct {
	b       *testing.B
	folder  string
	program string
}

// say prints one line of the result.
func (m *measured) say(format string, a ...any) { fmt.Printf(format+"\n", a...) }

// must ends the benchmark on an error.
func (m *measured) must(err error) {
	if err != nil {
		m.b.Helper()
		m.b.Fatal(err)
	}
}

// build compiles a program of this module, with the libraries it pins.
func (m *measured) build(name, from string) string {
	to := filepath.Join(m.folder, name)
	out, err := exec.Command("go", "build", "-o", to, from).CombinedOutput()
	if err != nil {
		m.b.Fatalf("build %s: %v\n%s", name, err, out)
	}
	return to
}

// floor compiles a program whose text is given.
func (m *measured) floor(name, text string) string {
	file := filepath.Join(m.folder, name+".go")
	m.must(os.WriteFile(file, []byte(text), 0o600))
	return m.build(name, file)
}

// spent is what one process took.
type spent struct {
	wall, processor time.Duration
	peakBytes       int64
}

// run runs a program to its end; a plan with holds is no failure.
func (m *measured) run(args ...string) spent {
	command := exec.Command(args[0], args[1:]...)
	began := time.Now()
	err := command.Run()
	wall := time.Since(began)
	var ended *exec.ExitError
	if err != nil && (!errors.As(err, &ended) || ended.ExitCode() != exitHeld) {
		m.b.Fatalf("%s: %v", strings.Join(args, " "), err)
	}
	state := command.ProcessState
	return spent{wall, state.UserTime() + state.SystemTime(), peakOf(state)}
}

// least is the least of each measure over the tries.
func least(tries []spent) spent {
	out := tries[0]
	for _, s := range tries {
		out.wall, out.processor = min(out.wall, s.wall), min(out.processor, s.processor)
		out.peakBytes = max(out.peakBytes, s.peakBytes)
	}
	return out
}

// middle is the median of the wall times.
func middle(tries []spent) time.Duration {
	walls := make([]time.Duration, len(tries))
	for i, s := range tries {
		walls[i] = s.wall
	}
	slices.Sort(walls)
	return walls[len(walls)/2]
}

// rounds runs several programs in turn, so that none has a quieter machine.
func (m *measured) rounds(programs [][]string) [][]spent {
	tries := make([][]spent, len(programs))
	for range coldTries {
		for i, args := range programs {
			tries[i] = append(tries[i], m.run(args...))
		}
	}
	return tries
}

// ms prints a time in milliseconds.
func ms(d time.Duration) string { return fmt.Sprintf("%.2f ms", d.Seconds()*1e3) }

// single measures one plan: a cold process beside its floors, and the decoding
// of the same text.
func (m *measured) single() {
	file := filepath.Join(m.folder, "cold", "garden.lighting.json")
	m.must(os.Mkdir(filepath.Dir(file), 0o700))
	text := measuredPlan(m.b, 0)
	m.must(os.WriteFile(file, text, 0o600))
	m.beside(filepath.Dir(file))
	names := []string{"floor: a program that links the policy engine", "floor: the engine reads and compiles our rules",
		"duskproof --version", "duskproof check --fixes hint, 40 fixtures", "duskproof check --fixes none, 40 fixtures"}
	tries := m.rounds([][]string{
		{m.floor("links", linksOnly)}, {m.floor("compiles", compilesRules)}, {m.program, "--version"},
		{m.program, "check", "--fixes", "hint", "--today", day, file}, {m.program, "check", "--fixes", "none", "--today", day, file},
	})
	m.say("%d processors (GOMAXPROCS %d), %s, %s/%s", runtime.NumCPU(), runtime.GOMAXPROCS(0), runtime.Version(), runtime.GOOS, runtime.GOARCH)
	m.say("one cold process, the least of %d tries in turn%14s %10s %10s %8s %8s %6s", coldTries, "wall", "median", "processor", "x floor", "x by it", "MB")
	floor := least(tries[0])
	for i, name := range names {
		s := least(tries[i])
		m.say("  %-50s %12s %10s %10s %8.1f %8.1f %6.0f", name, ms(s.wall), ms(middle(tries[i])), ms(s.processor),
			float64(s.wall)/float64(floor.wall), float64(s.processor)/float64(floor.processor), float64(s.peakBytes)/1e6)
	}
	m.say("  (\"by it\": by the processor time, which a busy machine changes less)")
	decoding, reading := m.reading(text)
	m.say("reading %d bytes, warm", len(text))
	m.say("  %-50s %12s", "floor: encoding/json decodes them", ms(decoding))
	m.say("  %-50s %12s %31.1f", "strict reading, schema, decoding, resolving", ms(reading), float64(reading)/float64(decoding))
	m.electricity(text)
	warm := m.warm(text)
	m.say("one warm check of the plan, all of it")
	m.say("  %-50s %12s %31.1f x decoding; %.0f plans/s on two processors", "from bytes to findings", ms(warm), float64(warm)/float64(decoding), 2/warm.Seconds())
	m.b.ReportMetric(least(tries[3]).wall.Seconds()*1e3, "cold-ms")
	m.b.ReportMetric(float64(least(tries[3]).wall)/float64(floor.wall), "cold/floor")
}

// warm measures one check in a process that has compiled its rules, on one
// processor: the work itself, without what a busy machine adds.
func (m *measured) warm(text []byte) time.Duration {
	c, err := checker.New(checker.Options{Today: day})
	m.must(err)
	in := checker.Input{Name: "garden", Bytes: text, FS: os.DirFS(filepath.Join(plansFolder, "tern-cottage"))}
	defer runtime.GOMAXPROCS(runtime.GOMAXPROCS(1))
	return often(func() {
		_, err := c.Check(context.Background(), in)
		m.must(err)
	})
}

// often returns the least time of a few hundred runs.
func often(run func()) time.Duration {
	fastest := time.Hour
	for range 300 {
		began := time.Now()
		run()
		fastest = min(fastest, time.Since(began))
	}
	return fastest
}

// reading measures the plain decoding of a text, and all that is done to it
// before anything is computed.
func (m *measured) reading(text []byte) (decoding, ours time.Duration) {
	rules, err := schema.Files.ReadFile(schema.Plan)
	m.must(err)
	validator := validate.Trusted(map[string][]byte{schema.Plan: rules}, schema.Plan)
	decoding = often(func() {
		var any map[string]any
		m.must(json.Unmarshal(text, &any))
	})
	ours = often(func() {
		doc, problems := source.Parse("garden", text, source.Limits{})
		problems = append(problems, validator.Validate(doc)...)
		document, err := plan.Decode(text)
		if err != nil || len(problems) > 0 {
			m.b.Fatal(err, problems)
		}
		plan.Resolve(document)
	})
	return decoding, ours
}
