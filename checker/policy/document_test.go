package policy

import (
	"encoding/json"
	"fmt"
	"math"
	"testing"
)

type inner struct {
	ID string `json:"id"`
}

type embedding struct {
	inner
	More string
}

// TestDocumentOfAnything holds that a value that only encoding/json can write is
// read as what that writes.
func TestDocumentOfAnything(t *testing.T) {
	type quoted struct {
		N int `json:"n,string"`
	}
	for _, value := range []any{embedding{inner{ID: "A"}, "m"}, quoted{1}, map[string]any{"raw": json.RawMessage(`{"a":1}`)}} {
		text, _ := json.Marshal(value)
		want, err := NewDocument(text)
		if err != nil {
			t.Fatal(err)
		}
		got, err := NewDocument(value)
		if err != nil || fmt.Sprint(got.facts) != fmt.Sprint(want.facts) {
			t.Errorf("%T: got %v, want %v, %v", value, got.facts, want.facts, err)
		}
	}
	if _, err := NewDocument(map[string]float64{"a": math.NaN()}); err == nil {
		t.Error("a number that is none was taken")
	}
}
