package main

import (
	"encoding/csv"
	"encoding/json"
	"os"
	"path/filepath"
	"slices"
	"strings"
	"testing"

	"duskproof/checker/takeoff"
)

const scheduleFolder = "../../testdata/schedule"

// schedule runs the command on a plan and expects it to succeed.
func schedule(t *testing.T, plan string, args ...string) string {
	t.Helper()
	status, out, complaints := command(t, "", append([]string{"schedule", "--today", day, plan}, args...)...)
	if status != exitFine || complaints != "" {
		t.Fatalf("%s %v: status %d, %s", plan, args, status, complaints)
	}
	return out
}

// TestSchedulesOfTernCottage holds every table in every form, and that none
// changes from run to run.
func TestSchedulesOfTernCottage(t *testing.T) {
	for name, args := range map[string][]string{
		"tern-cottage.text":              nil,
		"tern-cottage.csv":               {"--as", "csv"},
		"tern-cottage.json":              {"--as", "json"},
		"tern-cottage.commissioning.csv": {"--as", "csv", "--table", "commissioning"},
	} {
		out := schedule(t, issuedPlan(), args...)
		golden(t, filepath.Join(scheduleFolder, name), out)
		if again := schedule(t, issuedPlan(), args...); again != out {
			t.Errorf("%s: two runs differ", name)
		}
	}
}

// sheetRows reads the commissioning sheet of a plan.
func sheetRows(t *testing.T, plan string) (header []string, rows [][]string) {
	t.Helper()
	all, err := csv.NewReader(strings.NewReader(schedule(t, plan, "--as", "csv", "--table", "commissioning"))).ReadAll()
	if err != nil || len(all) < 2 {
		t.Fatalf("%d rows, %v", len(all), err)
	}
	return all[0], all[1:]
}

// filled writes a sheet whose volts and amps are what the meter is said to show
// for what is expected, and reads it back with the readings command.
func filled(t *testing.T, plan string, header []string, rows [][]string, meter func(at, quantity, expected string) string) (int, string) {
	t.Helper()
	column := map[string]int{}
	for i, name := range header {
		column[name] = i
	}
	out := &strings.Builder{}
	out.WriteString("# filled in on the first night\n")
	w := csv.NewWriter(out)
	_ = w.Write(header)
	for _, row := range rows {
		row = slices.Clone(row)
		for _, quantity := range []string{"volts", "amps"} {
			row[column[quantity]] = meter(row[column["at"]], quantity, row[column["expected_"+quantity]])
		}
		_ = w.Write(row)
	}
	w.Flush()
	name := filepath.Join(t.TempDir(), "sheet.csv")
	if err := os.WriteFile(name, []byte(out.String()), 0o600); err != nil {
		t.Fatal(err)
	}
	status, printed, complaints := command(t, "", "readings", "--today", day, plan, "--from", name)
	return status, printed + complaints
}

// TestSheetComesBack holds that the commissioning sheet, filled in, is what the
// readings command reads: as expected everywhere it finds nothing, with one lamp
// 2 V low it finds that lamp, and empty it says so.
func TestSheetComesBack(t *testing.T) {
	header, rows := sheetRows(t, issuedPlan())
	asExpected := func(_, _, expected string) string { return expected }
	status, out := filled(t, issuedPlan(), header, rows, asExpected)
	if status != exitFine || strings.Contains(out, "<- off") || strings.Count(out, "reads as computed") != 2 {
		t.Errorf("status %d, as expected everywhere:\n%s", status, out)
	}
	if volts, amps := strings.Count(out, " volts "), strings.Count(out, " amps "); volts != 33 || amps != 3 {
		t.Errorf("%d volts and %d amps came back, want 33 lamps and 3 commons", volts, amps)
	}
	_, out = filled(t, issuedPlan(), header, rows, func(at, _, expected string) string {
		if at == "P5" {
			return "9.70"
		}
		return expected
	})
	if !strings.Contains(out, "<- off") || !strings.Contains(out, "P5") {
		t.Errorf("P5 is 2 V low:\n%s", out)
	}
	status, out = filled(t, issuedPlan(), header, rows, func(string, string, string) string { return "" })
	if status != exitUnusable || !strings.Contains(out, "has no readings yet") {
		t.Errorf("status %d, an empty sheet: %s", status, out)
	}
}

