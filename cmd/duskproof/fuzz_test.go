package main

import (
	"bytes"
	"encoding/json"
	"os"
	"path/filepath"
	"testing"

	"duskproof/checker/plan"
	"duskproof/checker/source"
)

// FuzzSheet holds that no sheet of readings breaks its reader: it is refused, or
// what it says goes into the plan as strict JSON that still decodes.
func FuzzSheet(f *testing.F) {
	folder := filepath.Join(plansFolder, "tern-cottage")
	text, err := os.ReadFile(filepath.Join(plansFolder, "format", "ten-lines.lighting.json"))
	if err != nil {
		f.Fatal(err)
	}
	filled, err := os.ReadFile(filepath.Join(folder, "second-visit.csv"))
	if err != nil {
		f.Fatal(err)
	}
	for _, sheet := range []string{string(filled), "", "at,volts\nL1,11.9 V\n", "at;volts\nL1;11,9\n", "# note\nat,amps,common\nT1,4.2 A,2\n",
		"at,volts\n\"L1,11", "at,volts\nL1,NaN\n", "at,volts,volts\nL1,-1e400,1\n", "\ufeffat,volts\r\nL1,12\r\n", "at,common,amps\nT1,x,1\n"} {
		f.Add([]byte(sheet))
	}
	f.Fuzz(func(t *testing.T, sheet []byte) {
		values, err := readSheet("sheet.csv", bytes.NewReader(sheet))
		if err != nil || len(values) == 0 {
			return
		}
		whole, err := (&readingsCommand{}).withReadings(text, day, values)
		if err != nil {
			t.Fatalf("a sheet that was read is not added: %v", err)
		}
		doc, problems := source.Parse("plan", whole, source.Limits{})
		if doc == nil {
			t.Fatalf("the plan is broken: %v", problems)
		}
		if _, err := plan.Decode(whole); err != nil {
			t.Fatalf("the plan does not decode: %v", err)
		}
		if !json.Valid(whole) {
			t.Fatal("the plan is no JSON")
		}
	})
}
