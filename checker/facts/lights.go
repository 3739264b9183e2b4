package facts

import (
	"crypto/sha256"
	"io"

	"duskproof/checker/light"
)

// Lights is the light of fixture types, kept from one plan for all others: built-in
// shapes, and photometric files by what is in them. Facts are the same with it as
// without. It is safe for concurrent use, and bounded.
type Lights struct {
	shapes *store[*light.Shape]
	files  *store[*fileLight]
}

// Bounds on the lights that are kept. A light takes about 70 kB, a file of the
// largest size that is kept three times that.
const (
	mostShapes      = 64
	mostFiles       = 32
	largestKeptFile = 64 << 10
)

// NewLights returns a store that is empty.
func NewLights() *Lights {
	return &Lights{shapes: newStore[*light.Shape](mostShapes), files: newStore[*fileLight](mostFiles)}
}

// shape makes a built-in shape, or finds it, with what it keeps of its own. A
// nil store keeps nothing.
func (l *Lights) shape(name string, angle float64) (*light.Shape, error) {
	if l == nil {
		return light.NewShape(name, angle)
	}
	var id key
	h := sha256.New()
	_, _ = io.WriteString(h, name) // a hash takes everything
	writeFloats(h, angle)
	h.Sum(id[:0])
	return l.shapes.get(id, func() (*light.Shape, error) { return light.NewShape(name, angle) })
}

// fileLight is the light of a photometric file.
type fileLight struct {
	*light.Photometry
	light *light.Table
	turns bool // see lightKind
	flux  light.FluxCheck
	rated float64 // lumens to give its lamps
}

// file reads a photometric file, or finds it read.
func (l *Lights) file(data []byte) (*fileLight, error) {
	if l == nil || len(data) > largestKeptFile {
		return readLight(data)
	}
	return l.files.get(sha256.Sum256(data), func() (*fileLight, error) { return readLight(data) })
}

func readLight(data []byte) (*fileLight, error) {
	p, err := light.ReadLM63(data)
	if err != nil {
		return nil, err
	}
	d, err := p.Distribution()
	if err != nil {
		return nil, err
	}
	return &fileLight{Photometry: p, light: d, turns: turns(d), flux: p.Flux(), rated: p.RatedLumens()}, nil
}
