package plan

import (
	"encoding/json"
	"errors"
	"fmt"
)

// Quantity is a number as written: a bare number (in the plan's own unit, or
// in the one unit its field states) or a string with a unit.
type Quantity struct {
	Set     bool
	Numeric bool
	Number  float64
	Text    string
}

var errNotQuantity = errors.New("want a number, or a string with a number and a unit")

// take takes a JSON number or string.
func (q *Quantity) take(from any) (err error) {
	switch v := from.(type) {
	case string:
		*q = Quantity{Set: true, Text: v}
	case json.Number:
		*q = Quantity{Set: true, Numeric: true}
		q.Number, err = numberOf(v)
	default:
		return errNotQuantity
	}
	return err
}

// GroupLevel is one group of a scene, with its level: "steps", or
// {"group": "steps", "level": "40 %"}.
type GroupLevel struct {
	Group string   `json:"group"`
	Level Quantity `json:"level"`
}

// take takes a group's name or an object.
func (g *GroupLevel) take(from any) error {
	if name, ok := from.(string); ok {
		g.Group = name
		return nil
	}
	type plain GroupLevel
	return take((*plain)(g), from)
}

// Position is a place on the plan in one of the ways a person measures one:
// [x, y]; two tapes from known points; station, offset and side along a path;
// or a tread of a stair.
type Position struct {
	Set   bool        `json:"-"`
	X, Y  Quantity    `json:"-"` // [x, y]
	Tapes []TapeEntry `json:"tapes"`
	Side  string      `json:"side"`  // left | right: of the line from first to second tape, or of the path
	Along string      `json:"along"` // a path
	At    Quantity    `json:"station"`
	Off   Quantity    `json:"offset"` // from the path's edge, away from it; negative is on the path
	Of    string      `json:"of"`     // a stair
	Tread int         `json:"tread"`  // 1 is the lowest
	Place Quantity    `json:"across"` // from the left edge going up; absent means the middle
}

// TapeEntry is one tape measure: how far from a known point.
type TapeEntry struct {
	From     TapePoint `json:"from"`
	Distance Quantity  `json:"distance"`
}

// TapePoint is [x, y] or the id of an element that has a position.
type TapePoint struct {
	ID   string
	X, Y Quantity
}

// take takes an id or [x, y].
func (p *TapePoint) take(from any) error {
	if id, ok := from.(string); ok {
		p.ID = id
		return nil
	}
	return takePair(from, &p.X, &p.Y)
}

// take takes any of the four ways.
func (p *Position) take(from any) error {
	p.Set = true
	if _, ok := from.([]any); ok {
		return takePair(from, &p.X, &p.Y)
	}
	type plain Position
	return take((*plain)(p), from)
}

// takePair takes [x, y].
func takePair(from any, x, y *Quantity) error {
	list, ok := from.([]any)
	if !ok {
		return cannotStand(from)
	}
	for i := range list {
		var number Quantity
		if err := number.take(list[i]); err != nil {
			return below(i, err)
		}
		*x, *y = *y, number
	}
	if len(list) != 2 {
		return fmt.Errorf("want [x, y], have %d numbers", len(list))
	}
	return nil
}
