package catalog

import "testing"

func TestTheNarrowestChoiceCounts(t *testing.T) {
	c := Choices{
		{Layers: "fabric", Planned: true, Shown: ShownYes},
		{Crop: "tomato", Layers: "tunnel", Planned: true},
		{Band: "ridge", Layers: "", Planned: true},
		{Band: "school", Shown: ShownNo},
		{Band: "school", Crop: "radish", Shown: ShownYes},
		{Band: "ridge", Crop: "pea", Layers: "tunnel+fabric", Planned: true},
	}
	for _, x := range []struct {
		band, crop, layers string
		shown              bool
	}{
		{"slopes", "kale", "fabric", true},   // the row for all
		{"slopes", "tomato", "tunnel", true}, // the crop in all bands before all
		{"ridge", "tomato", "", true},        // the band for all crops before the crop in all bands
		{"ridge", "pea", "tunnel+fabric", true},
		{"school", "kale", "fabric", false}, // left off, covers from the wider row
		{"school", "radish", "fabric", true},
	} {
		layers, named := c.Layers(x.band, x.crop)
		if layers != x.layers || !named || c.Shown(x.band, x.crop) != x.shown {
			t.Errorf("%s %s: %q %v shown %v, want %q and %v", x.band, x.crop, layers, named, c.Shown(x.band, x.crop), x.layers, x.shown)
		}
	}
	if _, named := (Choices{{Band: "a", Layers: "x", Planned: true}}).Layers("b", "kale"); named {
		t.Error("a row of another band counts")
	}
	if !(Choices{}).Shown("b", "kale") {
		t.Error("without rows a crop is left off")
	}
}
