package facts_test

import (
	"fmt"
	"testing"

	"duskproof/checker/facts"
)

func line(o facts.TakeOff) string {
	amount := func(v float64) string {
		if o.Unit == "m" {
			return feet(v) + " ft"
		}
		return fmt.Sprintf("%g", v)
	}
	out := fmt.Sprintf("%s %s %s", o.What, o.ID, amount(o.Needed))
	if o.Bought != nil {
		out += " of " + amount(*o.Bought)
	}
	if o.Unmeasured > 0 {
		out += fmt.Sprintf(" and %d unmeasured", o.Unmeasured)
	}
	return fmt.Sprintf("%s [%d]", out, o.Index)
}

// Cable: 40 ft and 20 ft of 12/2 with 2 ft of slack at P1 on both legs and 3 ft
// on w2 itself, so 67 ft; the third leg, of 10/2, has no length. Sleeve: 12 ft
// under the drive of w1, and the 20 ft of w2. Connectors: at P1 two legs meet,
// at n two legs, at P2 one; one for each pole, but a hub block takes both.
func TestTakeOff(t *testing.T) {
	network := `"transformers": [{"id": "T1", "type": "T300", "at": [0, 0]}],
	  "fixtures": [` + lampAt("P1", "lamp", 40, 0, `, "connector": "lug", "slack": 2`) + `, {"id": "P2", "type": "leaded", "connector": "lug"}],
	  "runs": [{"id": "R1", "from": {"transformer": "T1"}, "cable": "12/2", "nodes": [{"id": "n", "at": [60, 0], "connector": "hub-block"}], "legs": [
	    {"id": "w1", "from": "T1", "to": "P1", "method": "buried", "sleeve": {"material": "pvc", "size": "1 in", "where": "crossings"}},
	    {"id": "w2", "from": "P1", "to": "n", "slack": 3, "method": "buried", "sleeve": {"material": "pvc", "size": "1 in"}},
	    {"id": "w3", "from": "n", "to": "P2", "cable": "10/2"}]}]`
	site := `"site": {"drives": [{"id": "drive", "kind": "home", "surface": "asphalt", "outline": ` + box(10, -5, 22, 5) + `}]}`
	doc := compute(t, sketch(network, site))
	want := "cable 10/2 0.00 ft and 1 unmeasured [-1]; cable 12/2 67.00 ft [-1]; connector hub-block 1 [-1]; connector lug 4 [-1]; " +
		"fixture lamp 1 [-1]; fixture leaded 1 [-1]; sleeve 1 in 32.00 ft [-1]; transformer T300 1 [-1]"
	if got := words(doc.TakeOff, line); got != want {
		t.Errorf("nothing bought: %s, by hand\n%s", got, want)
	}

	doc = compute(t, sketch(network, site, `"take_off": [
	  {"cable": "12/2", "bought": "50 ft"}, {"sleeve": "2 in", "bought": 10}, {"cable": "12/2", "bought": 20}, {"connector": "lug", "bought": 3}]`))
	want = "cable 10/2 0.00 ft of 0.00 ft and 1 unmeasured [-1]; cable 12/2 67.00 ft of 70.00 ft [0]; connector hub-block 1 of 0 [-1]; connector lug 4 of 3 [3]; " +
		"fixture lamp 1 [-1]; fixture leaded 1 [-1]; sleeve 1 in 32.00 ft of 0.00 ft [-1]; sleeve 2 in 0.00 ft of 10.00 ft [1]; transformer T300 1 [-1]"
	if got := words(doc.TakeOff, line); got != want {
		t.Errorf("some bought: %s, by hand\n%s", got, want)
	}
}

// Six leads and a cable meet at a hub of lugs that take four each: 7 conductors
// need k lugs with 2k + 2 places left over for them, so 3, for each of two
// poles.
func TestConnectorsOfAHub(t *testing.T) {
	legs, fixtures := `{"id": "w0", "from": "T1", "to": "h", "length": 10}`, ""
	for i := 1; i <= 6; i++ {
		legs += fmt.Sprintf(`, {"id": "w%d", "from": "h", "to": "P%d", "length": 5}`, i, i)
		if i > 1 {
			fixtures += ", "
		}
		fixtures += fmt.Sprintf(`{"id": "P%d", "type": "lamp"}`, i)
	}
	doc := compute(t, sketch(`"transformers": [{"id": "T1", "type": "T300"}], "fixtures": [`+fixtures+`],
	  "runs": [{"id": "R1", "from": {"transformer": "T1"}, "cable": "12/2", "nodes": [{"id": "h", "kind": "hub", "connector": "lug"}], "legs": [`+legs+`]}]`))
	want := "cable 12/2 40.00 ft [-1]; connector lug 6 [-1]; fixture lamp 6 [-1]; transformer T300 1 [-1]"
	if got := words(doc.TakeOff, line); got != want {
		t.Errorf("%s, by hand\n%s", got, want)
	}
}
