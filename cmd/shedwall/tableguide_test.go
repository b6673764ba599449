package main

import (
	"bytes"
	"os"
	"path/filepath"
	"strings"
	"testing"

	"shedwall/cmd/shedwall/internal/proof"
)

const smallGuide = "setting,value\ntitle,Two dates\npublisher,A test\ncontact,test@example.org\nedition,1\nedition_date,2026-01-15\nlanguage,en\n"

// tableGuide writes a guide folder without a single daily record.
func tableGuide(t *testing.T, files map[string]string) string {
	t.Helper()
	dir := t.TempDir()
	for name, text := range files {
		p := filepath.Join(dir, filepath.FromSlash(name))
		if err := os.MkdirAll(filepath.Dir(p), 0o755); err != nil {
			t.Fatal(err)
		}
		if err := os.WriteFile(p, []byte(text), 0o644); err != nil {
			t.Fatal(err)
		}
	}
	return dir
}

// published publishes a guide and gives its files to read, with plain spaces where the page
// has some that do not break.
func published(t *testing.T, dir string) func(file string) string {
	t.Helper()
	var out, messages bytes.Buffer
	if code := run([]string{"publish", "--guide", dir}, &out, &messages); code != exitDone {
		t.Fatalf("publish ended with %d:\n%s%s", code, out.String(), messages.String())
	}
	return func(file string) string {
		text, err := os.ReadFile(filepath.Join(dir, "public", filepath.FromSlash(file)))
		if err != nil {
			t.Error(err)
		}
		return strings.ReplaceAll(string(text), "\u00a0", " ")
	}
}

func explained(t *testing.T, args ...string) string {
	t.Helper()
	var out, messages bytes.Buffer
	if code := run(append([]string{"explain", "date"}, args...), &out, &messages); code != exitDone {
		t.Errorf("explain %q ended with %d:\n%s", args, code, messages.String())
	}
	return out.String()
}

// A guide whose stations have two typed average dates each publishes, north and south,
// and everything with dates on it calls them estimates and says what they do not wait for.
func TestTypedGuide(t *testing.T) {
	for _, half := range []struct{ name, latitude, last, first, careful string }{
		// By hand, at the height of the station (careful at the band's upper end, T* 0.45 C):
		// 12 May + 0.45 x 7 + 13 x 1.2816 = 31.8 May; half a year later in the south, 12
		// November and 1.8 December.
		{"north", "44.2", "12 May", "1 October", "1 June"},
		{"south", "-44.2", "12 November", "1 April", "2 December"},
	} {
		dir := tableGuide(t, map[string]string{
			"data/guide.csv":    smallGuide,
			"data/stations.csv": "station,name,latitude,longitude,elevation_m,position\nmill,Mill," + half.latitude + ",-72.1,300,slope\n",
			"data/freeze.csv":   "station,event,below_c,odds_percent,date\nmill,last,0,50," + half.last + "\nmill,first,0,50," + half.first + "\n",
			"data/bands.csv":    "band,name,low_m,high_m,position\nlow,Valley,250,400,slope\n",
			"data/places.csv":   "place,elevation_m,position\nTown,300,slope\n",
		})
		read := published(t, dir)
		const estimate, lead = "Every date here is an estimate.", "Estimate from typed average dates"
		for file, words := range map[string][]string{
			"index.html":               {estimate, half.careful, "frost dates published for the region"},
			"find.html":                {estimate},
			"quality.html":             {estimate, "typed average dates, estimate", "spread (standard deviation) of 13 days"},
			"bands/low/index.html":     {estimate, half.careful, "Soil is not known.", "Cold weeks are not known."},
			"bands/low/sentences.html": {estimate, "when it may come off for good is not known"},
			"bands/low/worksheet.html": {estimate, "Soil is not known."},
			"bands/low/tonight.html":   {"no cover"},
			"bands/low/sheet.html":     {lead, "No date waits for warm soil or mild weeks.", "Typed average dates, 1 station"},
			"crops/tomato.html":        {estimate, "Soil is not known.", "Cold weeks are not known."},
			"crops/pea.html":           {estimate},
			"bands/low/index.md":       {estimate},
			"bands/low/sheet-2.html":   {lead},
			"bands/low/sheet-a4.pdf":   nil,
			"bands/low/calendar.csv":   {",words,estimate", ",yes"},
		} {
			text := read(strings.TrimSpace(file))
			for _, w := range words {
				if !strings.Contains(text, w) {
					t.Errorf("%s: %s does not say %q", half.name, file, w)
				}
			}
		}
		got := explained(t, "--guide", dir, "--band", "low", "--crop", "tomato", "--action", "set-out")
		for _, w := range []string{"0.0 C in 50 % of years: " + half.last + "   data/freeze.csv:2", "an estimate", "it holds no date back", "= " + half.careful} {
			if !strings.Contains(got, w) {
				t.Errorf("%s: the explanation does not say %q:\n%s", half.name, w, got)
			}
		}
	}
}

