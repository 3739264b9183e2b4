package profile

import (
	"flag"
	"os"
	"path/filepath"
	"testing"
)

// rewrite says that the pages are to be written, not compared.
var rewrite = flag.Bool("write-pages", false, "write docs/profiles anew")

// pagesFolder is where the pages stand.
const pagesFolder = "../../docs/profiles"

func TestPagesAreFresh(t *testing.T) {
	pages := bundled(t).Pages()
	if *rewrite {
		if err := os.MkdirAll(pagesFolder, 0o755); err != nil {
			t.Fatal(err)
		}
		for name, text := range pages {
			if err := os.WriteFile(filepath.Join(pagesFolder, name), []byte(text), 0o644); err != nil {
				t.Fatal(err)
			}
		}
	}
	const command = "go test ./checker/profile -run TestPagesAreFresh -write-pages"
	for name, want := range pages {
		got, err := os.ReadFile(filepath.Join(pagesFolder, name))
		if err != nil || string(got) != want {
			t.Errorf("docs/profiles/%s is stale (%v); run: %s", name, err, command)
		}
	}
	entries, err := os.ReadDir(pagesFolder)
	if err != nil {
		t.Fatal(err)
	}
	for _, entry := range entries {
		if _, ok := pages[entry.Name()]; !ok && filepath.Ext(entry.Name()) == ".md" {
			t.Errorf("docs/profiles/%s belongs to no profile; remove it", entry.Name())
		}
	}
}
