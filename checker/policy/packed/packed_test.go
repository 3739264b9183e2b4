package packed

import (
	"errors"
	"math"
	"slices"
	"testing"
)

// TestRoundTrip holds that what is read is what was written, and that a file that
// was cut short anywhere is damaged.
func TestRoundTrip(t *testing.T) {
	numbers := []int{0, 1, -1, 63, 64, -64, -65, 1 << 20, math.MaxInt64, math.MinInt64}
	lists := [][]string{nil, {}, {""}, {"a", "Flügel", "\x00"}}
	var w Writer
	for _, n := range numbers {
		w.Int(n)
	}
	w.Bool(true)
	w.Bool(false)
	for _, list := range lists {
		w.Texts(list)
	}
	w.Text("end")
	read := func(file string) (ok bool, err error) {
		r := NewReader(file)
		ok = true
		for _, n := range numbers {
			ok = r.Int() == n && ok
		}
		ok = r.Bool() && !r.Bool() && ok
		for _, list := range lists {
			got := r.Texts()
			ok = slices.Equal(got, list) && (got == nil) == (list == nil) && ok
		}
		return r.Text() == "end" && ok, r.Err()
	}
	if ok, err := read(string(w.Bytes)); !ok || err != nil {
		t.Errorf("read otherwise than it was written: %v", err)
	}
	for n := range w.Bytes {
		if ok, err := read(string(w.Bytes[:n])); ok || !errors.Is(err, ErrDamaged) {
			t.Errorf("%d of %d bytes: %v", n, len(w.Bytes), err)
		}
	}
	if r := NewReader("\xff\xff\xff\xff\xff\xff\xff\xff\xff\xff\xff"); r.Int() != 0 || r.Err() == nil {
		t.Error("a number without an end was read")
	}
}
