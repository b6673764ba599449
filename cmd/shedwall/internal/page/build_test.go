package page

import (
	"bytes"
	"encoding/csv"
	"io/fs"
	"os"
	"path/filepath"
	"reflect"
	"regexp"
	"strings"
	"testing"
	"testing/fstest"

	"shedwall/cmd/shedwall/internal/catalog"
	"shedwall/cmd/shedwall/internal/diag"
	"shedwall/cmd/shedwall/internal/prose"
	"shedwall/cmd/shedwall/internal/quantity"
	"shedwall/cmd/shedwall/internal/record"
)

// inlinesOf calls f for every run of text of a page.
func inlinesOf(p *Page, f func(Inline)) {
	each := func(in []Inline) {
		for _, x := range in {
			f(x)
		}
	}
	table := func(t Table) {
		f(Inline{Text: t.Caption})
		for _, h := range t.Head {
			f(Inline{Text: h})
		}
		for _, r := range t.Rows {
			for _, c := range r {
				each(c)
			}
		}
	}
	for _, b := range p.Blocks {
		switch b := b.(type) {
		case Heading:
			each(b.Text)
		case Para:
			each(b.Text)
		case Note:
			each(b.Text)
		case List:
			for _, i := range b.Items {
				each(i)
			}
		case Facts:
			for _, i := range b.Items {
				f(Inline{Text: i.Name})
				each(i.Value)
				each(i.Detail)
			}
		case Contents:
			each(b.Items)
		case Table:
			table(b)
		case Chart:
			table(b.Twin)
		}
	}
}

func pageText(p *Page) string {
	var b strings.Builder
	inlinesOf(p, func(i Inline) { b.WriteString(i.Text + "\n") })
	return b.String()
}

func pageAt(t *testing.T, g *Guide, path string) *Page {
	t.Helper()
	for _, p := range g.Pages {
		if p.Path == path {
			return p
		}
	}
	t.Fatalf("there is no page %s", path)
	return nil
}

// checkGuide looks at what must hold for every guide, whatever its tables.
func checkGuide(t *testing.T, g *Guide, in Input) {
	t.Helper()
	if m := in.Book.Missing(); len(m) > 0 {
		t.Errorf("phrases missing: %v", m)
	}
	files := map[string]bool{}
	anchors := map[string]bool{}
	titles := map[string]string{}
	for _, p := range g.Pages {
		if files[HTML(p.Path)] {
			t.Errorf("two pages at %s", p.Path)
		}
		files[HTML(p.Path)] = true
		if other := titles[p.Title]; other != "" {
			t.Errorf("%s has the title of %s", p.Path, other)
		}
		titles[p.Title] = p.Path
		for _, id := range ids(p) {
			if anchors[HTML(p.Path)+"#"+id] {
				t.Errorf("%s: the anchor %q stands twice", p.Path, id)
			}
			anchors[HTML(p.Path)+"#"+id] = true
		}
	}
	for _, s := range g.Sheets {
		files[HTML(s.Path)], files[SheetPDF(s.Path, "letter")], files[SheetPDF(s.Path, "a4")] = true, true, true
	}
	for _, l := range g.Leaves {
		files[LeafPDF(l.Path, "letter")], files[LeafPDF(l.Path, "a4")] = true, true
	}
	for _, f := range g.Files {
		files[f.Path] = true
	}
	for _, c := range g.Calendars {
		files[c.Path] = true
	}
	files[SumsFile] = true // publish writes it
	for _, p := range g.Pages {
		level := 0
		for _, b := range p.Blocks {
			if h, ok := b.(Heading); ok {
				if h.Level > level+1 || h.Level == 1 && level != 0 {
					t.Errorf("%s: heading %v of level %d after level %d", p.Path, h.Text, h.Level, level)
				}
				level = h.Level
			}
		}
		inlinesOf(p, func(i Inline) {
			if strings.Contains(i.Text, "{") || strings.Contains(i.Text, "[") && !strings.Contains(i.Text, "]") {
				t.Errorf("%s: a phrase was not filled: %q", p.Path, i.Text)
			}
			if i.Href == "" || strings.Contains(strings.SplitN(i.Href, "/", 2)[0], ":") {
				return
			}
			file, fragment, has := strings.Cut(i.Href, "#")
			if file == "" {
				file = HTML(p.Path)
			}
			if !files[file] {
				t.Errorf("%s: link %q leads to no file", p.Path, i.Href)
			}
			if has && !anchors[file+"#"+fragment] {
				t.Errorf("%s: link %q leads to no place in the page", p.Path, i.Href)
			}
		})
	}
}

