package wire

import "testing"

// Whatever text is read as a conductor has a positive resistance and a name
// that reads back as the same conductor.
func FuzzParseConductor(f *testing.F) {
	for _, text := range []string{"12 AWG", "4/0 AWG", "2.5 mm2", "10 mm²", "0x1p-2 mm2", "1e0 mm2", "ſ AWG", ""} {
		f.Add(text, "", "")
	}
	f.Add("12 AWG", "aluminium", "fine-stranded")
	f.Fuzz(func(t *testing.T, size, material, stranding string) {
		c, err := ParseConductor(size, Material(material), Stranding(stranding))
		if err != nil {
			return
		}
		again, err := ParseConductor(c.Name, c.Material, c.Stranding)
		if err != nil || again != c || !(c.OhmPerM20 > 0) || !(c.AreaMM2 > 0) || c.Source == "" {
			t.Errorf("%q: %+v, again %+v, %v", size, c, again, err)
		}
	})
}
