package validate

import (
	"io"
	"os"
	"path/filepath"
	"strings"
	"testing"
	"testing/fstest"

	"github.com/santhosh-tekuri/jsonschema/v5"

	published "duskproof/schema"
)

// TestNothingIsLoadedFromOutside puts a trap in place of the library's own
// loaders of files and addresses, and a schema that could be read on the disk.
func TestNothingIsLoadedFromOutside(t *testing.T) {
	before := jsonschema.LoadURL
	defer func() { jsonschema.LoadURL = before }()
	jsonschema.LoadURL = func(address string) (io.ReadCloser, error) {
		t.Errorf("the library went for %s", address)
		return before(address)
	}
	file := filepath.Join(t.TempDir(), "outside.schema.json")
	if err := os.WriteFile(file, []byte(`{"type": "string"}`), 0o600); err != nil {
		t.Fatal(err)
	}
	for _, address := range []string{
		"file://" + file, file, "outside.schema.json", "https://json.invalid/a.json", "http://127.0.0.1:1/a.json", "urn:duskproof:nothing",
	} {
		for keyword, text := range map[string]string{"$ref": `{"$ref": "` + address + `"}`, "$schema": `{"$schema": "` + address + `#"}`} {
			_, err := New(map[string][]byte{"a.schema.json": []byte(text)}, "a.schema.json")
			if err == nil {
				t.Errorf("%s to %s was followed", keyword, address)
			} else if address != file && keyword == "$ref" && !strings.Contains(err.Error(), "not among the schemas of the program") {
				t.Errorf("%s to %s: %v", keyword, address, err)
			}
		}
	}
	planValidator(t)
	garden(t)
}

func TestReferencesByNameAndByID(t *testing.T) {
	byName, err := New(map[string][]byte{
		"a.schema.json": []byte(`{"properties": {"x": {"$ref": "b.schema.json#/$defs/n"}}}`),
		"b.schema.json": []byte(`{"$defs": {"n": {"type": "number", "examples": [7]}}}`),
	}, "a.schema.json")
	if err != nil {
		t.Fatal(err)
	}
	if got, want := brief(check(t, byName, `{"x": []}`)), `1:7-1:8 /x: "x" must be a number, such as 7, not a list`; got != want {
		t.Errorf("got %s, want %s", got, want)
	}
}

func TestNewRefuses(t *testing.T) {
	for name, c := range map[string]struct{ text, want string }{
		"not JSON":          {`{`, "compile schema a.schema.json"},
		"not a schema":      {`{"type": 5}`, "compile schema a.schema.json"},
		"a bad pattern":     {`{"pattern": "("}`, "compile schema a.schema.json"},
		"no such $defs":     {`{"$ref": "#/$defs/x"}`, "compile schema a.schema.json"},
		"an anchor":         {`{"$defs": {"x": {"$anchor": "y"}}}`, "the keyword $anchor is not supported"},
		"a dynamic anchor":  {`{"$defs": {"x": {"$dynamicAnchor": "y"}}}`, "the keyword $dynamicAnchor is not supported"},
		"a second $id":      {`{"$id": "urn:a", "$defs": {"x": {"$id": "urn:b"}}}`, "a second $id is not supported"},
		"an older standard": {`{"$schema": "http://json-schema.org/draft-99/schema#"}`, "compile schema a.schema.json"},
	} {
		_, err := New(map[string][]byte{"a.schema.json": []byte(c.text)}, "a.schema.json")
		if err == nil || !strings.Contains(err.Error(), c.want) {
			t.Errorf("%s: %v", name, err)
		}
	}
	if _, err := New(nil, "a.schema.json"); err == nil {
		t.Error("a schema that is not there was compiled")
	}
	if _, err := FromFS(fstest.MapFS{"other.txt": {Data: []byte("{}")}}, "other.txt"); err == nil {
		t.Error("a file of another kind was read")
	}
	if _, err := FromFS(os.DirFS(filepath.Join(t.TempDir(), "none")), "a.schema.json"); err == nil {
		t.Error("a folder that is not there was read")
	}
}

// TestPublishedSchemasCompile compiles every schema that the program publishes.
func TestPublishedSchemasCompile(t *testing.T) {
	entries, err := published.Files.ReadDir(".")
	if err != nil {
		t.Fatal(err)
	}
	if len(entries) == 0 {
		t.Fatal("no schema is published")
	}
	for _, entry := range entries {
		if _, err := FromFS(published.Files, entry.Name()); err != nil {
			t.Errorf("%s: %v", entry.Name(), err)
		}
	}
}
