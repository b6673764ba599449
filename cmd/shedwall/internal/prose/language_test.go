package prose

import (
	"bytes"
	"image"
	"image/png"
	"testing"
	"testing/fstest"

	"shedwall/cmd/shedwall/internal/diag"
)

func textFile(s string) *fstest.MapFile { return &fstest.MapFile{Data: []byte(s)} }

// TestLanguages: which text a page shows, for a publisher who writes English and
// translates some of it.
func TestLanguages(t *testing.T) {
	var dot bytes.Buffer
	if err := png.Encode(&dot, image.NewGray(image.Rect(0, 0, 1, 1))); err != nil {
		t.Fatal(err)
	}
	own := fstest.MapFS{
		"compost.md":         textFile("# Compost\n\nOwn.\n"),
		"es/compost.md":      textFile("# Composta\n\nPropio. [Col](crops/kale.md) ![hoja](../images/a.png)\n\n## Más\n"),
		"worms.md":           textFile("# Worms\n\nOwn.\n"),
		"crops/kale.md":      textFile("# Kale\n\nOwn.\n"),
		"images/a.png":       {Data: dot.Bytes()},
		"es/bands/low.md":    textFile("# Abajo\n\nPropio.\n"),
		"es/crops/tomato.md": textFile("# Tomate\n\nPropio.\n"),
	}
	defaults := fstest.MapFS{
		"how.md":            textFile("# How\n\nDefault.\n"),
		"es/how.md":         textFile("# Cómo\n\nDe fábrica.\n"),
		"crops/tomato.md":   textFile("# Tomato\n\nDefault.\n"),
		"es/crops/kale.md":  textFile("# Col\n\nDe fábrica.\n"),
		"crops/pea.md":      textFile("# Pea\n\nDefault.\n"),
		"bands/demo.md":     textFile("# Demo\n\nDefault.\n"),
		"es/bands/demo.md":  textFile("# Demo\n\nDe fábrica.\n"),
		"es/index.md":       textFile("# Portada\n\nDe fábrica.\n"),
		"es/crops/thyme.md": textFile("# Tomillo\n\nDe fábrica.\n"),
	}
	var faults diag.List
	all, err := ReadFolder(own, defaults, &faults)
	if err != nil || faults.Len() > 0 {
		t.Fatal(err, faults.Sorted())
	}
	en, es, fr := all.In("en", "en"), all.In("es", "en"), all.In("fr", "en")
	for _, c := range []struct {
		name    string
		l       *Library
		id      string
		title   string // "" = there is no such text
		foreign string
	}{
		{"en", en, "compost", "Compost", ""}, {"en", en, "how", "How", ""}, {"en", en, "bands/low", "", ""},
		{"es", es, "compost", "Composta", ""}, {"es", es, "how", "Cómo", ""},
		{"es", es, "worms", "Worms", "en"},               // the publisher's, not translated
		{"es", es, "crops/kale", "Kale", "en"},           // a default's translation is not that of the publisher's text
		{"es", es, "crops/tomato", "Tomate", ""},         // the publisher's translation of a default
		{"es", es, "crops/pea", "Pea", "en"},             // a default, not translated
		{"es", es, "crops/thyme", "Tomillo", ""},         // only in Spanish
		{"es", es, "bands/low", "Abajo", ""},             //
		{"es", es, "bands/demo", "", ""},                 // of another region
		{"es", es, "index", "", ""},                      // likewise
		{"fr", fr, "how", "How", "en"},                   //
		{"fr", fr, "worms", "Worms", "en"},               //
		{"en", en, "crops/tomato", "Tomato", ""},         //
		{"es", all.In("es", "es"), "worms", "Worms", ""}, // where Spanish is the guide's own language
		{"en", all.In("en", "es"), "worms", "Worms", "es"},
	} {
		d := c.l.Doc(c.id)
		switch {
		case d == nil && c.title != "":
			t.Errorf("%s: no text %s", c.name, c.id)
		case d != nil && (d.Title != c.title || d.Foreign != c.foreign):
			t.Errorf("%s: %s is %q (%q), want %q (%q)", c.name, c.id, d.Title, d.Foreign, c.title, c.foreign)
		}
	}
	d := es.Doc("compost")
	var to []string
	d.Targets(func(i Inline) { to = append(to, i.Target.Doc) })
	if len(to) != 2 || to[0] != "crops/kale" || to[1] != "images/a.png" {
		t.Errorf("targets %v", to)
	}
	if h, ok := d.Blocks[len(d.Blocks)-1].(Heading); !ok || h.ID != "text-compost-1" {
		t.Errorf("the heading's anchor is %q; it must be the same in every language", h.ID)
	}
}