// TestSchedulesOfAnyPlan holds that a plan with only wiring, a looped one, one in
// metres and one whose load has no answer have schedules in every form.
func TestSchedulesOfAnyPlan(t *testing.T) {
	for _, name := range []string{"good/wiring-only", "good/looped", "good/iec-courtyard", "good/survey", "too-far", "format/ten-lines"} {
		plan := filepath.Join(plansFolder, name+".lighting.json")
		text := schedule(t, plan)
		if !strings.Contains(text, "not an approval") {
			t.Errorf("%s: the text is not whole", name)
		}
		if name == "too-far" && (!strings.Contains(text, "no answer") || !strings.Contains(text, "cannot carry")) {
			t.Errorf("a run without an answer does not say so:\n%s", text)
		}
		if strings.HasPrefix(name, "good/iec") || strings.HasPrefix(name, "good/loop") {
			continue // only their text is of another kind
		}
		schedule(t, plan, "--as", "csv")
		if data := schedule(t, plan, "--as", "json"); !json.Valid([]byte(data)) || strings.Contains(data, "null") {
			t.Errorf("%s: the JSON is not whole", name)
		}
	}
}

// TestHostileScheduleWords gives a plan names that mean harm to terminals and
// spreadsheets.
func TestHostileScheduleWords(t *testing.T) {
	text := string(read(t, issuedPlan()))
	for old, fresh := range map[string]string{
		`"Tern Cottage, lane to terrace (invented site)"`: `"\u001b]0;owned\u0007 \u202e (invented site)"`,
		`"title": "walk"`:                        `"title": "=HYPERLINK(A1)"`,
		`"title": "hawthorn"`:                    `"title": "+1\u001b[2J"`,
		`"title": "louvred step light, 1 W LED"`: `"title": "@SUM(A1:A9), \"quoted\""`,
		`"title": "bronze spot, 20 W halogen"`:   `"title": "-2+3"`,
	} {
		if !strings.Contains(text, old) {
			t.Fatalf("the demo has no %s", old)
		}
		text = strings.Replace(text, old, fresh, 1)
	}
	folder := t.TempDir()
	for name, data := range map[string][]byte{"p.lighting.json": []byte(text), "stone-spot.ies": read(t, filepath.Join(ternCottage, "stone-spot.ies"))} {
		if err := os.WriteFile(filepath.Join(folder, name), data, 0o600); err != nil {
			t.Fatal(err)
		}
	}
	plan := filepath.Join(folder, "p.lighting.json")
	for _, form := range []string{"text", "csv", "json"} {
		if out := schedule(t, plan, "--as", form); strings.ContainsAny(out, "\x1b\x07\u202e") {
			t.Errorf("%s lets a control through", form)
		}
	}
	for _, name := range []string{"runs", "fixtures", "lid", "commissioning"} {
		rows, err := csv.NewReader(strings.NewReader(schedule(t, plan, "--as", "csv", "--table", name))).ReadAll()
		if err != nil {
			t.Fatalf("%s: %v", name, err)
		}
		for _, row := range rows {
			for _, cell := range row {
				if cell != "" && strings.ContainsAny(cell[:1], "=+-@\t\r") {
					t.Errorf("%s: a spreadsheet takes %q for a formula", name, cell)
				}
			}
		}
	}
}

// TestScheduleFlags holds what the command refuses.
func TestScheduleFlags(t *testing.T) {
	for _, args := range [][]string{{"--table", "nothing"}, {"--as", "pdf"}, {"missing.lighting.json"}} {
		if status, _, complaints := command(t, "", append([]string{"schedule", "--today", day, issuedPlan()}, args...)...); status != exitUnusable || complaints == "" {
			t.Errorf("%v: status %d, %q", args, status, complaints)
		}
	}
}

// TestSchedulesPage holds docs/schedules.md to what the command has and prints.
func TestSchedulesPage(t *testing.T) {
	page := string(read(t, "../../docs/schedules.md"))
	for _, name := range takeoff.TableNames() {
		if strings.Count(page, "\n| `"+name+"` | ") != 1 {
			t.Errorf("table %s is not listed once", name)
		}
	}
	_, shown, _ := strings.Cut(page, "\n$ duskproof schedule testdata/plans/tern-cottage/issued.lighting.json --table lid\n")
	shown, _, found := strings.Cut(shown, "\n```")
	if out := schedule(t, issuedPlan(), "--table", "lid"); !found || !strings.Contains(out, shown) {
		t.Errorf("the command prints other than the page shows:\n%s", out)
	}
}
