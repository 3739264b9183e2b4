package main

import (
	"encoding/csv"
	"encoding/json"
	"os"
	"path/filepath"
	"strings"
	"testing"
)

// TestSheetComesBack prints the commissioning sheet as CSV, writes into it what
// it expects, and gives it to the readings command, which must find nothing
// wrong.
func TestSheetComesBack(t *testing.T) {
	status, out, complaints := command(t, "", "schedule", "--today", day, "--as", "csv", "--table", "commissioning", issuedPlan())
	if status != exitFine || complaints != "" {
		t.Fatalf("status %d, %s", status, complaints)
	}
	rows, err := csv.NewReader(strings.NewReader(out)).ReadAll()
	if err != nil {
		t.Fatal(err)
	}
	column := map[string]int{}
	for i, name := range rows[0] {
		column[name] = i
	}
	for _, row := range rows[1:] {
		quantity := "volts"
		if row[column["unit"]] == "A" {
			quantity = "amps"
		}
		row[column[quantity]] = row[column["expected"]]
	}
	name := filepath.Join(t.TempDir(), "sheet.csv")
	file, err := os.Create(name)
	if err != nil {
		t.Fatal(err)
	}
	writer := csv.NewWriter(file)
	if err := writer.WriteAll(rows); err != nil {
		t.Fatal(err)
	}
	file.Close()
	status, out, complaints = command(t, "", "readings", "--today", day, "--from", name, "--supply", "120", issuedPlan())
	if status != exitFine || complaints != "" || strings.Contains(out, "<- off") {
		t.Errorf("status %d, %s\n%s", status, complaints, out)
	}
	if n := strings.Count(out, "±"); n != len(rows)-1 {
		t.Errorf("%d readings were used, the sheet has %d", n, len(rows)-1)
	}
}

// TestScheduleForms holds the forms, the tables by name, and what is refused.
func TestScheduleForms(t *testing.T) {
	_, out, _ := command(t, "", "schedule", "--today", day, "--as", "json", draftPlan())
	var s struct{ Lamps, Legs, Transformers []any }
	if err := json.Unmarshal([]byte(out), &s); err != nil || len(s.Lamps) == 0 || len(s.Legs) == 0 || len(s.Transformers) == 0 {
		t.Errorf("%v: %d lamps, %d legs, %d transformers", err, len(s.Lamps), len(s.Legs), len(s.Transformers))
	}
	_, out, _ = command(t, "", "schedule", "--today", day, "--table", "one-line", draftPlan())
	if !strings.Contains(out, "One-line diagram of T1") || strings.Contains(out, "Commissioning") {
		t.Errorf("one-line diagrams alone: %.200s", out)
	}
	file := filepath.Join(t.TempDir(), "out.csv")
	if status, out, _ := command(t, "", "schedule", "--today", day, "--as", "csv", "--to", file, draftPlan()); status != exitFine || out != "" {
		t.Errorf("status %d, %q", status, out)
	}
	if text := string(read(t, file)); !strings.HasPrefix(text, "# Load of each transformer\n") {
		t.Errorf("the file begins %.60q", text)
	}
	for _, bad := range [][]string{{"--table", "nothing"}, {"--as", "pdf"}} {
		if status, _, complaints := command(t, "", append(append([]string{"schedule"}, bad...), draftPlan())...); status != exitUnusable {
			t.Errorf("%v: status %d, %s", bad, status, complaints)
		}
	}
	broken := filepath.Join(t.TempDir(), "broken.lighting.json")
	if err := os.WriteFile(broken, []byte(`{"format": "1.0"`), 0o644); err != nil {
		t.Fatal(err)
	}
	for _, name := range []string{"schedule", "draw"} {
		if status, _, complaints := command(t, "", name, "--today", day, broken); status != exitUnusable || !strings.Contains(complaints, "broken.lighting.json:1:") {
			t.Errorf("%s: status %d, %s", name, status, complaints)
		}
	}
}

// TestDrawCommand holds the layers and scenes by name, and what is refused.
func TestDrawCommand(t *testing.T) {
	status, out, complaints := command(t, "", "draw", "--today", day, "--layers", "light,volts", "--scene", "late", draftPlan())
	if status != exitFine || complaints != "" || !strings.Contains(out, "scene late") || !strings.Contains(out, "layer-volts") {
		t.Errorf("status %d, %s", status, complaints)
	}
	for _, bad := range [][]string{{"--layers", "smell"}, {"--scene", "never"}} {
		if status, _, complaints := command(t, "", append(append([]string{"draw"}, bad...), draftPlan())...); status != exitUnusable || !strings.Contains(complaints, bad[0]) {
			t.Errorf("%v: status %d, %s", bad, status, complaints)
		}
	}
	wiring := filepath.Join(t.TempDir(), "wiring.lighting.json")
	if err := os.WriteFile(wiring, []byte(`{"format": "1.0", "plan": {"title": "Invented"}, "units": "m"}`), 0o644); err != nil {
		t.Fatal(err)
	}
	if status, out, complaints := command(t, "", "draw", "--today", day, wiring); status != exitUnusable || out != "" || !strings.Contains(complaints, "no positions") {
		t.Errorf("status %d, %d bytes, %s", status, len(out), complaints)
	}
}