func ids(p *Page) []string {
	var out []string
	add := func(id string) {
		if id != "" {
			out = append(out, id)
		}
	}
	table := func(t Table) {
		add(t.ID)
		for _, id := range t.RowIDs {
			add(id)
		}
	}
	for _, b := range p.Blocks {
		switch b := b.(type) {
		case Heading:
			add(b.ID)
		case Table:
			table(b)
		case Chart:
			add(b.ID)
			table(b.Twin)
		}
	}
	return out
}

func TestBuild(t *testing.T) {
	in := input(t, tables(), quantity.North, nil)
	g := Build(in)
	checkGuide(t, g, in)
	for _, path := range []string{"index", "find", "quality", "safety", "sources", "bands/slopes/index", "bands/slopes/sentences", "crops/kale", "covers/fabric"} {
		pageAt(t, g, path)
	}
	slopes := pageText(pageAt(t, g, "bands/slopes/index"))
	for _, want := range []string{
		"Your zone tells which plants live through winter. Your frost dates tell when to sow; two gardens in one zone can differ by 100 days.",
		"1 year in 10", "half the years", "−2.2 °C (28 °F): hard freeze", "Read the label. Ask: the label.",
	} {
		if !strings.Contains(strings.ReplaceAll(slopes, "\u00a0", " "), want) {
			t.Errorf("the band page does not say %q", want)
		}
	}
	if n := strings.Count(slopes, "These odds assume that nobody watches the forecast. If you do, and can cover, your risk is lower."); n != 1 {
		t.Errorf("the forecast is spoken of %d times", n)
	}
	kale := pageText(pageAt(t, g, "crops/kale"))
	for _, want := range []string{"soil, not frost, holds sowing until", "A house 1999", "nobody gave it"} {
		if !strings.Contains(strings.ToLower(kale), strings.ToLower(want)) {
			t.Errorf("the kale page does not say %q", want)
		}
	}
	if mystery := pageText(pageAt(t, g, "crops/mystery")); !strings.Contains(mystery, "not known") || strings.Contains(mystery, "0 °C") {
		t.Errorf("a crop without figures must say so and show no zero:\n%s", mystery)
	}
	if cover := pageText(pageAt(t, g, "covers/fabric")); !strings.Contains(cover, "does not help at all") {
		t.Error("a cover with a gain below zero must say that it may not help")
	}
	sources := pageAt(t, g, "sources")
	inlinesOf(sources, func(i Inline) {
		if strings.Contains(i.Href, "javascript") {
			t.Errorf("an address of a table reached the page: %q", i.Href)
		}
	})
}

func TestBuildTwiceIsTheSame(t *testing.T) {
	in := input(t, tables(), quantity.North, nil)
	a, b := Build(in), Build(input(t, tables(), quantity.North, nil))
	if len(a.Files) != len(b.Files) || len(a.Pages) != len(b.Pages) {
		t.Fatal("two builds differ")
	}
	for i, f := range a.Files {
		if room := []byte("what lay there before"); f.Path != b.Files[i].Path || !bytes.Equal(f.Content(room), b.Files[i].Content(nil)) {
			t.Errorf("%s differs between two builds", f.Path)
		}
	}
	for i := range a.Pages {
		if pageText(a.Pages[i]) != pageText(b.Pages[i]) {
			t.Errorf("%s differs between two builds", a.Pages[i].Path)
		}
	}
	for i := range a.Sheets {
		if !reflect.DeepEqual(a.Sheets[i], b.Sheets[i]) {
			t.Errorf("%s differs between two builds", a.Sheets[i].Path)
		}
	}
}

