package light

import (
	"bytes"
	"errors"
	"math"
	"strings"
	"testing"
)

// FuzzReadLM63 holds for any bytes: an error is a FileError with a position, and
// what was read can be written, read back and evaluated.
func FuzzReadLM63(f *testing.F) {
	for _, name := range samples(f) {
		f.Add(sample(f, name))
	}
	f.Add([]byte(goodFile))
	for _, d := range damagedFiles() {
		f.Add([]byte(strings.Replace(goodFile, d.old, d.new, 1)))
	}
	f.Fuzz(func(t *testing.T, data []byte) {
		p, err := ReadLM63(data)
		if err != nil {
			var fe *FileError
			if !errors.As(err, &fe) || fe.Line < 1 || fe.Column < 1 || fe.Message == "" {
				t.Fatalf("error without a position: %v", err)
			}
			return
		}
		d, err := p.Distribution()
		if err != nil {
			t.Fatalf("read but gives no distribution: %v", err)
		}
		peak, dir := d.Peak()
		for _, v := range append(lightAt()[:40], dir) {
			if cd := d.PerLumen(v); !(cd >= 0) || cd > peak*(1+1e-9) {
				t.Fatalf("%g cd/lm toward %v, peak %g", cd, v, peak)
			}
		}
		if o := p.Opening(); o.LengthM < 0 || o.WidthM < 0 || o.HeightM < 0 || math.IsNaN(o.extent()) {
			t.Fatalf("opening %+v", o)
		}
		if len(p.Labels) > 0 {
			return // free text of 1986 may hold a header or tabs that are cut
		}
		again, err := ReadLM63(WriteLM63(p))
		if err != nil {
			t.Fatalf("written but not read: %v\n%s", err, bytes.ToValidUTF8(WriteLM63(p), []byte("?")))
		}
		if len(again.Candela) != len(p.Candela) {
			t.Fatalf("%d planes became %d", len(p.Candela), len(again.Candela))
		}
		p.Unfold()
	})
}
