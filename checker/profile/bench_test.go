package profile

import "testing"

// BenchmarkLoad reads the bundled profiles, as every process does once.
func BenchmarkLoad(b *testing.B) {
	folder, err := bundledFolder()
	if err != nil {
		b.Fatal(err)
	}
	for b.Loop() {
		set, err := loadTrusted(folder)
		if err != nil {
			b.Fatal(err)
		}
		for _, name := range set.Names() {
			if _, known := set.Profile(name); !known {
				b.Fatal(name)
			}
		}
	}
}

// BenchmarkStack stacks three profiles, as every plan does once.
func BenchmarkStack(b *testing.B) {
	set, err := Bundled()
	if err != nil {
		b.Fatal(err)
	}
	for b.Loop() {
		if _, err := set.Stack([]string{"us-nec-2020", "lz1", "shore-wildlife"}); err != nil {
			b.Fatal(err)
		}
	}
}
