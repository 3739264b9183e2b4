package profile

import (
	"errors"
	"slices"
	"strings"
	"testing"
)

// bundled returns the profiles that come with the program.
func bundled(t *testing.T) *Set {
	t.Helper()
	set, err := Bundled()
	if err != nil {
		t.Fatal(err)
	}
	return set
}

// stack stacks bundled profiles.
func stack(t *testing.T, names ...string) *Limits {
	t.Helper()
	limits, err := bundled(t).Stack(names)
	if err != nil {
		t.Fatal(err)
	}
	return limits
}

func TestCommonIsAlwaysAtTheBottom(t *testing.T) {
	for _, names := range [][]string{nil, {"us-nec-2020"}, {"us-nec-2020", "common"}, {"common", "iec-60364"}} {
		if got := stack(t, names...).Profiles(); got[0] != Common || slices.Index(got[1:], Common) >= 0 {
			t.Errorf("stack of %v is %v; common must be the first, once", names, got)
		}
	}
}

func TestCodeFamiliesDoNotMix(t *testing.T) {
	limits := stack(t, "us-nec-2020", "iec-60364")
	if got := limits.Replaced(); !slices.Equal(got, []string{"us-nec-2020"}) {
		t.Errorf("replaced profiles are %v, want us-nec-2020", got)
	}
	if rows, ok := limits.Table("earth.cover"); ok {
		t.Errorf("the IEC stack has the cover table %v of the other code", rows)
	}
	for _, l := range limits.All() {
		if strings.Contains(l.Source, "NFPA") {
			t.Errorf("%s comes from %s under IEC", l.Name, l.Source)
		}
	}
}

func TestUnknownProfileSuggests(t *testing.T) {
	_, err := bundled(t).Stack([]string{"us-nec-2020", "iec-60346"})
	var unknown *UnknownError
	if !errors.As(err, &unknown) {
		t.Fatalf("error is %v, want an UnknownError", err)
	}
	if unknown.Index != 1 || unknown.Near != "iec-60364" {
		t.Errorf("got index %d, near %q", unknown.Index, unknown.Near)
	}
	if want := `there is no profile "iec-60346"; did you mean "iec-60364"?`; err.Error() != want {
		t.Errorf("message is %q, want %q", err, want)
	}
}
