package profile

import (
	"cmp"
	"fmt"
	"maps"
	"slices"
	"strconv"
	"strings"

	"github.com/go-json-experiment/json"
	"github.com/go-json-experiment/json/jsontext"

	"duskproof/checker/finding"
)

// profileFile is a profile as it is written.
type profileFile struct {
	Name       string     `json:"name"`
	Title      string     `json:"title"`
	About      string     `json:"about"`
	CodeFamily string     `json:"code_family"`
	StandsOn   []string   `json:"stands_on"`
	Limits     limitFiles `json:"limits"`
	Cautions   map[string]struct {
		Text   string `json:"text"`
		Source string `json:"source"`
	} `json:"cautions"`
}

// limitFiles are limits by name.
type limitFiles map[string]limitFile

// UnmarshalJSONFrom reads limits and passes over comments, whose names begin with
// "//".
func (l *limitFiles) UnmarshalJSONFrom(dec *jsontext.Decoder) error {
	if kind := dec.PeekKind(); kind != '{' {
		return fmt.Errorf("limits begin with {, not with %s", kind)
	}
	if _, err := dec.ReadToken(); err != nil {
		return err
	}
	*l = limitFiles{}
	for dec.PeekKind() == '"' {
		token, err := dec.ReadToken()
		if err != nil {
			return err
		}
		name := token.String()
		if strings.HasPrefix(name, "//") {
			if err := dec.SkipValue(); err != nil {
				return err
			}
			continue
		}
		var limit limitFile
		if err := json.UnmarshalDecode(dec, &limit); err != nil {
			return fmt.Errorf("limit %s: %w", name, err)
		}
		(*l)[name] = limit
	}
	_, err := dec.ReadToken()
	return err
}

// limitFile is a limit as it is written.
type limitFile struct {
	Value      *float64           `json:"value"`
	Text       string             `json:"text"`
	Flag       *bool              `json:"flag"`
	Table      map[string]float64 `json:"table"`
	USValue    *float64           `json:"us_value"`
	USTable    map[string]float64 `json:"us_table"`
	Withdrawn  bool               `json:"withdrawn"`
	Unit       string             `json:"unit"`
	Source     string             `json:"source"`
	Clause     string             `json:"clause"`
	Topic      string             `json:"topic"`
	Edition    string             `json:"edition"`
	Basis      finding.Basis      `json:"basis"`
	Confidence string             `json:"confidence"`
	Note       string             `json:"note"`
}

// decode reads a profile that fits the schema.
func decode(file string, data []byte) (Profile, error) {
	var written profileFile
	if err := json.Unmarshal(data, &written); err != nil {
		return Profile{}, err
	}
	return written.profile(file), nil
}

// profile turns what is written into a profile.
func (f profileFile) profile(file string) Profile {
	p := Profile{Name: f.Name, Title: f.Title, About: f.About, CodeFamily: f.CodeFamily, StandsOn: f.StandsOn, File: file}
	p.Limits = make([]Limit, 0, len(f.Limits))
	for _, name := range slices.Sorted(maps.Keys(f.Limits)) {
		l := f.Limits[name]
		p.Limits = append(p.Limits, Limit{
			Name: name, Value: l.Value, Text: l.Text, Flag: l.Flag, Table: Rows(l.Table),
			USValue: l.USValue, USTable: Rows(l.USTable), Withdrawn: l.Withdrawn,
			Unit: l.Unit, Source: l.Source, Clause: l.Clause, Topic: l.Topic, Edition: l.Edition,
			Basis: l.Basis, Confidence: l.Confidence, Note: l.Note, Profile: f.Name,
		})
	}
	for _, rule := range slices.Sorted(maps.Keys(f.Cautions)) {
		c := f.Cautions[rule]
		p.Cautions = append(p.Cautions, Caution{Rule: rule, Text: c.Text, Source: c.Source, Profile: f.Name})
	}
	return p
}

// Rows puts a table in order of its keys; nil stays nil.
func Rows(table map[string]float64) []Row {
	if table == nil {
		return nil
	}
	list := make([]Row, 0, len(table))
	for key, value := range table {
		list = append(list, Row{key, value})
	}
	slices.SortFunc(list, func(a, b Row) int { return compareKeys(a.Key, b.Key) })
	return list
}

// compareKeys orders keys by the number they begin with, then as text: "6 AWG"
// comes before "12 AWG", and both before words.
func compareKeys(a, b string) int {
	x, hasX := leadingNumber(a)
	y, hasY := leadingNumber(b)
	switch {
	case hasX && hasY:
		return cmp.Or(cmp.Compare(x, y), cmp.Compare(a, b))
	case hasX:
		return -1
	case hasY:
		return 1
	}
	return cmp.Compare(a, b)
}

// leadingNumber returns the number before the first space of a key.
func leadingNumber(key string) (float64, bool) {
	head, _, _ := strings.Cut(key, " ")
	n, err := strconv.ParseFloat(head, 64)
	return n, err == nil
}