// Guides of all kinds must build: nothing but bands, nothing at all, southern
// summers, bands in which it may freeze in any month.
func TestOddGuides(t *testing.T) {
	for _, c := range []struct {
		name   string
		h      quantity.Hemisphere
		change func(*catalog.Tables)
	}{
		{"southern", quantity.South, func(t *catalog.Tables) {
			t.Stations[0].Latitude, t.Stations[1].Latitude = known(-44.0), known(-44.1)
		}},
		{"no bands", quantity.North, func(t *catalog.Tables) { t.Bands = nil }},
		{"no crops, covers, hazards, sources or places", quantity.North, func(t *catalog.Tables) {
			t.Crops, t.Covers, t.Layers, t.Hazards, t.Sources, t.Places = nil, nil, nil, nil, nil, nil
		}},
		{"no stations", quantity.North, func(t *catalog.Tables) { t.Stations = nil }},
		{"a band without figures", quantity.North, func(t *catalog.Tables) { t.Bands = []catalog.Band{{ID: "x", Name: "X"}} }},
		{"a very cold band", quantity.North, func(t *catalog.Tables) {
			t.Bands[1].Low, t.Bands[1].High = known(quantity.Metres(2500)), known(quantity.Metres(2700))
		}},
	} {
		t.Run(c.name, func(t *testing.T) {
			tb := tables()
			c.change(tb)
			in := input(t, tb, c.h, nil)
			checkGuide(t, Build(in), in)
		})
	}
}

// RFC 4180: the same number of fields in every record, lines end in CR LF. A text
// that begins like a formula gets an apostrophe; bare negative numbers would not.
func TestCalendarFile(t *testing.T) {
	g := Build(input(t, tables(), quantity.North, nil))
	for _, f := range g.Files {
		content := f.Content(nil)
		if n, m := bytes.Count(content, []byte("\n")), bytes.Count(content, []byte("\r\n")); n != m || n < 10 {
			t.Errorf("%s: %d line ends, %d of them CR LF", f.Path, n, m)
		}
		rows, err := csv.NewReader(bytes.NewReader(content)).ReadAll() // refuses rows of unequal length
		if err != nil {
			t.Fatal(err)
		}
		if !reflect.DeepEqual(rows[0], calendarHeads) {
			t.Errorf("%s: headings %v", f.Path, rows[0])
		}
		date := regexp.MustCompile(`^(\d\d-\d\d)?$`)
		for i, r := range rows[1:] {
			for _, cell := range r {
				if cell != "" && strings.ContainsRune("=+@", rune(cell[0])) {
					t.Errorf("%s line %d: %q would run as a formula", f.Path, i+2, cell)
				}
			}
			if !date.MatchString(r[8]) || !date.MatchString(r[9]) || r[13] == "" {
				t.Errorf("%s line %d: %v", f.Path, i+2, r)
			}
		}
		if !bytes.Contains(content, []byte("'=Mystery")) {
			t.Errorf("%s: the formula-like name is not guarded", f.Path)
		}
	}
	for in, want := range map[string]string{"-2.2": "-2.2", "-x": "'-x", "+1": "+1", "=1+1": "'=1+1", "@a": "'@a", "": "", "kale": "kale"} {
		if got := safeCell(in); got != want {
			t.Errorf("%q is written %q, want %q", in, got, want)
		}
	}
}

