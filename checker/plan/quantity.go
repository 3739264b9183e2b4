package plan

import (
	"errors"
	"fmt"
	"strconv"

	"github.com/go-json-experiment/json"
	"github.com/go-json-experiment/json/jsontext"
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

// UnmarshalJSONFrom takes a JSON number or string.
func (q *Quantity) UnmarshalJSONFrom(dec *jsontext.Decoder) error {
	*q = Quantity{}
	kind := dec.PeekKind()
	if kind != '"' && kind != '0' {
		return refuse(dec, errNotQuantity)
	}
	token, err := dec.ReadToken()
	if err != nil {
		return err
	}
	if kind == '"' {
		*q = Quantity{Set: true, Text: token.String()}
		return nil
	}
	number, err := strconv.ParseFloat(token.String(), 64)
	if err != nil {
		return fmt.Errorf("%s is too large a number", token.String())
	}
	*q = Quantity{Set: true, Numeric: true, Number: number}
	return nil
}

// refuse reads past a value that cannot be taken and returns the reason, or
// what is wrong with the value's own syntax.
func refuse(dec *jsontext.Decoder, reason error) error {
	if err := dec.SkipValue(); err != nil {
		return err
	}
	return reason
}

// GroupLevel is one group of a scene, with its level: "steps", or
// {"group": "steps", "level": "40 %"}.
type GroupLevel struct {
	Group string   `json:"group"`
	Level Quantity `json:"level"`
}

// UnmarshalJSONFrom takes a group's name or an object.
func (g *GroupLevel) UnmarshalJSONFrom(dec *jsontext.Decoder) error {
	*g = GroupLevel{}
	if dec.PeekKind() == '"' {
		return json.UnmarshalDecode(dec, &g.Group)
	}
	type plain GroupLevel
	return json.UnmarshalDecode(dec, (*plain)(g))
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

// UnmarshalJSONFrom takes an id or [x, y].
func (p *TapePoint) UnmarshalJSONFrom(dec *jsontext.Decoder) error {
	*p = TapePoint{}
	if dec.PeekKind() == '"' {
		return json.UnmarshalDecode(dec, &p.ID)
	}
	return readPair(dec, &p.X, &p.Y)
}

// UnmarshalJSONFrom takes any of the four ways.
func (p *Position) UnmarshalJSONFrom(dec *jsontext.Decoder) error {
	*p = Position{Set: true}
	if dec.PeekKind() == '[' {
		return readPair(dec, &p.X, &p.Y)
	}
	type plain Position
	return json.UnmarshalDecode(dec, (*plain)(p))
}

func readPair(dec *jsontext.Decoder, x, y *Quantity) error {
	if dec.PeekKind() != '[' {
		if err := json.UnmarshalDecode(dec, new([]Quantity)); err != nil {
			return err // which says what cannot stand here
		}
		return errors.New("want [x, y], have 0 numbers")
	}
	if _, err := dec.ReadToken(); err != nil {
		return err
	}
	count := 0
	for ; dec.PeekKind() != ']'; count++ {
		var number Quantity
		if err := number.UnmarshalJSONFrom(dec); err != nil {
			return within(dec, err)
		}
		*x, *y = *y, number
	}
	if _, err := dec.ReadToken(); err != nil {
		return err
	}
	if count != 2 {
		return fmt.Errorf("want [x, y], have %d numbers", count)
	}
	return nil
}

// within says of which value an error is, unless the file is no JSON.
func within(dec *jsontext.Decoder, err error) error {
	var syntax *jsontext.SyntacticError
	if errors.As(err, &syntax) {
		return err
	}
	return &json.SemanticError{JSONPointer: dec.StackPointer(), Err: err}
}
