package policy

import (
	"context"
	"fmt"
	"strings"
	"testing"
	"testing/fstest"
	"time"
)

// goodBody is a rule that works, to show that hostile ones do not hide it.
const goodBody = `hits contains lib.hit("L1", [], {"message": "a good rule was judged"})
`

// hostileLimits keep the tests short.
var hostileLimits = Limits{
	Rule: 300 * time.Millisecond, Total: 20 * time.Second, Grace: 100 * time.Millisecond,
	Hits: 1000, HitBytes: 1 << 20, Memory: 64 << 20,
}

// patientLimits are for rules that fail for another reason than time, however
// slow the machine.
var patientLimits = Limits{
	Rule: 20 * time.Second, Total: 30 * time.Second, Hits: 1000, HitBytes: 1 << 20, Memory: 64 << 20,
}

// loadHostile loads and compiles a hostile file beside a good rule.
func loadHostile(t *testing.T, limits Limits, text string) (*Program, []Problem) {
	t.Helper()
	source := House("house-rules", fstest.MapFS{
		"bad.rego":  {Data: []byte(text)},
		"good.rego": {Data: []byte(header("good") + withLibrary(goodBody))},
	})
	catalogue, problems := Load(source)
	program, more := catalogue.Compile(Options{Facts: factsSchema(t), Limits: limits})
	if program == nil {
		t.Fatalf("nothing compiled: %v %v", problems, more)
	}
	return program, append(problems, more...)
}

func repeat(n int, each func(i int) string) string {
	var b strings.Builder
	for i := range n {
		b.WriteString(each(i))
	}
	return b.String()
}

// TestHostileFiles holds that a file that reaches outside, or is made to break
// the compiler, gives a message at its place and leaves the other rules alone.
func TestHostileFiles(t *testing.T) {
	body := func(text string) string { return header("bad") + withLibrary(text) }
	cases := map[string]struct{ text, message string }{
		"network":     {body(`hits contains http.send({"method": "get", "url": "http://192.0.2.1"})` + "\n"), "undefined function http.send"},
		"look-up":     {body(`hits contains net.lookup_ip_addr("a.invalid")` + "\n"), "undefined function net.lookup_ip_addr"},
		"environment": {body("hits contains opa.runtime().env\n"), "undefined function opa.runtime"},
		"clock":       {body("hits contains time.now_ns()\n"), "undefined function time.now_ns"},
		"randomness":  {body(`hits contains rand.intn("a", 10)` + "\n"), "undefined function rand.intn"},
		"shifting":    {body("hits contains bits.lsh(1, 100000000)\n"), "undefined function bits.lsh"},
		"schema":      {body(`hits contains json.match_schema({}, {"$ref": "http://192.0.2.1/s"})` + "\n"), "undefined function json.match_schema"},
		"schema in metadata": {strings.Replace(body(goodBody), "# custom:", "# schemas:\n#   - input: {$ref: \"http://192.0.2.1/s\"}\n# custom:", 1),
			"remote reference loading disabled"},
		"engine":         {body(`hits contains 1 if engine.take("house.good", set())` + "\n"), "must not call the engine"},
		"engine by data": {body("hits contains data.entry.judged\n"), "belongs to the engine"},
		"other package":  {strings.Replace(body(goodBody), "package house.bad", "package rules.power.gfci", 1), "package is house.<slug>"},
		"library":        {strings.Replace(body(goodBody), "package house.bad", "package lib", 1), "package is house.<slug>"},
		"entry":          {strings.Replace(body(goodBody), "package house.bad", "package entry", 1), "package is house.<slug>"},
		"recursion":      {body("f(x) := f(x + 1)\n\nhits contains f(1)\n"), "recursive"},
		"long chain": {body("f0(x) := x\n" + repeat(500, func(i int) string { return fmt.Sprintf("f%d(x) := f%d(x)\n", i+1, i) }) + "hits contains f500(1)\n"),
			"more than 100 rules or functions"},
		"deep brackets": {body("x := " + strings.Repeat("[", 20000) + strings.Repeat("]", 20000) + "\n"), "nested more than 100 deep"},
		"long sum":      {body("x := 1" + strings.Repeat("+1", 100000) + "\n"), ""},
		"long else":     {body("x := 0 if false\n" + repeat(8000, func(int) string { return "else := 1 if false\n" })), ""},
		"not text":      {body("# \xff\n"), "is not UTF-8 text"},
		"large file":    {body("# " + strings.Repeat("x", maxRuleFileBytes)), "is larger than"},
		"alias bomb":    {strings.Replace(body(goodBody), "# custom:", aliasBomb+"# custom:", 1), ""},
		"giant number":  {body("hits contains floor(1e1000000000)\n"), "number too big"},
		"empty":         {"", "empty module"},
	}
	for name, c := range cases {
		t.Run(name, func(t *testing.T) {
			before := time.Now()
			program, problems := loadHostile(t, patientLimits, c.text)
			t.Logf("took %s", time.Since(before).Round(time.Millisecond))
			if len(problems) == 0 {
				t.Fatal("no problem was found")
			}
			found := false
			for _, p := range problems {
				if len(p.Message) < 3000 {
					t.Log(p)
				} else {
					t.Errorf("message of %d bytes: %s", len(p.Message), p.Message[:300])
				}
				found = found || p.File == "house-rules/bad.rego" && strings.Contains(p.Message, c.message)
			}
			if !found {
				t.Errorf("no problem in house-rules/bad.rego says %q", c.message)
			}
			checkGood(t, program, "{}")
		})
	}
}