// Places of the demo story: Nether Sumpney lies at 860 m in a hollow band of
// 850-1,050 m, within 50 m of the slope band of 680-880 m, so that both are shown.
func TestBandsForPlaces(t *testing.T) {
	row := func(id string, low, high float64, p catalog.Position) *catalog.Band {
		return &catalog.Band{ID: id, Low: known(quantity.Metres(low)), High: known(quantity.Metres(high)), Position: known(p)}
	}
	rows := []*catalog.Band{row("floor", 560, 680, catalog.Floor), row("slopes", 680, 880, catalog.Slope), row("upper", 880, 1050, catalog.Slope),
		row("hollow", 850, 1050, catalog.Hollow), row("ridge", 1050, 1250, catalog.Ridge)}
	names := func(bs []*catalog.Band) string {
		var out []string
		for _, b := range bs {
			out = append(out, b.ID)
		}
		return strings.Join(out, " ")
	}
	for _, c := range []struct {
		z              quantity.Metres
		pos            catalog.Position
		known          bool
		inside, border string
	}{
		{860, catalog.Hollow, true, "hollow", "slopes"},
		{920, catalog.Hollow, true, "hollow", ""},
		{770, catalog.Slope, true, "slopes", ""},
		{640, catalog.Floor, true, "floor", "slopes"},
		{880, catalog.Slope, true, "slopes upper", ""},       // the limit belongs to both
		{835, catalog.Slope, true, "slopes", "upper"},        // 45 m below the limit
		{829, catalog.Slope, true, "slopes", ""},             // 51 m below it
		{1030, catalog.Hollow, true, "hollow", "ridge"},      // no hollow beyond: any position
		{900, catalog.Ridge, true, "upper hollow", "slopes"}, // no ridge at this height: every band of it
		{900, catalog.Slope, false, "upper hollow", "slopes"},
		{1290, catalog.Ridge, true, "", "ridge"}, // 40 m above all bands
		{1400, catalog.Ridge, true, "", ""},
		{500, catalog.Floor, true, "", ""},
	} {
		inside, border := bandsFor(rows, c.z, c.pos, c.known)
		if names(inside) != c.inside || names(border) != c.border {
			t.Errorf("%v m, %v: in %q, near %q; want %q, %q", c.z, c.pos, names(inside), names(border), c.inside, c.border)
		}
	}
}

// The curve falls through spring and rises through fall, and passes 1 in 10 on the
// careful dates of the odds table.
func TestSeasonCurve(t *testing.T) {
	in := input(t, tables(), quantity.North, nil)
	g := Build(in)
	var chart Chart
	for _, b := range pageAt(t, g, "bands/slopes/index").Blocks {
		if c, ok := b.(Chart); ok {
			chart = c
		}
	}
	if len(chart.Lines) != 3 || len(chart.Lines[0].Y) != 366 {
		t.Fatalf("%d lines", len(chart.Lines))
	}
	for _, l := range chart.Lines {
		lowest := 0
		for d, y := range l.Y {
			if y < l.Y[lowest] {
				lowest = d
			}
		}
		for d := 1; d < len(l.Y); d++ {
			if d <= lowest && l.Y[d] > l.Y[d-1] || d > lowest+100 && l.Y[d] < l.Y[d-1] {
				t.Errorf("%s turns on day %d", l.Name, d)
				break
			}
		}
	}
	last := freeze(in.Bands[0].Climate, record.Last, quantity.Careful, 0)
	if y := chart.Lines[0].Y[chart.Marks[0].At]; y < 0.5 || y > 1.5 {
		t.Errorf("on the careful date (slot %d) the curve stands at %v years in ten, want 1", last.Slot, y)
	}
	if got := len(chart.Twin.Rows); got != len(twinOdds) {
		t.Errorf("the twin has %d rows", got)
	}
}

