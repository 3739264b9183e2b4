package facts_test

import (
	"bytes"
	"context"
	"encoding/json"
	"fmt"
	"os"
	"path/filepath"
	"testing"
	"testing/fstest"

	"duskproof/checker/facts"
	"duskproof/checker/plan"
)

// TestLightsKeptAreTheSame computes plans with lights that are kept from one to the
// next, and without: a file that changed under its name, or is faulty, is read anew.
func TestLightsKeptAreTheSame(t *testing.T) {
	const folder = "../../testdata/plans/tern-cottage"
	names, err := filepath.Glob(folder + "/*.lighting.json")
	if err != nil || len(names) == 0 {
		t.Fatal(names, err)
	}
	spot, err := os.ReadFile(folder + "/stone-spot.ies")
	if err != nil {
		t.Fatal(err)
	}
	dimmer := bytes.Replace(spot, []byte("560 525"), []byte("460 425"), 1)
	if bytes.Equal(dimmer, spot) {
		t.Fatal("the file of the test has other candela")
	}
	kept := facts.NewLights()
	seen := map[string]bool{}
	for _, file := range [][]byte{spot, dimmer, []byte("no file of light"), spot} {
		for _, name := range names {
			compute := func(lights *facts.Lights) []byte {
				text, err := os.ReadFile(name)
				if err != nil {
					t.Fatal(err)
				}
				document, err := plan.Decode(text)
				if err != nil {
					t.Fatal(err)
				}
				p, _ := plan.Resolve(document)
				doc, err := facts.Compute(context.Background(), facts.Input{Plan: p, Today: "2026-06-01", Lights: lights,
					Files: fstest.MapFS{"stone-spot.ies": &fstest.MapFile{Data: file}}})
				if err != nil {
					t.Fatal(err)
				}
				out, err := json.Marshal(doc)
				if err != nil {
					t.Fatal(err)
				}
				return out
			}
			want := compute(nil)
			if got := compute(kept); !bytes.Equal(got, want) {
				t.Errorf("%s: facts differ with lights that were kept", name)
			}
			seen[fmt.Sprintf("%s %x", name, want)] = true
		}
	}
	if len(seen) != 3*len(names) {
		t.Errorf("%d different facts from %d plans and three files: not tested", len(seen), len(names))
	}
}
