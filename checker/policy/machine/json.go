package machine

import (
	"bytes"
	"errors"
	"io"
	"strconv"

	"github.com/go-json-experiment/json/jsontext"
)

// FromJSON reads a value from JSON text. Numbers keep twelve significant digits.
func FromJSON(text []byte) (Value, error) {
	reader := jsonReader{jsontext.NewDecoder(bytes.NewReader(text))}
	v, err := reader.value()
	if err != nil {
		return Value{}, err
	}
	if _, err := reader.ReadToken(); !errors.Is(err, io.EOF) {
		return Value{}, errors.New("there is more than one value")
	}
	return v, nil
}

type jsonReader struct{ *jsontext.Decoder }

func (r jsonReader) value() (Value, error) {
	token, err := r.ReadToken()
	if err != nil {
		return Value{}, err
	}
	switch token.Kind() {
	case '{':
		return r.object()
	case '[':
		return r.array()
	case '"':
		return TextValue(token.String()), nil
	case '0':
		return shortened(token.String())
	case 't', 'f':
		return Bool(token.Bool()), nil
	}
	return Value{kind: Null}, nil
}

// shortened reads a number, and rounds one that is written with more digits than
// facts keep.
func shortened(digits string) (Value, error) {
	if len(digits) > factDigits {
		if f, err := strconv.ParseFloat(digits, 64); err == nil {
			digits = strconv.FormatFloat(f, 'g', factDigits, 64)
		}
	}
	return numeral(digits)
}

func (r jsonReader) object() (Value, error) {
	g := &group{}
	for r.PeekKind() != '}' {
		key, err := r.value()
		if err != nil {
			return Value{}, err
		}
		value, err := r.value()
		if err != nil {
			return Value{}, err
		}
		g.put(key, value)
	}
	g.keysInOrder() // from here on it is read only
	_, err := r.ReadToken()
	return Value{kind: Object, group: g}, err
}

func (r jsonReader) array() (Value, error) {
	items := []Value{}
	for r.PeekKind() != ']' {
		item, err := r.value()
		if err != nil {
			return Value{}, err
		}
		items = append(items, item)
	}
	_, err := r.ReadToken()
	return ArrayOf(items), err
}
