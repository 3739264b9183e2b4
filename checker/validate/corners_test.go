package validate

import (
	"strings"
	"testing"
)

// corners are single schemas with the rarer keywords, a value each, and what is
// said.
var corners = []struct{ schema, text, want string }{
	{`false`, `{}`, "1:1-1:2 root: nothing may stand here"},
	{`{"properties": {"x": false}}`, `{"x": 1}`, `1:2-1:5 /x: "x" may not stand here`},
	{`{"not": {"type": "list"}}`, `[]`, "compile"},
	{`{"not": {"type": "array", "description": "No lists."}}`, `[]`, "1:1-1:2 root: the file may not be a list: no lists"},
	{`{"not": {"required": ["x"]}, "description": "There is no x here."}`, `{"x": 1}`, `1:2-1:5 /x: the file may not have "x" here: there is no x here`},
	{`{"minProperties": 1}`, `{}`, "1:1-1:2 root: the file has 0 properties; it needs at least 1"},
	{`{"minProperties": 2, "maxProperties": 2}`, `{"a": 1}`, "1:1-1:2 root: the file has 1 property; it needs 2"},
	{`{"minItems": 2, "maxItems": 4, "examples": [[1, 2]]}`, `[1]`, "1:1-1:2 root: the file has 1 entry; it needs 2 to 4, such as [1,2]"},
	{`{"contains": {"const": 1, "description": "The number one."}, "minContains": 2}`, `[1]`, "1:1-1:2 root: the file does not hold the entries it should: the number one"},
	{`{"properties": {"x": {"minLength": 3}}}`, `{"x": "ab"}`, `1:7-1:11 /x: "x" has 2 characters; it needs at least 3`},
	{`{"properties": {"x": {"minLength": 1, "examples": ["ab"]}}}`, `{"x": ""}`, `1:7-1:9 /x: "x" is empty; write something, such as "ab"`},
	{`{"properties": {"x": {"format": "uuid"}}}`, `{"x": "ab"}`, `1:7-1:11 /x: "x" is "ab", which cannot be read; expected: a UUID`},
	{`{"properties": {"x": {"format": "hostname", "title": "Name of a host"}}}`, `{"x": "-"}`, `1:7-1:10 /x: "x" is "-", which cannot be read; expected: name of a host`},
	{`{"properties": {"x": {"pattern": "^a$", "enum": ["a", "aa"], "maxLength": 1}}}`, `{"x": "bbbbbb"}`, `1:7-1:15 /x: "x" is "bbbbbb"; it must be "a" or "aa"`},
	{`{"properties": {"x": {"enum": ["a", 1, null, true]}}}`, `{"x": {"a": 1}}`, `1:7-1:8 /x: "x" is an object; it must be "a", 1, null or true`},
	{`{"propertyNames": {"enum": ["left", "right"]}}`, `{"lefft": 1}`, `1:2-1:9 /lefft: "lefft" cannot be a name in the file; did you mean "left"? It may be "left" or "right"`},
	{`{"propertyNames": {"pattern": "^a$"}}`, `{"b": 1}`, `1:2-1:5 /b: "b" cannot be a name in the file; it is not in the form it should have`},
	{`{"properties": {"propertyNames": {"type": "string"}}}`, `{"propertyNames": 1}`, `1:19-1:20 /propertyNames: "propertyNames" must be text, not the number 1; put it in double quotes`},
	{`{"properties": {"allOf": {"type": "boolean"}, "dependentRequired": {"type": "string"}}}`, `{"allOf": "no", "dependentRequired": []}`,
		`1:11-1:15 /allOf: "allOf" must be true or false, not the text "no"; write false, without quotes` + "\n" +
			`1:38-1:39 /dependentRequired: "dependentRequired" must be text, not a list`},
	{`{"additionalProperties": false, "patternProperties": {"^//": true, "^[a-z]+$": {"type": "number"}}, "$defs": {"n": {"pattern": "^[a-z]+$", "description": "Small letters, e.g. abc. No more."}}}`,
		`{"A": 1, "//": 2, "b": 3}`, `1:2-1:5 /A: "A" cannot be a name in the file; expected: small letters, e.g. abc`},
	{`{"additionalProperties": false}`, `{"A": 1}`, `1:2-1:5 /A: "A" cannot be a name in the file`},
	{`{"properties": {"x": {"oneOf": [{"minimum": 1}, {"maximum": 5}], "description": "Small or large."}}}`, `{"x": 3}`, `1:7-1:8 /x: "x" can be read in two ways; keep only one: small or large`},
	{`{"properties": {"x": {"anyOf": [{"enum": ["a", "b"]}, {"enum": ["c"]}]}}}`, `{"x": "q"}`, `1:7-1:10 /x: "x" is "q"; it may be "a", "b" or "c"`},
	{`{"properties": {"x": {"anyOf": [{"pattern": "^a"}, {"pattern": "^b"}]}}}`, `{"x": "q"}`, `1:7-1:10 /x: "x" is "q", which cannot be read`},
	{`{"properties": {"x": {"anyOf": [{"minItems": 2}, {"maxItems": 0}]}}}`, `{"x": [1]}`, `1:7-1:8 /x: "x" has 1 entry; it needs at least 2`},
	{`{"properties": {"a": {"properties": {"far": {}}}, "b": {"additionalProperties": {"properties": {"far": {}}}}, "c": {"properties": {"d": {"additionalProperties": false, "properties": {"e": {}}}}}}}`,
		`{"c": {"d": {"far": 1}}}`, `1:14-1:19 /c/d/far: "far" is not a property of "c.d"; it belongs inside "a" or in an entry of "b"`},
	{`{"required": ["cable"], "properties": {"cable": {}}}`, `{"cabel": 1}`, `1:1-1:2 root: the file has no "cable"; add it`},
	{`{"dependentRequired": {"a": ["b"]}, "additionalProperties": false, "properties": {"a": {}, "breaker": {}, "b": {}}}`, `{"a": 1, "B": 2}`, `1:10-1:13 /B: "B" is not a property of the file; did you mean "b"?`},
	{`{"allOf": [{"properties": {"x": {"type": "number"}}}, {"properties": {"x": {"type": "number"}}}]}`, `{"x": true}`, `1:7-1:11 /x: "x" must be a number, not true`},
	{`{"contentEncoding": "base64", "minItems": 1, "prefixItems": [{"type": "array"}, {"type": "null"}]}`, `[1, 2]`,
		"1:2-1:3 /0: entry 1 must be a list, not the number 1; put it in square brackets\n1:5-1:6 /1: entry 2 must be null, not the number 2"},
	{`{"$ref": "#/$defs/a", "$defs": {"a": {"properties": {"next": {"$ref": "#/$defs/a"}, "n": {"type": "number"}}, "unevaluatedProperties": false}}}`, `{"next": {"next": {"n": "1", "m": 2}}}`,
		`1:25-1:28 /next/next/n: "next.next.n" must be a number, not the text "1"; leave out the quotes` + "\n" +
			`1:30-1:33 /next/next/m: "m" is not a property of "next.next"; its properties are "n" and "next"`},
}

func TestCorners(t *testing.T) {
	for _, c := range corners {
		v, err := New(map[string][]byte{"a.schema.json": []byte(c.schema)}, "a.schema.json")
		if err != nil {
			if !strings.Contains(err.Error(), c.want) {
				t.Errorf("%s: %v", c.schema, err)
			}
			continue
		}
		if got := brief(check(t, v, c.text)); got != c.want {
			t.Errorf("%s with %s\n got %s\nwant %s", c.schema, c.text, got, c.want)
		}
	}
}
