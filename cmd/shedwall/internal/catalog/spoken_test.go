package catalog

import (
	"reflect"
	"testing"
)

// TestTablesInAnotherLanguage: texts change, everything else and the tables themselves
// stay.
func TestTablesInAnotherLanguage(t *testing.T) {
	make := func() *Tables {
		return &Tables{
			Guide:      Guide{Title: "t"},
			Stations:   []Station{{ID: "s", Name: "n", ObservedAt: "8"}},
			Bands:      []Band{{ID: "b", Name: "n"}},
			Crops:      []Crop{{ID: "c", Name: "n", Note: "n", Latin: "l"}},
			Classes:    []Class{{ID: "k", Name: "n"}},
			Covers:     []Cover{{ID: "v", Name: "n"}},
			Structures: []Structure{{Cover: Cover{ID: "w", Name: "n"}}},
			Layers:     []Layers{{ID: "v+w", Note: "n"}},
			Hazards:    []Hazard{{ID: "h", Caution: "c", Defer: "d"}},
			Logged:     []Logged{{ID: "l", Note: "n"}},
			Pots:       []Pot{{ID: "p", Name: "n"}},
			Sources:    []Source{{ID: "o", Kind: "memory", Title: "t", Read: "not read"}, {ID: "x", Kind: "paper", Title: "t"}},
		}
	}
	tables, before := make(), make()
	keys := map[string]bool{}
	other := tables.In(func(key, text string) string {
		keys[key] = true
		if !IsTextKey(key) {
			t.Errorf("%s is no key of a text", key)
		}
		return text + "!"
	})
	if !reflect.DeepEqual(tables, before) {
		t.Error("the tables were changed")
	}
	for _, key := range []string{"guide.title", "station.s.observed_at", "crop.c.name", "crop.c.also", "crop.c.note", "class.k.name",
		"cover.v.name", "cover.w.name", "layers.v+w.note", "hazard.h.caution", "hazard.h.defer", "source.read.not_read", "source.o.title", "pot.p.name", "logged.l.note"} {
		if !keys[key] {
			t.Errorf("%s was not asked for", key)
		}
	}
	if keys["source.x.title"] || keys["cover.v.note"] {
		t.Error("the title of a publication or a blank note was asked for")
	}
	if c := other.Crops[0]; c.Name != "n!" || c.Latin != "l" || c.ID != "c" {
		t.Errorf("%+v", c)
	}
	for _, key := range []string{"crop.kind", "crop.h.dates", "tonight.name", "guide.hello", "crop.a.b.name", "month.1"} {
		if IsTextKey(key) {
			t.Errorf("%s is a phrase of the pages", key)
		}
	}
}
