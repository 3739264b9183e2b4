package main

import (
	"bytes"
	"context"
	"errors"
	"fmt"
	"net"
	"os"
	"os/exec"
	"path/filepath"
	"strings"
	"testing"
	"time"

	"duskproof/checker/policy"
)

// grave is a plan in which a rule of ours finds a danger.
const grave = "../../rules/power/gfci/bad.lighting.json"

// secret stands in the environment of the command and must never come out.
const secret = "swordfish-7d1f"

// hostileHead makes a house rule of a body; SLUG is its name.
const hostileHead = `# METADATA
# title: Rule that means harm
# description: |
#   It tries to reach outside, or to use up the machine.
# custom:
#   id: house.SLUG
#   severity: advice
#   basis: house
#   source: our own, to try the fence
#   confidence: practice
#   needs: []
#   limits: []
#   hint: Take {element} out
package house.SLUG

`

// harmless is the rule that stands beside each hostile one.
const harmless = `import data.lib

hits contains lib.hit("plan", [], {"message": "the harmless rule was judged"})
`

// hostile lists what a folder of rules may try, and what the command says then.
// ADDRESS is where somebody listens.
var hostile = map[string]struct{ body, says string }{
	"network":       {`hits contains http.send({"method": "get", "url": "http://ADDRESS/"})`, "undefined function http.send"},
	"name-look-up":  {`hits contains net.lookup_ip_addr("a.invalid")`, "undefined function net.lookup_ip_addr"},
	"remote-schema": {`hits contains json.match_schema({}, {"$ref": "http://ADDRESS/s"})`, "undefined function json.match_schema"},
	"environment":   {`hits contains opa.runtime().env`, "undefined function opa.runtime"},
	"clock":         {`hits contains time.now_ns()`, "undefined function time.now_ns"},
	"endless-loop":  {`hits contains i if some i in numbers.range(1, 1000000000000)`, "and was stopped"},
	"nested-loops":  {"hits contains 1 if {\n\tr := numbers.range(1, 3000)\n\tsome a in r\n\tsome b in r\n\tsome c in r\n\ta * b * c < 0\n}", "the rule ran longer than 2s and was stopped"},
	"huge-result":   {`hits contains {"element": i} if some i in numbers.range(1, 20000000)`, "and was stopped"},
	"many-hits":     {"import data.lib\n\nhits contains lib.hit(sprintf(\"L%d\", [i]), [], {\"message\": \"m\"}) if some i in numbers.range(1, 25000)", "made 25000 hits"},
	"pattern":       {"hits contains 1 if {\n\ttext := sprintf(\"%0*d\", [1000000, 0])\n\tsome i in numbers.range(1, 100000)\n\tregex.match(sprintf(\"((0*)*)*%d$\", [i]), text)\n}", "and was stopped"},
	"memory-bomb":   {"s0 := sprintf(\"%0*d\", [1000000, 0])\n" + doubling(14) + `hits contains s14`, "and was stopped"},
	"giant-number":  {"p0 := 1e9999\n" + squaring(18) + `hits contains floor(p18)`, "and was stopped"},
	"long-search":   {"s0 := \"é\"\n" + doubling(20) + `hits contains indexof(s20, concat("", [s19, "x"]))`, "and was stopped"},
	"recursion":     {"f(x) := f(x + 1)\n\nhits contains f(1)", "recursive"},
	"deep-brackets": {"x := " + strings.Repeat("[", 20000) + strings.Repeat("]", 20000), "nested more than 100 deep"},
	"not-text":      {"# \xff", "is not UTF-8 text"},
	"control-marks": {"hits contains `\x1b]0;owned\x07` & 1", "problem"},
	"engine":        {`hits contains 1 if engine.take("house.harmless", set())`, "must not call the engine"},
}

func doubling(n int) string {
	var b strings.Builder
	for i := range n {
		fmt.Fprintf(&b, "s%d := concat(\"\", [s%d, s%d])\n", i+1, i, i)
	}
	return b.String()
}

func squaring(n int) string {
	var b strings.Builder
	for i := range n {
		fmt.Fprintf(&b, "p%d := p%d * p%d\n", i+1, i, i)
	}
	return b.String()
}

// hostileFolder writes a folder with one hostile rule and a harmless one.
func hostileFolder(t *testing.T, slug, body string) string {
	t.Helper()
	folder := t.TempDir()
	name := strings.ReplaceAll(slug, "-", "_")
	text := strings.ReplaceAll(hostileHead, "package house.SLUG", "package house."+name)
	text = strings.ReplaceAll(text, "SLUG", slug)
	for file, rule := range map[string]string{
		slug + ".rego":  text + body + "\n",
		"harmless.rego": strings.ReplaceAll(hostileHead, "SLUG", "harmless") + harmless,
	} {
		if err := os.WriteFile(filepath.Join(folder, file), []byte(rule), 0o644); err != nil {
			t.Fatal(err)
		}
	}
	return folder
}

