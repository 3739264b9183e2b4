package validate

import (
	"testing"

	"duskproof/checker/source"
)

func TestSmoke(t *testing.T) {
	v, err := New(map[string][]byte{"a.schema.json": []byte(`{"$schema":"https://json-schema.org/draft/2020-12/schema",
	"type":"object","properties":{"legs":{"type":"array","items":{"$ref":"#/$defs/leg"}}},"additionalProperties":false,
	"$defs":{"leg":{"type":"object","title":"Leg","required":["id","cable"],"additionalProperties":false,"patternProperties":{"^//":true},
	 "properties":{"id":{"type":"string"},"cable":{"type":"string","title":"Cable type","examples":["12/2"]},"cover":{"title":"Cover","$ref":"#/$defs/length","examples":["6 in"]},
	 "method":{"enum":["buried","sleeved","surface"]}}},
	 "length":{"description":"A length: a number in the plan's unit, or text with a unit. More.","oneOf":[{"type":"number","minimum":0},{"type":"string","pattern":"^[0-9.]+ (in|ft|m)$","examples":["12 ft"]}]}}}`)}, "a.schema.json")
	if err != nil {
		t.Fatal(err)
	}
	doc, problems := source.Parse("p", []byte(`{"legs": [{"id": "w1", "//": 3, "cabel": "12/2", "cover": "6 inchs", "method": "burried"},
 {"id": "w2", "cover": true, "color": 3, "method": 5},
 {"id": 3, "cable": 5, "cover": -1}, []],
 "leg": 1}`), source.Limits{})
	if len(problems) > 0 {
		t.Fatal(problems)
	}
	for _, p := range v.Validate(doc) {
		t.Log(p)
	}
}
