package facts_test

import (
	"fmt"
	"testing"
)

// A loop that comes home carries its whole load on its own run: both lamps of
// 5 VA at less than 12 V, whatever the ids of its legs. One that ends at
// another power unit is named with the run it belongs to.
func TestLoopComesHome(t *testing.T) {
	plan := func(back string) string {
		return sketch(
			`"transformers": [{"id": "T1", "type": "T300"}, {"id": "T2", "type": "T300"}]`,
			fmt.Sprintf(`"runs": [{"id": "zed", "from": {"transformer": "T1", "common": 1, "tap": "12 V"}, "cable": "12/2", "legs": [
				{"id": "a1", "from": "T1", "to": "P1", "length": "30 ft"},
				{"id": "a2", "from": "P1", "to": "P2", "length": "30 ft"},
				{"id": "a3", "from": "P2", "to": "%[1]s", "length": "30 ft",
					"returns": {"transformer": "%[1]s", "common": 1, "tap": "12 V", "conductor": "same"}}]}]`, back),
			`"fixtures": [{"id": "P1", "type": "lamp"}, {"id": "P2", "type": "lamp"}]`)
	}
	doc := computeWith(t, nil, plan("T1"))
	if len(doc.Misfeeds) != 0 || len(doc.Runs) != 1 {
		t.Fatalf("%+v %+v", doc.Misfeeds, doc.Runs)
	}
	if r := doc.Runs[0]; len(r.Lamps) != 2 || r.Amps < 10/12.0 || r.Amps > 10/11.0 {
		t.Errorf("%+v", r)
	}
	doc = computeWith(t, nil, plan("T2"))
	if len(doc.Misfeeds) != 1 || doc.Misfeeds[0].ID != "a3" || len(doc.Misfeeds[0].Runs) != 1 || doc.Misfeeds[0].Runs[0] != "zed" {
		t.Errorf("%+v", doc.Misfeeds)
	}
}