// processEnd is what one run of the real command came to.
type processEnd struct {
	status      int
	out, errors string
	took        time.Duration
}

// process runs the real command in a process of its own, in an empty folder of
// its own.
func process(t *testing.T, args ...string) processEnd {
	t.Helper()
	program := filepath.Join(t.TempDir(), "duskproof")
	self, err := os.Executable()
	if err != nil {
		t.Fatal(err)
	}
	if err := os.Symlink(self, program); err != nil {
		t.Fatal(err)
	}
	ctx, cancel := context.WithTimeout(context.Background(), time.Minute)
	defer cancel()
	var out, complaints bytes.Buffer
	child := exec.CommandContext(ctx, program, args...)
	child.Dir, child.Stdout, child.Stderr = t.TempDir(), &out, &complaints
	child.Env = append(os.Environ(), "NO_COLOR=1", "DUSKPROOF_SECRET="+secret)
	before := time.Now()
	err = child.Run()
	took := time.Since(before)
	var exit *exec.ExitError
	if err != nil && !errors.As(err, &exit) {
		t.Fatal(err)
	}
	left, err := os.ReadDir(child.Dir)
	if err != nil || len(left) > 0 {
		t.Errorf("the command left %v behind (%v)", left, err)
	}
	return processEnd{child.ProcessState.ExitCode(), out.String(), complaints.String(), took}
}

// TestHostileFolder holds, for the command as people run it, that a folder of
// hostile rules gets a clear message that names it, exit status 2, an end within
// the deadline and a second, nothing from outside in the output, and no say over
// what other rules find.
func TestHostileFolder(t *testing.T) {
	listener, err := net.Listen("tcp", "127.0.0.1:0")
	if err != nil {
		t.Fatal(err)
	}
	defer listener.Close()
	called := make(chan struct{}, 100)
	go func() {
		for {
			conn, err := listener.Accept()
			if err != nil {
				return
			}
			called <- struct{}{}
			conn.Close()
		}
	}()
	plan, err := filepath.Abs(grave)
	if err != nil {
		t.Fatal(err)
	}
	// What the machine needs for the same plan without hostile rules is no
	// part of the deadline.
	deadline := policy.DefaultLimits().Total + time.Second + process(t, "check", "--today", day, plan).took
	for slug, c := range hostile {
		t.Run(slug, func(t *testing.T) {
			folder := hostileFolder(t, slug, strings.ReplaceAll(c.body, "ADDRESS", listener.Addr().String()))
			o := process(t, "check", "--today", day, "--rules", folder, plan)
			t.Logf("%s\n%s", o.took.Round(time.Millisecond), o.errors)
			if o.status != exitUnusable {
				t.Errorf("exit status %d, want %d", o.status, exitUnusable)
			}
			if o.took > deadline {
				t.Errorf("took %s, longer than the deadline and a second, %s", o.took, deadline)
			}
			said := strings.Join(strings.Fields(o.errors), " ")
			if !strings.Contains(said, c.says) || !strings.Contains(said, slug+".rego:") {
				t.Errorf("the message does not say %q at a place in %s.rego", c.says, slug)
			}
			if strings.Contains(o.out+o.errors, secret) || strings.ContainsAny(o.out+o.errors, "\x1b\x07") || strings.Contains(o.errors, "goroutine ") {
				t.Error("something leaked into the output")
			}
			if !strings.Contains(o.out, "danger power.gfci") || !strings.Contains(o.out, "the harmless rule was judged") {
				t.Errorf("other rules were hidden:\n%s", o.out)
			}
		})
	}
	if len(called) > 0 {
		t.Errorf("%d calls reached the network", len(called))
	}
}

// TestRunawayEndsTheCommand holds that a rule that cannot be stopped does not
// keep the command: the plans after it are not begun, and are said to be left.
func TestRunawayEndsTheCommand(t *testing.T) {
	plan, err := os.ReadFile(grave)
	if err != nil {
		t.Fatal(err)
	}
	plans := t.TempDir()
	for i := range 5 {
		if err := os.WriteFile(filepath.Join(plans, fmt.Sprintf("plan-%d.lighting.json", i)), plan, 0o644); err != nil {
			t.Fatal(err)
		}
	}
	folder := hostileFolder(t, "long-search", hostile["long-search"].body) // one call of minutes
	o := process(t, "check", "--today", day, "--jobs", "1", "--rules", folder, plans)
	if o.status != exitUnusable || o.took > 30*time.Second {
		t.Errorf("exit status %d after %s, want %d and soon", o.status, o.took, exitUnusable)
	}
	if !strings.Contains(o.errors, "plan-4.lighting.json was not checked: a rule could not be stopped") {
		t.Errorf("the last plan is not said to be left:\n%s", o.errors)
	}
	if !strings.Contains(o.out, "5 plans: 1 held, 4 not judged, 0 without holds") {
		t.Errorf("the summary does not say what was left:\n%s", o.out)
	}
}