// A typed guide with a mistake says where, and writes nothing.
func TestTypedGuideFaults(t *testing.T) {
	dir := tableGuide(t, map[string]string{
		"data/guide.csv":    smallGuide,
		"data/stations.csv": "station,name,latitude,longitude,elevation_m,position\nmill,Mill,44.2,-72.1,300,slope\n",
		"data/freeze.csv":   "station,event,below_c,odds_percent,date\nmill,last,0,10,2 May\nmill,last,0,50,12 May\n",
		"data/bands.csv":    "band,name,low_m,high_m,position\nlow,Valley,250,400,slope\n",
		"data/places.csv":   "place,elevation_m,position\nTown,300,slope\n",
	})
	var out, messages bytes.Buffer
	if code := run([]string{"publish", "--guide", dir}, &out, &messages); code != exitFaults || !strings.Contains(out.String()+messages.String(), "data/freeze.csv:2") {
		t.Errorf("ended with %d:\n%s%s", code, out.String(), messages.String())
	}
	if _, err := os.Stat(filepath.Join(dir, "public")); err == nil {
		t.Error("a site was written")
	}
}

// NCEI's normals of Lebanon NH in place of a record: its own dates about its own height
// (ANN-TMIN-PRBLST-T32FP10, 05/24; the band is a metre high), soil
// and weeks by monthly means, nothing about zones.
func TestNormalsGuide(t *testing.T) {
	files := map[string]string{
		"data/guide.csv":    smallGuide,
		"data/stations.csv": "station,name,latitude,longitude,elevation_m,position\nlebanon,Lebanon,43.6264,-72.3047,182.3,floor\n",
		"data/bands.csv":    "band,name,low_m,high_m,position\nfloor,Valley floor,182,183,floor\n",
		"data/places.csv":   "place,elevation_m,position\nTown,182,floor\n",
	}
	for name, file := range map[string]string{"lebanon.csv": "annualseasonal_1991-2020_USW00094765.csv", "lebanon-monthly.csv": "monthly_1991-2020_USW00094765.csv"} {
		text, err := os.ReadFile(filepath.Join(proof.RecordsDir(t), "normals", file))
		if err != nil {
			t.Fatal(err)
		}
		files["data/records/"+name] = string(text)
	}
	dir := tableGuide(t, files)
	read := published(t, dir)
	for file, words := range map[string][]string{
		"bands/floor/index.md":   {"**24 May**", "after 9 May", "**23 September**", "before 6 October", "**148 days**", "judged from monthly means", "zone not known", "22 of 22 years"},
		"bands/floor/sheet.html": {"Published frost dates 1991–2020, 1 station", "estimates from monthly means"},
		"crops/tomato.md":        {"judged from monthly means", "Cold weeks, not single frosts, hold setting out"},
		"quality.md":             {"1991–2020, published dates", "published dates from 22 years"},
	} {
		text := read(file)
		for _, w := range words {
			if !strings.Contains(text, w) {
				t.Errorf("%s does not say %q", file, w)
			}
		}
		if strings.Contains(text, "typed") && file != "quality.md" {
			t.Errorf("%s speaks of typed dates", file)
		}
	}
	got := explained(t, "--guide", dir, "--band", "floor", "--crop", "pea", "--action", "sow-outside")
	for _, w := range []string{"data/records/lebanon.csv", "ANN-TMIN-PRBLST-T24FP10", "soil: from the curve through its monthly means"} {
		if !strings.Contains(got, w) {
			t.Errorf("the explanation does not say %q:\n%s", w, got)
		}
	}
}
