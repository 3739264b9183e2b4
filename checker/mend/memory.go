package mend

import (
	"context"
	"crypto/sha256"
	"fmt"
	"sync"

	"duskproof/checker/finding"
)

// memory keeps the outcome of each text that was checked, so that two findings
// with one fix cost one check. It keeps the findings of them all, and the facts
// of those that may be wanted again.
type memory struct {
	mu    sync.Mutex
	known map[[sha256.Size]byte]*Outcome
	under *memory // what was known before; nil for none
}

func newMemory() *memory { return &memory{known: map[[sha256.Size]byte]*Outcome{}} }

// layer is a memory on top of another, so that searches side by side do not see
// what the others find meanwhile: what each finds, and spends, is then the same on
// every machine.
func (m *memory) layer() *memory {
	out := newMemory()
	out.under = m
	return out
}

// learn takes over what a layer knows.
func (m *memory) learn(layer *memory) {
	m.mu.Lock()
	defer m.mu.Unlock()
	for text, out := range layer.known {
		if old := m.known[text]; old == nil || old.Early != nil || old.Facts == nil && out.Facts != nil {
			m.known[text] = out
		}
	}
}

// recall returns what is known of a text, if that says how a target stands.
func (m *memory) recall(text []byte, target finding.Identity) (Outcome, bool) {
	m.mu.Lock()
	defer m.mu.Unlock()
	out := m.known[sha256.Sum256(text)]
	switch {
	case out != nil && (out.Early == nil || out.Early.Made[target]):
		return *out, true
	case m.under != nil:
		return m.under.recall(text, target)
	}
	return Outcome{}, false
}

// check checks a text, unless it is known already how the target stands there.
// fresh is true when it had to be checked. whole asks for the facts as well.
func (m *memory) check(ctx context.Context, recheck Recheck, text []byte, target finding.Identity, whole bool) (out Outcome, fresh bool, err error) {
	out, known := m.recall(text, target)
	if known && (!whole || out.Facts != nil || !out.Usable) {
		return out, false, nil
	}
	if out, err = recheck(ctx, text, target); err != nil {
		return out, true, fmt.Errorf("check a changed plan: %w", err)
	}
	m.mu.Lock()
	defer m.mu.Unlock()
	m.known[sha256.Sum256(text)] = &out
	return out, true, nil
}

// thin lets go of all but the findings of a text.
func (m *memory) thin(text []byte) {
	m.mu.Lock()
	defer m.mu.Unlock()
	if out := m.known[sha256.Sum256(text)]; out != nil && out.Facts != nil {
		m.known[sha256.Sum256(text)] = &Outcome{Usable: out.Usable, Early: out.Early, Findings: out.Findings}
	}
}