func TestTexts(t *testing.T) {
	file := func(s string) *fstest.MapFile { return &fstest.MapFile{Data: []byte(s)} }
	var faults diag.List
	texts, err := prose.ReadFolder(fstest.MapFS{
		"index.md":        file("# Welcome\n\nSee [kale](crops/kale.md#figures) and [beet](crops/beet.md)."),
		"soil.md":         file("# Soil\n\n[Slopes](bands/slopes.md)"),
		"crops/kail.md":   file("# Kale"),
		"bands/slopes.md": file("# Slopes\n\n[Back](../index.md)"),
	}, nil, &faults)
	if err != nil || faults.Len() > 0 {
		t.Fatal(err, faults.Sorted())
	}
	in := input(t, tables(), quantity.North, texts)
	g := Build(in)
	checkGuide(t, g, in)
	pageAt(t, g, "soil")
	if !strings.Contains(pageText(pageAt(t, g, "index")), "Soil") {
		t.Error("no link leads to the text soil")
	}
	CheckLinks(in.Tables, texts, &faults)
	var got []string
	for _, f := range faults.Sorted() {
		got = append(got, f.At.String()+" "+f.ID)
	}
	if s := strings.Join(got, ", "); s != "content/crops/kail.md prose-no-page, content/index.md:3:39 prose-link-nowhere" {
		t.Errorf("faults %s", s)
	}
	known := paths(in.Tables, texts)
	for target, want := range map[prose.Target]string{
		{Doc: "crops/kale", Fragment: "figures"}: "crops/kale.html#figures",
		{Doc: "bands/slopes"}:                    "bands/slopes/index.html",
		{Doc: "crops/beet"}:                      "",
		{Fragment: "text-index-1"}:               "#text-index-1",
	} {
		if got := targetPath(target, known); got != want {
			t.Errorf("%+v goes to %q, want %q", target, got, want)
		}
	}
}

func TestAddresses(t *testing.T) {
	for in, want := range map[string]string{
		"post@example.org": "mailto:post@example.org", "https://example.org/a": "https://example.org/a", "www.example.org": "https://www.example.org",
		"javascript:alert(1)": "", "data:text/html,x": "", "file:///etc": "", "ring 555 0100": "", "a@b": "", "": "", "MAILTO:a@example.org": "mailto:a@example.org",
		"https://example.org/\" onclick=": "", "java\tscript:x@y.z": "",
	} {
		if got := address(in); got != want {
			t.Errorf("%q becomes %q, want %q", in, got, want)
		}
	}
}

// Every phrase of words.csv is used somewhere: as a whole key, or by a key put
// together from a beginning that stands in the code.
func TestEveryPhraseIsUsed(t *testing.T) {
	var code strings.Builder
	err := filepath.WalkDir("../..", func(p string, e fs.DirEntry, err error) error {
		if err != nil || e.IsDir() || !strings.HasSuffix(p, ".go") || strings.HasSuffix(p, "_test.go") {
			return err
		}
		b, err := os.ReadFile(p)
		code.Write(b)
		return err
	})
	if err != nil {
		t.Fatal(err)
	}
	text := code.String()
	for _, e := range builtinWords(t) {
		used := strings.Contains(text, `"`+e.Key+`"`)
		for i, r := range e.Key {
			counted := e.Key[i:] == ".one" || e.Key[i:] == ".other"
			if r == '.' && strings.Contains(text, `"`+e.Key[:i+1]+`"`) || counted && strings.Contains(text, `"`+e.Key[:i]+`"`) {
				used = true
			}
		}
		if stem, ok := strings.CutSuffix(e.Key, "_any"); ok && strings.Contains(text, `"`+stem+`"`) {
			used = true
		}
		if !used {
			t.Errorf("no page uses the phrase %q", e.Key)
		}
		if strings.TrimSpace(e.Text["en"]) != e.Text["en"] {
			t.Errorf("%q begins or ends with a blank, which tables lose", e.Key)
		}
	}
}

func BenchmarkBuild(b *testing.B) {
	in := input(b, tables(), quantity.North, nil)
	for b.Loop() {
		Build(in)
	}
}
