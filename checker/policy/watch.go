package policy

import (
	"context"
	"runtime/debug"
	"runtime/metrics"
	"sync/atomic"
	"time"
)

// watchInterval is how often a running evaluation is looked at.
const watchInterval = 5 * time.Millisecond

// How an attempt can end.
type endKind int

const (
	completed endKind = iota
	failed
	ruleTooSlow
	outOfTime
	tooMuchMemory
	callerLeft
)

// ending says how an attempt ended and which rule was running then.
type ending struct {
	kind    endKind
	rule    string
	err     error
	crowded bool // other evaluations ran beside it
}

// innocent reports whether the rule may have been stopped for what others did: it
// is worth another attempt by itself.
func (e ending) innocent() bool {
	return (e.kind == tooMuchMemory || e.kind == ruleTooSlow) && e.crowded
}

// running counts the evaluations that are being watched.
var running atomic.Int64

// watch starts an evaluation in its own goroutine and stays until it ends or
// must be stopped.
func (a *attempt) watch(ctx context.Context, lonely bool) ending {
	if lonely {
		asked := time.Now()
		alone.Lock()
		defer alone.Unlock()
		debug.FreeOSMemory() // so that growth is measured from a clean start
		waited := time.Since(asked)
		a.run.began = a.run.began.Add(waited) // waiting is no time of the rules
	} else {
		alone.RLock()
		defer alone.RUnlock()
	}
	running.Add(1)
	defer running.Add(-1)
	done := make(chan error, 1)
	go func() { done <- a.evaluate() }()
	end, ended := a.wait(ctx, done)
	if ended {
		return end
	}
	a.cancel.Cancel()
	select {
	case <-done: //nolint:errcheck // what it answers is no longer wanted
	case <-time.After(a.run.program.limits.Grace):
		a.abandon(done)
	}
	return end
}

// abandon counts the evaluation as a runaway until it ends by itself.
func (a *attempt) abandon(done <-chan error) {
	runaways.Add(1)
	go func() {
		<-done //nolint:errcheck // what it answers is no longer wanted
		runaways.Add(-1)
	}()
}

// wait stays until the evaluation ends, or one of its limits is reached.
func (a *attempt) wait(ctx context.Context, done <-chan error) (end ending, ended bool) {
	tick := time.NewTicker(watchInterval)
	defer tick.Stop()
	meter := newMemoryMeter()
	crowded := false
	defer func() { end.crowded = crowded }()
	for {
		crowded = crowded || running.Load() > 1
		select {
		case err := <-done:
			return a.ended(err), true
		case <-ctx.Done():
			return ending{kind: callerLeft, rule: *a.current.Load(), err: ctx.Err()}, false
		case <-tick.C:
			if kind := a.overLimit(meter); kind != completed {
				return ending{kind: kind, rule: *a.current.Load()}, false
			}
		}
	}
}

// ended says how an evaluation that ended by itself ended.
func (a *attempt) ended(err error) ending {
	end := ending{rule: *a.current.Load(), err: err}
	if err != nil {
		end.kind = failed
	}
	return end
}

// overLimit returns which limit the running rule has passed, or completed.
func (a *attempt) overLimit(meter *memoryMeter) endKind {
	limits := a.run.program.limits
	now := time.Since(a.run.began)
	id := *a.current.Load()
	switch {
	case meter.growth(id) > limits.Memory:
		return tooMuchMemory
	case now > limits.Total:
		return outOfTime
	case now-time.Duration(a.since.Load()) > limits.Rule && id != "":
		return ruleTooSlow
	}
	return completed
}

// memoryMeter measures how far the heap has grown while one rule runs. The heap
// is that of the whole process.
type memoryMeter struct {
	sample []metrics.Sample
	rule   string
	base   uint64
}

func newMemoryMeter() *memoryMeter {
	m := &memoryMeter{sample: []metrics.Sample{{Name: "/memory/classes/heap/objects:bytes"}}}
	m.base = m.heap()
	return m
}

func (m *memoryMeter) heap() uint64 {
	metrics.Read(m.sample)
	return m.sample[0].Value.Uint64()
}

// growth returns by how many bytes the heap has grown since the rule was first
// seen running.
func (m *memoryMeter) growth(rule string) uint64 {
	now := m.heap()
	if rule != m.rule {
		m.rule, m.base = rule, min(now, m.base)
	}
	if now < m.base {
		m.base = now
	}
	return now - m.base
}
