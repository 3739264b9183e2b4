package facts

import (
	"context"
	"errors"
	"testing"
)

// TestSideBySide holds what the caller sees of rows that run at the same time: the
// error of the first row that has one, no step after an error, and any panic.
func TestSideBySide(t *testing.T) {
	first, second := errors.New("first"), errors.New("second")
	fails := func(err error) lightStep { return func(context.Context, *lighting) error { return err } }
	ran := false
	notes := func(context.Context, *lighting) error { ran = true; return nil }
	if err := sideBySide(t.Context(), nil, []lightStep{fails(nil), notes}, []lightStep{fails(nil)}); err != nil || !ran {
		t.Errorf("rows without an error: %v, all steps ran: %t", err, ran)
	}
	ran = false
	if err := sideBySide(t.Context(), nil, []lightStep{fails(nil)}, []lightStep{fails(second), notes}); !errors.Is(err, second) || ran {
		t.Errorf("an error in the second row: %v, a step after it ran: %t", err, ran)
	}
	if err := sideBySide(t.Context(), nil, []lightStep{fails(first)}, []lightStep{fails(second)}); !errors.Is(err, first) {
		t.Errorf("errors in both rows: %v", err)
	}
	for row := range 2 {
		rows := [][]lightStep{{fails(nil)}, {fails(nil)}}
		rows[row] = []lightStep{func(context.Context, *lighting) error { panic("of the test") }}
		func() {
			defer func() {
				if cause := recover(); cause != "of the test" {
					t.Errorf("a panic in row %d came out as %v", row, cause)
				}
			}()
			_ = sideBySide(t.Context(), nil, rows...)
		}()
	}
}
