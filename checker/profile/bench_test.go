package profile

import "testing"

// BenchmarkLoad reads the bundled profiles, as every process does once.
func BenchmarkLoad(b *testing.B) {
	folder, err := bundledFolder()
	if err != nil {
		b.Fatal(err)
	}
	for b.Loop() {
		if _, err := loadTrusted(folder); err != nil {
			b.Fatal(err)
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
