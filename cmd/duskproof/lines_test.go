package main

import (
	"bufio"
	"bytes"
	"encoding/json"
	"fmt"
	"io"
	"math/rand/v2"
	"path/filepath"
	"strings"
	"testing"

	"duskproof/checker/source"
)

// compact writes a plan on one line.
func compact(t *testing.T, name string) string {
	t.Helper()
	var out bytes.Buffer
	if err := json.Compact(&out, read(t, name)); err != nil {
		t.Fatal(err)
	}
	return out.String()
}

// mixedLines are plans good and bad, with and without keys, and lines that are
// no plans at all.
func mixedLines(t *testing.T) []string {
	issued, far := compact(t, issuedPlan()), compact(t, filepath.Join(plansFolder, "too-far.lighting.json"))
	ten := compact(t, filepath.Join(plansFolder, "format/ten-lines.lighting.json"))
	return []string{
		ten, "garden-7\t" + far, "nonsense", "tern/issued\t" + issued, `{"format": "1.0"}`, "\t" + ten, "a b c\t[1, 2]",
		"\xff\xfe\t" + ten, ten[:len(ten)-1], far, "../../up\t" + ten, strings.Repeat("k", maxKey+1) + "\t" + ten,
	}
}

// checkLines runs --lines over lines and returns what it prints for each.
func checkLines(t *testing.T, lines []string, args ...string) (int, []string) {
	t.Helper()
	args = append([]string{"check", "--lines", "--today", day, "--base", filepath.Join(plansFolder, "tern-cottage")}, args...)
	status, out, complaints := command(t, strings.Join(lines, "\n"), args...)
	if complaints != "" {
		t.Errorf("complaints: %s", complaints)
	}
	return status, strings.Split(strings.TrimSuffix(out, "\n"), "\n")
}

// TestLinesGiveOneReportEach holds that every line has a report of its own, in
// order, with its key before it, and that it is the report of the plan alone.
func TestLinesGiveOneReportEach(t *testing.T) {
	lines := mixedLines(t)
	status, results := checkLines(t, lines)
	if status != exitUnusable {
		t.Errorf("status %d, want %d", status, exitUnusable)
	}
	if len(results) != len(lines) {
		t.Fatalf("%d results for %d lines", len(results), len(lines))
	}
	verdicts := []string{"", "held", "unjudged", "no-holds", "unjudged", "", "unjudged", "", "unjudged", "held", "", "unjudged"}
	for i, result := range results {
		key, plan := splitKey([]byte(lines[i]))
		if key != nil {
			rest, found := strings.CutPrefix(result, string(key)+"\t")
			if !found {
				t.Errorf("line %d: the key %q does not come back", i, key)
			}
			result = rest
		}
		var have jsonReport
		if err := json.Unmarshal([]byte(result), &have); err != nil || len(have.Plans) != 1 {
			t.Fatalf("line %d: %v in %q", i, err, result)
		}
		if want := verdicts[i]; want != "" && have.Plans[0].Verdict != want {
			t.Errorf("line %d: verdict %s, want %s", i, have.Plans[0].Verdict, want)
		}
		name := "standard input"
		if key != nil {
			name = strings.ToValidUTF8(string(key), "\uFFFD")
		}
		_, alone, _ := command(t, string(plan), "check", "--today", day, "--fixes", "hint", "--as", "json", "--name", name,
			"--base", filepath.Join(plansFolder, "tern-cottage"), "-")
		var short bytes.Buffer
		if err := json.Compact(&short, []byte(alone)); err != nil {
			t.Fatal(err)
		}
		if short.String() != result {
			t.Errorf("line %d differs from the report of the plan alone:\n%s\n%s", i, result, short.String())
		}
	}
}

// TestAnySplitGivesTheSameResults holds that what is said of a line depends on
// that line alone: however the input is cut, and however many plans are checked
// at once, the results put together are the same.
func TestAnySplitGivesTheSameResults(t *testing.T) {
	lines := mixedLines(t)
	_, whole := checkLines(t, lines)
	random := rand.New(rand.NewPCG(1, 2))
	for range 3 {
		var joined []string
		for rest := lines; len(rest) > 0; {
			n := 1 + random.IntN(len(rest))
			_, part := checkLines(t, rest[:n], "--jobs", fmt.Sprint(1+random.IntN(4)))
			joined, rest = append(joined, part...), rest[n:]
		}
		if strings.Join(joined, "\n") != strings.Join(whole, "\n") {
			t.Fatal("another split gives other results")
		}
	}
	order := random.Perm(len(lines))
	shuffled := make([]string, len(lines))
	for i, from := range order {
		shuffled[i] = lines[from]
	}
	_, results := checkLines(t, shuffled)
	for i, from := range order {
		if results[i] != whole[from] {
			t.Errorf("line %d says something else in another order", from)
		}
	}
}

// TestLinesAnswerAtOnce holds that a result comes as soon as its line is there,
// so that a program may send one plan and wait for its report.
func TestLinesAnswerAtOnce(t *testing.T) {
	in, write := io.Pipe()
	readOut, out := io.Pipe()
	done := make(chan int, 1)
	go func() {
		done <- run(t.Context(), []string{"check", "--lines", "--today", day}, streams{in, out, io.Discard})
		out.Close()
	}()
	answers := bufio.NewReader(readOut)
	for _, key := range []string{"first", "second"} {
		if _, err := fmt.Fprintf(write, "%s\t{}\n", key); err != nil {
			t.Fatal(err)
		}
		answer, err := answers.ReadString('\n')
		if err != nil || !strings.HasPrefix(answer, key+"\t{") {
			t.Fatalf("%q, %v", answer, err)
		}
	}
	write.Close()
	if status := <-done; status != exitUnusable {
		t.Errorf("status %d, want %d", status, exitUnusable)
	}
}

// TestLongLinesAreCut holds that a line longer than a plan may be is refused
// without being held, and that the line after it is read whole.
func TestLongLinesAreCut(t *testing.T) {
	most := source.DefaultLimits().MaxBytes
	r := bufio.NewReaderSize(io.MultiReader(strings.NewReader(strings.Repeat("x", 3*most)), strings.NewReader("\nnext\r\nlast")), 64<<10)
	long, err := readLine(r)
	if err != nil || len(long) <= most || len(long) > most+2*maxKey {
		t.Errorf("%d bytes of the long line are kept, %v", len(long), err)
	}
	for _, want := range []string{"next", "last"} {
		if text, _ := readLine(r); string(text) != want {
			t.Errorf("then %q, want %q", text, want)
		}
	}
}

// TestLinesRefuseOtherFlags holds that flags that mean nothing here are said.
func TestLinesRefuseOtherFlags(t *testing.T) {
	for _, flags := range [][]string{{"--as", "text"}, {"--brief"}, {"--watch"}, {"a.lighting.json"}, {"--changed-since", "main"}} {
		status, out, complaints := command(t, "", append([]string{"check", "--lines"}, flags...)...)
		if status != exitUnusable || out != "" || !strings.Contains(complaints, "--lines reads plans from standard input") {
			t.Errorf("%v: status %d, %q, %q", flags, status, out, complaints)
		}
	}
}
