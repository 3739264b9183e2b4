package machine

import (
	"encoding/json"
	"math"
	"math/big"
	"math/rand/v2"
	"strconv"
	"testing"
	"time"
)

type inner struct {
	ID    string   `json:"id"`
	Volts *float64 `json:"volts,omitempty"`
	On    *bool    `json:"on"`
}

type every struct {
	Text    string            `json:"text"`
	Empty   string            `json:"empty,omitempty"`
	Number  float64           `json:"number"`
	Zero    float64           `json:"zero,omitempty"`
	Count   int               `json:"count"`
	Size    uint16            `json:"size"`
	Yes     bool              `json:"yes"`
	List    []inner           `json:"list"`
	None    []string          `json:"none"`
	NoneTo  []string          `json:"none_to,omitempty"`
	Fixed   [2]int            `json:"fixed"`
	Map     map[string]any    `json:"map"`
	NoMap   map[string]string `json:"no_map"`
	Inner   inner             `json:"inner,omitempty"`
	Point   *inner            `json:"point"`
	Any     any               `json:"any"`
	Hidden  string            `json:"-"`
	private string
}

// TestConvert holds that a value is converted to what encoding/json and the
// reader of JSON text make of it.
func TestConvert(t *testing.T) {
	volts, on := 10.8, false
	values := []any{
		every{}, &every{},
		every{
			Text: "Flügel \x00 <&> \u2028", Number: 1.0 / 3, Count: -3, Size: 65535, Yes: true,
			List: []inner{{ID: "A", Volts: &volts, On: &on}, {ID: "A"}}, None: []string{}, NoneTo: []string{"x"}, Fixed: [2]int{1, 2},
			Map: map[string]any{"a": 1, "b": []any{nil, "c", 2.5}, "d": map[string]any{}}, NoMap: map[string]string{"k": "v"},
			Point: &inner{ID: "P"}, Any: every{Text: "deep"}, Hidden: "h", private: "p",
		},
		map[string]float64{"a": 0, "b": -0.5, "c": 1e21, "d": 1e-9, "e": 123456789.123456789, "f": 6, "g": math.MaxFloat64},
	}
	for i, value := range values {
		converted, ok := Convert(value, 1)
		besides, also := Convert(value, 3)
		if !ok || !also || Compare(converted, besides) != 0 {
			t.Errorf("%d: not converted, or otherwise side by side: %v", i, besides)
			continue
		}
		text, err := json.Marshal(value)
		if err != nil {
			t.Fatal(err)
		}
		read, err := FromJSON(text)
		if err != nil {
			t.Fatal(err)
		}
		if Compare(converted, read) != 0 {
			t.Errorf("%d: converted %v\nread %v", i, converted, read)
		}
	}
}

type embedding struct {
	inner
	More string
}

// TestConvertLeft holds that what only encoding/json can write is left to it.
func TestConvertLeft(t *testing.T) {
	type quoted struct {
		N int `json:"n,string"`
	}
	for _, value := range []any{
		time.Unix(0, 0), big.NewInt(3), float32(0.1), embedding{}, quoted{1}, map[int]string{1: "a"},
		map[string]any{"bytes": []byte("abc")}, map[string]any{"raw": json.RawMessage(`{"a":1}`)},
	} {
		if converted, ok := Convert(value, 1); ok {
			t.Errorf("%T was converted to %v", value, converted)
		}
	}
}

// TestRounded holds that numbers are rounded as they are when they are written with
// twelve digits and read again (strconv is the general-purpose library).
func TestRounded(t *testing.T) {
	random := rand.New(rand.NewPCG(1, 2))
	numbers := []float64{0, math.Copysign(0, -1), 1, -1, 0.1, 9.9999999999995, 99.99999999999951, 999999999999.5, 1e12, 1e15, 5e-324, math.MaxFloat64, 0.1524, 2147483648.25}
	for range 200000 {
		f := math.Float64frombits(random.Uint64())
		numbers = append(numbers, (random.Float64()-0.5)*math.Pow(10, float64(random.IntN(26)-11)), math.Round(random.Float64()*1e6)/1e4)
		if !math.IsNaN(f) && !math.IsInf(f, 0) {
			numbers = append(numbers, f)
		}
	}
	for before := range 12 { // the neighbourhood of ties and of powers of ten
		for range 2000 {
			units := math.Trunc(random.Float64()*1e12) + 0.5 + (random.Float64()-0.5)*4e-3
			numbers = append(numbers, units/math.Pow(10, float64(before)), math.Nextafter(powers[before], 0))
		}
	}
	for _, f := range numbers {
		want, err := strconv.ParseFloat(strconv.FormatFloat(f, 'g', factDigits, 64), 64)
		if got := rounded(f); err != nil || got != want {
			t.Fatalf("%v is rounded to %v, want %v", f, got, want)
		}
	}
}
