package schema

import (
	"bytes"
	"encoding/json"
	"strings"
	"testing"
)

// ordered is a JSON value that keeps the order of members and the text of
// values, which a map loses.
type ordered struct {
	names   []string
	members map[string]*ordered
	items   []*ordered
	raw     json.RawMessage
}

// readOrdered reads one JSON text.
func readOrdered(t *testing.T, raw json.RawMessage) *ordered {
	t.Helper()
	node := &ordered{raw: bytes.TrimSpace(raw), members: map[string]*ordered{}}
	switch node.raw[0] {
	case '{':
		dec := json.NewDecoder(bytes.NewReader(node.raw))
		skip(t, dec)
		for dec.More() {
			name := skip(t, dec).(string)
			node.names = append(node.names, name)
			node.members[name] = readOrdered(t, next(t, dec))
		}
	case '[':
		dec := json.NewDecoder(bytes.NewReader(node.raw))
		skip(t, dec)
		for dec.More() {
			node.items = append(node.items, readOrdered(t, next(t, dec)))
		}
	}
	return node
}

func skip(t *testing.T, dec *json.Decoder) json.Token {
	t.Helper()
	token, err := dec.Token()
	if err != nil {
		t.Fatal(err)
	}
	return token
}

func next(t *testing.T, dec *json.Decoder) json.RawMessage {
	t.Helper()
	var raw json.RawMessage
	if err := dec.Decode(&raw); err != nil {
		t.Fatal(err)
	}
	return raw
}

// at returns the value at a path of member names; one that is not there is
// empty.
func (o *ordered) at(pointer string) *ordered {
	for _, name := range strings.Split(pointer, "/")[1:] {
		if o = o.members[name]; o == nil {
			return &ordered{}
		}
	}
	return o
}
