package finding

import "fmt"

// Severity says how grave a finding is. The zero value is not a severity.
type Severity int

// The severities, in rising order.
const (
	// Caution is a standing reminder to ask someone with authority.
	Caution Severity = iota + 1
	// Advice means the work functions but could be better.
	Advice
	// Defect means it will not work, will fail early, or must be dug up again.
	Defect
	// Danger means it can hurt, shock or burn someone.
	Danger
)

var severityNames = map[Severity]string{
	Caution: "caution", Advice: "advice", Defect: "defect", Danger: "danger",
}

// Severities lists all severities from the gravest down.
func Severities() []Severity { return []Severity{Danger, Defect, Advice, Caution} }

// String returns the lower-case word for s.
func (s Severity) String() string {
	if name, ok := severityNames[s]; ok {
		return name
	}
	return fmt.Sprintf("severity(%d)", int(s))
}

// ParseSeverity turns a word into a severity.
func ParseSeverity(word string) (Severity, error) {
	for s, name := range severityNames {
		if name == word {
			return s, nil
		}
	}
	return 0, fmt.Errorf("unknown severity %q; the severities are danger, defect, advice and caution", word)
}

// MarshalText writes the word for s.
func (s Severity) MarshalText() ([]byte, error) {
	if _, ok := severityNames[s]; !ok {
		return nil, fmt.Errorf("severity %d has no name", int(s))
	}
	return []byte(s.String()), nil
}

// UnmarshalText reads the word for s.
func (s *Severity) UnmarshalText(text []byte) error {
	parsed, err := ParseSeverity(string(text))
	if err != nil {
		return err
	}
	*s = parsed
	return nil
}

// Basis says why a rule exists.
type Basis string

// The bases of a rule.
const (
	// Code is an adopted code clause.
	Code Basis = "code"
	// Listing is a product listing or its instructions.
	Listing Basis = "listing"
	// Standard is a published standard or recommended practice.
	Standard Basis = "standard"
	// Practice is common practice, with no published source.
	Practice Basis = "practice"
	// House is a rule of duskproof's own or of the user's house.
	House Basis = "house"
)

// Words returns the basis as readers see it.
func (b Basis) Words() string {
	if b == Practice {
		return "common practice, no source"
	}
	if b == House {
		return "house rule"
	}
	return string(b)
}
