package page

import (
	"strings"
	"testing"

	"shedwall/cmd/shedwall/internal/band"
	"shedwall/cmd/shedwall/internal/catalog"
	"shedwall/cmd/shedwall/internal/diag"
	"shedwall/cmd/shedwall/internal/quantity"
	"shedwall/cmd/shedwall/internal/record"
	"shedwall/cmd/shedwall/internal/words"
)

// Changes within the years used are named, older ones are not.
func TestChanges(t *testing.T) {
	d := &record.Daily{Changes: []record.Change{
		{Day: quantity.DayOf(1980, 5, 1), What: record.Moved, Before: "a", After: "b"},
		{Day: quantity.DayOf(2001, 5, 1), What: record.Moved, Before: "44.2000 N, 300 m", After: "44.2100 N, 340 m"},
		{Day: quantity.DayOf(2003, 6, 2), What: record.OtherHour, Before: "17:00", After: "07:00"},
	}}
	var faults diag.List
	region := &band.Region{Stations: []*band.Station{{Row: &catalog.Station{Name: "Mill"}, Record: d, First: 1991, Last: 2020}}}
	b := &builder{Input: Input{Region: region}, words: words.NewBook(builtinWords(t), "en", words.Both, &faults)}
	blocks := b.changes()
	if len(blocks) != 2 {
		t.Fatalf("%d blocks, want a paragraph and a list", len(blocks))
	}
	var text []string
	for _, item := range blocks[1].(List).Items {
		text = append(text, item[0].Text)
	}
	want := []string{
		"Mill stands in another place since 1 May 2001: 44.2100 N, 340 m; before, 44.2000 N, 300 m.",
		"Mill is read at another hour since 2 June 2003: 07:00; before, 17:00.",
	}
	if got := strings.Join(text, "\n"); got != strings.Join(want, "\n") {
		t.Errorf("%s\nwant\n%s", got, strings.Join(want, "\n"))
	}
	d.Changes = d.Changes[:1]
	if b.changes() != nil {
		t.Error("a change before the years used is named")
	}
}
