package plan

import (
	"encoding/json"
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

// UnmarshalJSON takes a JSON number or string.
func (q *Quantity) UnmarshalJSON(data []byte) error {
	*q = Quantity{Set: true}
	if len(data) > 0 && data[0] == '"' {
		return json.Unmarshal(data, &q.Text)
	}
	q.Numeric = true
	if err := json.Unmarshal(data, &q.Number); err != nil {
		return fmt.Errorf("quantity: %w", err)
	}
	return nil
}

// GroupLevel is one group of a scene, with its level: "steps", or
// {"group": "steps", "level": "40 %"}.
type GroupLevel struct {
	Group string   `json:"group"`
	Level Quantity `json:"level"`
}

// UnmarshalJSON takes a group's name or an object.
func (g *GroupLevel) UnmarshalJSON(data []byte) error {
	if len(data) > 0 && data[0] == '"' {
		*g = GroupLevel{}
		return json.Unmarshal(data, &g.Group)
	}
	type plain GroupLevel
	return json.Unmarshal(data, (*plain)(g))
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

// UnmarshalJSON takes an id or [x, y].
func (p *TapePoint) UnmarshalJSON(data []byte) error {
	if len(data) > 0 && data[0] == '"' {
		return json.Unmarshal(data, &p.ID)
	}
	return unmarshalPair(data, &p.X, &p.Y)
}

// UnmarshalJSON takes any of the four ways.
func (p *Position) UnmarshalJSON(data []byte) error {
	*p = Position{Set: true}
	if len(data) > 0 && data[0] == '[' {
		return unmarshalPair(data, &p.X, &p.Y)
	}
	type plain Position
	return json.Unmarshal(data, (*plain)(p))
}

func unmarshalPair(data []byte, x, y *Quantity) error {
	var pair []Quantity
	if err := json.Unmarshal(data, &pair); err != nil {
		return fmt.Errorf("position: %w", err)
	}
	if len(pair) != 2 {
		return fmt.Errorf("position: want [x, y], have %d numbers", len(pair))
	}
	*x, *y = pair[0], pair[1]
	return nil
}
