package mend_test

import (
	"encoding/json"
	"strings"
	"testing"

	"duskproof/checker/finding"
	"duskproof/checker/mend"
)

const small = `{
  "//": "kept as it is",
  "units":   "ft",
  "runs": [
    {"id": "R1", "cable": "12/2", "legs": [
      {"id": "a", "from": "T1", "to": "L1"},
      {"id": "b", "from": "L1", "to": "L2", "length": 12.50}
    ]}
  ],
  "empty": [],
  "at": [1, 2]
}
`

// operations reads a patch and keeps the order of members in its values.
func operations(t *testing.T, text string) []finding.Operation {
	t.Helper()
	var read []struct {
		Op, Path string
		Value    json.RawMessage
	}
	if err := json.Unmarshal([]byte(text), &read); err != nil {
		t.Fatal(err)
	}
	var out []finding.Operation
	for _, op := range read {
		out = append(out, finding.Operation{Op: op.Op, Path: op.Path, Value: op.Value})
	}
	return out
}

// TestApplyKeepsForm holds what a patched plan looks like: only what the patch
// names is touched, and what is added is spaced like its neighbours.
func TestApplyKeepsForm(t *testing.T) {
	for name, c := range map[string]struct {
		patch    string
		old, new string
	}{
		"replace": {`[{"op":"test","path":"/runs/0/cable","value":"12/2"},{"op":"replace","path":"/runs/0/cable","value":"10/2"}]`,
			`"cable": "12/2"`, `"cable": "10/2"`},
		"add member": {`[{"op":"add","path":"/runs/0/legs/0/cover","value":"9 in"}]`,
			`"to": "L1"}`, `"to": "L1", "cover": "9 in"}`},
		"add object": {`[{"op":"add","path":"/runs/0/legs/0/sleeve","value":{"material":"pvc","size":"1 in"}}]`,
			`"to": "L1"}`, `"to": "L1", "sleeve": {"material": "pvc", "size": "1 in"}}`},
		"add element": {`[{"op":"add","path":"/runs/0/legs/-","value":{"id":"c","from":"L2","to":"L3"}}]`,
			`12.50}`, "12.50},\n      {\"id\": \"c\", \"from\": \"L2\", \"to\": \"L3\"}"},
		"add first element": {`[{"op":"add","path":"/runs/0/legs/0","value":{"id":"c"}}]`,
			`{"id": "a"`, "{\"id\": \"c\"},\n      {\"id\": \"a\""},
		"remove first": {`[{"op":"remove","path":"/runs/0/legs/0"}]`,
			"{\"id\": \"a\", \"from\": \"T1\", \"to\": \"L1\"},\n      ", ""},
		"remove last": {`[{"op":"remove","path":"/runs/0/legs/1"}]`,
			",\n      {\"id\": \"b\", \"from\": \"L1\", \"to\": \"L2\", \"length\": 12.50}", ""},
		"remove first member": {`[{"op":"remove","path":"/runs/0/id"}]`, `{"id": "R1", "cable"`, `{"cable"`},
		"place":               {`[{"op":"replace","path":"/at","value":[1.5,2]}]`, `[1, 2]`, `[1.5, 2]`},
		"into empty":          {`[{"op":"add","path":"/empty/-","value":{"a":1}}]`, `"empty": []`, `"empty": [{"a": 1}]`},
		"on a line":           {`[{"op":"add","path":"/at/-","value":3}]`, `[1, 2]`, `[1, 2, 3]`},
		"section":             {`[{"op":"add","path":"/notes","value":[]}]`, "\"at\": [1, 2]\n", "\"at\": [1, 2],\n  \"notes\": []\n"},
	} {
		have, err := mend.Apply([]byte(small), operations(t, c.patch))
		if err != nil {
			t.Errorf("%s: %v", name, err)
			continue
		}
		if want := strings.Replace(small, c.old, c.new, 1); string(have) != want || want == small {
			t.Errorf("%s:\n%s\nwant\n%s", name, have, want)
		}
	}
}

// TestApplyRefuses holds that a patch of another plan is refused whole.
func TestApplyRefuses(t *testing.T) {
	for _, patch := range []string{
		`[{"op":"test","path":"/runs/0/cable","value":"10/2"},{"op":"remove","path":"/runs"}]`,
		`[{"op":"replace","path":"/runs/1/cable","value":"10/2"}]`,
		`[{"op":"remove","path":"/nothing"}]`,
		`[{"op":"turn","path":"/at"}]`,
		`[{"op":"add","path":"/runs/0/legs/7","value":1}]`,
	} {
		if have, err := mend.Apply([]byte(small), operations(t, patch)); err == nil || have != nil {
			t.Errorf("%s: %s, %v", patch, have, err)
		}
	}
}