// aliasBomb is a METADATA text that expands to a thousand million words.
var aliasBomb = "# labels: {a: &a [x,x,x,x,x,x,x,x,x,x]\n" + repeat(9, func(i int) string {
	name, before := string(rune('b'+i)), string(rune('a'+i))
	return "#   ," + name + ": &" + name + " [" + strings.TrimSuffix(strings.Repeat("*"+before+",", 10), ",") + "]\n"
}) + "#   }\n"

// checkGood holds that the good rule is judged, and only it.
func checkGood(t *testing.T, program *Program, facts string) []Failure {
	t.Helper()
	type answer struct {
		hits     int
		failures []Failure
		err      error
	}
	done := make(chan answer, 1)
	before := time.Now()
	go func() {
		hits, failures, err := program.Judge(context.Background(), document(t, facts))
		n := 0
		for _, h := range hits {
			if h.Rule == "house.good" {
				n++
			}
		}
		done <- answer{n, failures, err}
	}()
	select {
	case a := <-done:
		t.Logf("judged in %s; %d runaways", time.Since(before).Round(time.Millisecond), Runaways())
		if a.err != nil || a.hits != 1 {
			t.Errorf("the good rule made %d hits, error %v; want 1, nil", a.hits, a.err)
		}
		return a.failures
	case <-time.After(time.Minute):
		t.Fatal("judging did not end")
	}
	return nil
}

