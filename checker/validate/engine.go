package validate

import (
	"bytes"
	"encoding/json"
	"errors"
	"fmt"
	"io"
	"net/url"
	"strconv"
	"strings"

	"github.com/santhosh-tekuri/jsonschema/v5"

	"duskproof/checker/source"
)

// baseURL is where the schemas stand as long as they have no $id of their own.
const baseURL = "schema:///"

// engine hides the library that decides whether a document fits a schema. It
// is the only file that knows it: everything else sees failures.
type engine struct{ schema *jsonschema.Schema }

// failure is one failed keyword, or a group of them.
type failure struct {
	// schema is the schema object that holds the keyword.
	schema location
	// keyword is the name of the keyword; "" for a plain group, and "false"
	// for a schema that allows nothing.
	keyword string
	// index is the number of the branch of allOf that failed.
	index int
	// both holds, for oneOf without causes, the two branches that fit.
	both [2]int
	// at is the instance path.
	at []string
	// onName is true when the failure is about the name at the end of at.
	onName bool
	// text is the library's own message, for keywords we do not know.
	text   string
	causes []*failure
}

// location is a place in a schema document.
type location struct {
	url  string
	path []string
}

// newEngine compiles the schema called name. The compiler asks for each schema
// it needs, and gets one of files or an error.
func newEngine(files map[string][]byte, name string) (*engine, error) {
	byAddress := map[string][]byte{}
	for file, data := range files {
		for _, address := range addresses(file, data) {
			byAddress[address] = data
		}
	}
	compiler := jsonschema.NewCompiler()
	compiler.Draft = jsonschema.Draft2020
	compiler.AssertFormat = true
	compiler.LoadURL = func(address string) (io.ReadCloser, error) {
		data, ok := byAddress[address]
		if !ok {
			return nil, fmt.Errorf("%s is not among the schemas of the program, and nothing else is ever loaded", address)
		}
		return io.NopCloser(bytes.NewReader(data)), nil
	}
	schema, err := compiler.Compile(baseURL + name)
	if err != nil {
		return nil, err
	}
	return &engine{schema}, nil
}

// addresses returns the addresses of a schema file: by its name and by its $id.
func addresses(file string, data []byte) []string {
	list := []string{baseURL + file}
	if id := rootID(data); id != "" {
		if id = resolve(baseURL+file, id); id != list[0] {
			list = append(list, id)
		}
	}
	return list
}

// rootID returns the $id of a schema; "" when it has none.
func rootID(data []byte) string {
	var head struct {
		ID string `json:"$id"`
	}
	if err := json.Unmarshal(data, &head); err != nil {
		return "" // the compiler says what is wrong with it
	}
	return head.ID
}

// resolve resolves a reference against a base, without its fragment.
func resolve(base, ref string) string {
	ref, _, _ = strings.Cut(ref, "#")
	b, errBase := url.Parse(base)
	r, errRef := url.Parse(ref)
	if errBase != nil || errRef != nil || b.Opaque != "" {
		return ref
	}
	return b.ResolveReference(r).String()
}

// rootLocation returns where the compiled schema stands.
func (e *engine) rootLocation() location { return parseLocation(e.schema.Location) }

// check returns nil when value fits, else the tree of failures.
func (e *engine) check(value any) (*failure, error) {
	err := e.schema.Validate(value)
	var invalid *jsonschema.ValidationError
	switch {
	case err == nil:
		return nil, nil
	case errors.As(err, &invalid):
		root := &failure{schema: parseLocation(invalid.AbsoluteKeywordLocation)}
		for _, cause := range invalid.Causes {
			root.causes = append(root.causes, translate(cause))
		}
		return root, nil
	}
	return nil, err
}

// translate turns an error of the library into a failure.
func translate(e *jsonschema.ValidationError) *failure {
	f := &failure{
		schema: parseLocation(e.AbsoluteKeywordLocation),
		at:     unescapePath(e.InstanceLocation),
		text:   e.Message,
		onName: aboutName(unescapePath(e.KeywordLocation)),
	}
	f.splitKeyword()
	for _, cause := range e.Causes {
		f.causes = append(f.causes, translate(cause))
	}
	if f.keyword == "oneOf" && len(f.causes) == 0 {
		if _, err := fmt.Sscanf(e.Message, "valid against schemas at indexes %d and %d", &f.both[0], &f.both[1]); err != nil {
			f.keyword = "unknown"
		}
	}
	return f
}

// splitKeyword takes the keyword off the end of the schema location.
func (f *failure) splitKeyword() {
	path := f.schema.path
	n := len(path)
	cut := func(count int) { f.keyword, f.schema.path = path[n-count], path[:n-count] }
	index := -1
	if n > 0 {
		if i, err := strconv.Atoi(path[n-1]); err == nil {
			index = i
		}
	}
	switch {
	case f.text == "":
		return
	case f.text == "not allowed":
		f.keyword = "false"
	case n >= 2 && path[n-2] == "allOf" && index >= 0:
		cut(2)
		f.index = index
	case n >= 3 && path[n-3] == "dependentRequired" && index >= 0:
		cut(3)
	case n >= 1:
		cut(1)
	}
}

// aboutName says whether a keyword path ends below propertyNames.
func aboutName(path []string) bool {
	for i := len(path) - 1; i >= 0; i-- {
		if path[i] != "propertyNames" {
			continue
		}
		return i == 0 || path[i-1] != "properties" && path[i-1] != "patternProperties" && path[i-1] != "dependentSchemas"
	}
	return false
}

// parseLocation reads an absolute keyword location.
func parseLocation(address string) location {
	base, fragment, _ := strings.Cut(address, "#")
	return location{base, unescapePath(fragment)}
}

// unescapePath splits a pointer whose tokens the library has percent-encoded
// as well: first undo that, then read each as RFC 6901 has it.
func unescapePath(pointer string) []string {
	if pointer == "" || pointer == "/" {
		return nil
	}
	tokens := strings.Split(strings.TrimPrefix(pointer, "/"), "/")
	for i, token := range tokens {
		if plain, err := url.PathUnescape(token); err == nil {
			token = plain
		}
		tokens[i] = source.Unescape(token)
	}
	return tokens
}
