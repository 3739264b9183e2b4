// Package packed writes numbers and texts one after the other, and reads them
// back without copying a text.
package packed

import (
	"encoding/binary"
	"errors"
)

// ErrDamaged means that what was read is not what a [Writer] wrote.
var ErrDamaged = errors.New("the packed file is damaged")

// Writer collects what is written. Its zero value is ready.
type Writer struct{ Bytes []byte }

// Int writes a number.
func (w *Writer) Int(n int) { w.Bytes = binary.AppendVarint(w.Bytes, int64(n)) }

// Bool writes a truth.
func (w *Writer) Bool(b bool) {
	n := 0
	if b {
		n = 1
	}
	w.Int(n)
}

// Text writes a text.
func (w *Writer) Text(text string) {
	w.Int(len(text))
	w.Bytes = append(w.Bytes, text...)
}

// Texts writes a list of texts, which may be nil.
func (w *Writer) Texts(texts []string) {
	w.Bool(texts != nil)
	if texts == nil {
		return
	}
	w.Int(len(texts))
	for _, text := range texts {
		w.Text(text)
	}
}

// Reader reads what a Writer wrote, in the same order. After the first mistake
// all that it reads is empty.
type Reader struct {
	rest    string
	damaged bool
}

// NewReader begins to read.
func NewReader(file string) *Reader { return &Reader{rest: file} }

// Err returns [ErrDamaged] after a mistake.
func (r *Reader) Err() error {
	if r.damaged {
		return ErrDamaged
	}
	return nil
}

// fail makes all that follows empty.
func (r *Reader) fail() { r.damaged, r.rest = true, "" }

// Int reads a number.
func (r *Reader) Int() int {
	var n uint64
	for i := 0; i < len(r.rest) && i < binary.MaxVarintLen64; i++ {
		b := r.rest[i]
		n |= uint64(b&0x7f) << (7 * i)
		if b < 0x80 {
			r.rest = r.rest[i+1:]
			return int(int64(n>>1) ^ -int64(n&1))
		}
	}
	r.fail()
	return 0
}

// Count reads how many things follow, each of at least one byte.
func (r *Reader) Count() int {
	n := r.Int()
	if n < 0 || n > len(r.rest) {
		r.fail()
		return 0
	}
	return n
}

// Bool reads a truth.
func (r *Reader) Bool() bool { return r.Int() != 0 }

// Text reads a text, which shares the file's memory.
func (r *Reader) Text() string {
	n := r.Count()
	text := r.rest[:n]
	r.rest = r.rest[n:]
	return text
}

// Texts reads a list of texts.
func (r *Reader) Texts() []string {
	if !r.Bool() {
		return nil
	}
	texts := make([]string, r.Count())
	for i := range texts {
		texts[i] = r.Text()
	}
	return texts
}