// TestHostileRules holds that a rule that compiles but misbehaves is named,
// with its place, and does not hide the good one.
func TestHostileRules(t *testing.T) {
	cases := map[string]struct {
		body   string
		reason Reason
		says   string
	}{
		"endless loop": {`hits contains i if some i in numbers.range(1, 1000000000000)`, "", "and was stopped"},
		"nested loops": {`hits contains 1 if {
	r := numbers.range(1, 3000)
	some a in r
	some b in r
	some c in r
	a * b * c < 0
}`, Slow, "longer than"},
		"many hits": {`hits contains lib.hit(sprintf("L%d", [i]), [], {"message": "m"}) if some i in numbers.range(1, 5000)`, Large, "made 5000 hits"},
		"huge hit": {`hits contains lib.hit(sprintf("L%d", [i]), [], {"message": sprintf("%01900d", [i])}) if some i in numbers.range(1, 900)`,
			Large, "larger than"},
		"huge result": {`hits contains {"element": i} if some i in numbers.range(1, 20000000)`, "", "and was stopped"},
		"expensive pattern": {`hits contains 1 if {
	text := sprintf("%0*d", [1000000, 0])
	some i in numbers.range(1, 1000)
	regex.match(sprintf("((0*)*)*%d$", [i]), text)
}`, Slow, "longer than"},
		"doubling": {`s0 := sprintf("%0*d", [1000000, 0])
` + repeat(12, func(i int) string { return fmt.Sprintf("s%d := concat(\"\", [s%d, s%d])\n", i+1, i, i) }) +
			`hits contains s12`, Large, "memory"},
		"giant product": {"p0 := 1e9999\n" + repeat(18, func(i int) string { return fmt.Sprintf("p%d := p%d * p%d\n", i+1, i, i) }) + "hits contains floor(p18)", "", "and was stopped"},
		"conflict":      {"f(x) := y if some y in [x, x + 1]\n\nhits contains f(1)", Fault, "two different values"},
		"bad argument":  {`hits contains to_number("twelve")`, Fault, "twelve"},
		"bad in library": {`hits contains lib.hit("L1", [], {"message": "m"}) if {
	lib.days_between("yesterday", "today") > 0
}`, Fault, "parsing time \"todayT"},
		"division":     {`hits contains 1 / (1 - 1)`, Fault, "divide by zero"},
		"no message":   {`hits contains lib.hit("L1", [], {})`, BadHit, "no message"},
		"no element":   {`hits contains lib.hit("", [], {"message": "m"})`, BadHit, "no element"},
		"not a hit":    {`hits contains "L1"`, BadHit, "must be an object"},
		"unknown key":  {`hits contains lib.hit("L1", [], {"message": "m", "serverity": "danger"})`, BadHit, `did you mean "severity"?`},
		"too grave":    {`hits contains lib.hit("L1", [], {"message": "m", "severity": "danger"})`, BadHit, "graver than"},
		"twice":        {`hits contains lib.hit("L1", [], {"message": m}) if some m in ["a", "b"]`, BadHit, "its own case"},
		"bad field":    {`hits contains lib.hit("L1", [1.5], {"message": "m"})`, BadHit, "neither a key nor an index"},
		"not a number": {`hits contains lib.hit("L1", [], {"message": "m", "value": "high"})`, BadHit, "not a number"},
		"overflow":     {`hits contains lib.hit("L1", [], {"message": "m", "value": 1e400})`, BadHit, "too large"},
	}
	for name, c := range cases {
		t.Run(name, func(t *testing.T) {
			limits := hostileLimits
			if c.reason != Slow && c.reason != "" {
				limits = patientLimits
			}
			program, problems := loadHostile(t, limits, header("bad")+withLibrary(c.body+"\n"))
			for _, p := range problems {
				t.Fatalf("%v\n%s", p, p.Excerpt)
			}
			failures := checkGood(t, program, `{"legs":[]}`)
			if len(failures) == 0 {
				t.Fatal("the hostile rule did not fail")
			}
			for _, f := range failures {
				t.Logf("%v (%s)", f.Problem, f.Reason)
				if f.Rule != "house.bad" || f.File != "house-rules/bad.rego" || f.Line == 0 {
					t.Errorf("the failure is not placed at the rule: %+v", f.Problem)
				}
			}
			if f := failures[0]; c.reason != "" && f.Reason != c.reason || !strings.Contains(f.Message, c.says) {
				t.Errorf("got %q (%s), want %q (%s)", f.Message, f.Reason, c.says, c.reason)
			}
		})
	}
}

// TestCrowdIsNoFault holds which rules get another attempt by themselves before
// they are blamed: those that took too long or too much beside others, and no
// others.
func TestCrowdIsNoFault(t *testing.T) {
	for kind, another := range map[endKind]bool{
		completed: false, failed: false, outOfTime: false, callerLeft: false, ruleTooSlow: true, tooMuchMemory: true,
	} {
		if (ending{kind: kind}).innocent() || (ending{kind: kind, crowded: true}).innocent() != another {
			t.Errorf("end %d: another attempt in a crowd is %t, want %t", kind, !another, another)
		}
	}
}
