package main

import (
	"context"
	"io"
	"os"
	"os/exec"
	"path/filepath"
	"runtime/pprof"
	"slices"
	"strings"
	"time"
)

// A part of the work, and the functions by which a sample of the processor is
// known to belong to it. The first part that fits counts.
var parts = []struct {
	name  string
	marks []string
}{
	{"starting", []string{"checker.Warm", "policy.Open", "policy.init", "profile.Bundled", "main.(*judging).fill"}},
	{"reading", []string{"checker.(*state).read", "main.readPlan"}},
	{"wire", []string{"checker/facts.(*join).wire", "checker/wire."}},
	{"light", []string{"checker/facts.(*join).light", "checker/light."}},
	{"ground and take-off", []string{"checker/facts."}},
	{"rules", []string{"checker.(*state).judge", "checker/policy.", "opa/v1/topdown."}},
	{"report", []string{"checker.(*state).report", "checker/report.", "main.output.write", "main.(*output).write"}},
	{"collecting memory", []string{"runtime.gcBgMarkWorker", "runtime.bgsweep", "runtime.bgscavenge", "runtime.gcStart"}},
}

// shares prints where the time of a folder goes, by samples of the processor.
func (m *measured) shares() {
	folder := m.garden("shared", sharePlans)
	file := filepath.Join(m.folder, "samples")
	samples, err := os.Create(file)
	m.must(err)
	m.must(pprof.StartCPUProfile(samples))
	status := run(context.Background(), []string{"check", "--fixes", "hint", "--today", day,
		"--as", "json=" + filepath.Join(m.folder, "shared.json"), folder}, streams{strings.NewReader(""), io.Discard, io.Discard})
	pprof.StopCPUProfile()
	m.must(samples.Close())
	if status != exitHeld {
		m.b.Fatalf("status %d", status)
	}
	traces, err := exec.Command("go", "tool", "pprof", "-traces", file).Output()
	m.must(err)
	took, all := map[string]time.Duration{}, time.Duration(0)
	for _, trace := range strings.Split(string(traces), "-----------+") {
		value, part := sampleOf(trace)
		took[part] += value
		all += value
	}
	m.say("where the processor's time goes, %d plans, --fixes hint --as json", sharePlans)
	for _, p := range append(slices.Clone(parts), struct {
		name  string
		marks []string
	}{name: "other"}) {
		m.say("  %-38s %5.1f %%  %10s a plan", p.name, 100*took[p.name].Seconds()/all.Seconds(), ms(took[p.name]/sharePlans))
	}
}

// sampleOf reads one stack of "pprof -traces": its time, and its part.
func sampleOf(trace string) (took time.Duration, part string) {
	for i, line := range strings.Split(trace, "\n") {
		fields := strings.Fields(line)
		if i == 0 || len(fields) == 0 {
			continue // the rest of the rule between two stacks
		}
		if d, err := time.ParseDuration(fields[0]); err == nil {
			took = d
			break
		}
	}
	for _, p := range parts {
		if slices.ContainsFunc(p.marks, func(mark string) bool { return strings.Contains(trace, mark) }) {
			return took, p.name
		}
	}
	return took, "other"
}

// watch measures how soon after a save the page is new.
func (m *measured) watch() {
	folder, page := filepath.Join(m.folder, "watched"), filepath.Join(m.folder, "watched", "page.html")
	m.must(os.Mkdir(folder, 0o700))
	m.beside(folder)
	file := filepath.Join(folder, "garden.lighting.json")
	m.must(os.WriteFile(file, measuredPlan(m.b, 0), 0o600))
	command := exec.Command(m.program, "check", "--watch", "--today", day, "--as", "html="+page, file)
	m.must(command.Start())
	defer func() {
		_ = command.Process.Signal(os.Interrupt)
		_ = command.Wait()
	}()
	m.renewed(page, time.Time{})
	var took []spent
	for i := range saves {
		time.Sleep(300 * time.Millisecond) // a person's pause
		text, before := measuredPlan(m.b, uint64(i)+1), m.written(page)
		began := time.Now()
		m.must(os.WriteFile(file, text, 0o600))
		m.renewed(page, before)
		took = append(took, spent{wall: time.Since(began)})
	}
	m.say("check --watch --as html=page.html: from a save to the new page, %d saves", saves)
	m.say("  least %s, median %s; %s of it is the wait for an editor to be done", ms(least(took).wall), ms(middle(took)), settle)
	m.b.ReportMetric(middle(took).Seconds()*1e3, "watch-ms")
}

// written is when a file was last written.
func (m *measured) written(file string) time.Time {
	info, err := os.Stat(file)
	if err != nil {
		return time.Time{}
	}
	return info.ModTime()
}

// renewed waits until a file is newer than it was.
func (m *measured) renewed(file string, before time.Time) {
	for end := time.Now().Add(soon); !m.written(file).After(before); time.Sleep(time.Millisecond) {
		if time.Now().After(end) {
			m.b.Fatal("the page was not written")
		}
	}
}
