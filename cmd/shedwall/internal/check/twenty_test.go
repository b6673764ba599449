package check

import (
	"fmt"
	"maps"
	"slices"
	"strings"
	"testing"
	"unicode/utf8"

	"shedwall/cmd/shedwall/internal/diag"
)

// twenty is a guide with twenty different mistakes. «id CELL» stands right before
// each one and is taken out before the guide is read, so that the expected line
// and column are those of the text itself and do not come from the reader.
var twenty = map[string]string{
	"data/guide.csv": "setting,value\ntitle,T\npublisher,P\ncontact,a@b.org\nedition,1\n" +
		"edition_date,«date-unreadable B6»5/6/2026\n" +
		"language,en\n" +
		"«word-unknown A8»untis,c\n",
	"data/stations.csv": "station;elevation_m;position;latitude;longitude\r\n" +
		"mill;«number-ambiguous B2»1,250;floor;44.2;-38\r\n" +
		"hill;905;slope;«number-out-of-range D3»443;-38\r\n" +
		"«id-repeated A4»mill;612;floor;44.2;-38\r\n",
	"data/bands.csv": "Bands of the valley,,,\n\nband,low_m,high_m,position\n" +
		"floor,560,680,floor\nslopes,680,880,slope\n" +
		"upper,«band-overlap B6»870,1000,slope\n" +
		"sump,850,«value-missing C7»,hollow\n" +
		"ridge,1000,1200,«word-unknown D8»rigde\n",
	"data/places.csv": "place,elevation_m,position\nMillfoot,600,floor\nHigh Farm,«place-outside B3»1320,slope\n",
	"data/crops.csv": "crop,name,grown_damage_c,«heading-unknown D1»yuong_damage_c,grown_kill_c,weeks_inside_low,source,group,start\n" +
		"kale,\"Kale,\nred\",-6.5,«number-unreadable D2»minus four,,,bulletin,,\n" +
		"«row-incomplete A3»kael,,-6,,,,,,\n" +
		"oca,Öca,0,,«limit-order E4»1,«number-date F4»4-Feb,bulletin,vegetable,inside\n" +
		"leek,Leek,-4,,,,«source-unknown G5»buletin,vegetable,inside\n" +
		"rye,Rye,-5,,,,bulletin,vegetable,outside,«row-long J6»x\n" +
		"oat,«quote-broken»\"Oat,-5,,,,bulletin,vegetable,outside\n",
	"data/covers.csv": "cover\tname\tkind\tletter\t«heading-without-unit E1»gain_low\tvent_c\tsource\n" +
		"tent\tTent\tfilm\tZ\t1\t«unit-wrong F2»16 m\tbulletin\n" +
		"shed\tShed\tglass\tY\t2\t10\tbulletin\n",
	"data/layers.csv": "layers,measured\n«cover-unknown A2»tunel+fabric,no\n",
}

func TestTwentyMistakes(t *testing.T) {
	files := map[string]string{}
	var want []string
	for _, name := range slices.Sorted(maps.Keys(twenty)) {
		text := twenty[name]
		for {
			before, rest, ok := strings.Cut(text, "«")
			if !ok {
				break
			}
			mark, after, _ := strings.Cut(rest, "»")
			line := 1 + strings.Count(before, "\n")
			column := 1 + utf8.RuneCountInString(before[strings.LastIndex(before, "\n")+1:])
			want = append(want, strings.TrimSpace(fmt.Sprintf("%s:%d:%d %s", name, line, column, mark)))
			text = before + after
		}
		files[name] = text
	}
	tables, faults := load(t, files)
	faults.Merge(Tables(tables))
	var got []string
	for _, f := range faults.Sorted() {
		if f.Severity == diag.Error {
			got = append(got, strings.TrimSpace(fmt.Sprintf("%s:%d:%d %s %s", f.At.File, f.At.Line, f.At.Column, f.ID, f.At.Cell)))
		}
	}
	if len(want) != 20 {
		t.Errorf("the guide has %d mistakes", len(want))
	}
	if !slices.Equal(got, want) {
		t.Errorf("got\n%s\nwant\n%s", strings.Join(got, "\n"), strings.Join(want, "\n"))
		for _, f := range faults.Sorted() {
			t.Log(f)
		}
	}
}
