package validate

import (
	"fmt"
	"strings"
	"testing"

	"duskproof/checker/source"
)

// TestLikely holds that quantities in other people's spelling are understood,
// though not accepted, and that nothing is made up.
func TestLikely(t *testing.T) {
	v := planValidator(t)
	const form = `{"format": "1.0", "plan": {"title": "x"}, "units": "ft", "catalogue": {%s}, "fixtures": [{"id": "A", "type": "a"%s}]}`
	length := func(s string) string { return `, "height": ` + s }
	for _, test := range []struct{ catalogue, fixture, want string }{
		{"", length(`"14 inch"`), `"14 in"`}, {"", length(`"1 foot 6 inches"`), `"1 ft 6 in"`}, {"", length(`"4' 6\""`), `"4 ft 6 in"`},
		{"", length(`"18″"`), `"18 in"`}, {"", length(`"6-in"`), `"6 in"`}, {"", length(`"1½ in"`), `"1 1/2 in"`}, {"", length(`"0,45 metres"`), `"0.45 m"`},
		{"", length(`"450MM"`), `"450 mm"`}, {"", length(`"about 4 ft"`), ""}, {"", length(`"12 V"`), ""}, {"", length(`"-14 in"`), ""},
		{`"cables": {"c": {"conductor": "12 gauge"}}`, "", `"12 AWG"`}, {`"cables": {"c": {"conductor": "#12"}}`, "", `"12 AWG"`},
		{`"cables": {"c": {"conductor": "2,5 mm²"}}`, "", `"2.5 mm2"`}, {`"cables": {"c": {"conductor": "12"}}`, "", ""},
		{`"fixtures": {"a": {"kind": "path", "load": "constant-power", "watts": 3, "va": 4, "window": ["9 volts", "15 V AC"], "ip": "ip 65"}}`, "", `"15 V"`},
		{`"fixtures": {"a": {"kind": "path", "load": "constant-power", "watts": 3, "va": 4, "window": ["9 V", "15 V"], "ip": "ip 65"}}`, "", `"IP65"`},
	} {
		text := fmt.Sprintf(form, test.catalogue, test.fixture)
		doc, problems := source.Parse("p", []byte(text), source.Limits{})
		if doc == nil {
			t.Fatal(text, problems)
		}
		said := brief(v.Validate(doc))
		if test.want == "" {
			if strings.Contains(said, "did you mean") || said == "" {
				t.Errorf("%s%s: %q", test.catalogue, test.fixture, said)
			}
			continue
		}
		if want := "which cannot be read; did you mean " + test.want + "?"; !strings.Contains(said, want) {
			t.Errorf("%s%s: %q, want %q", test.catalogue, test.fixture, said, want)
		}
	}
}
