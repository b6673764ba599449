package intake

import (
	"fmt"
	"strings"

	"shedwall/cmd/shedwall/internal/catalog"
	"shedwall/cmd/shedwall/internal/figure"
	"shedwall/cmd/shedwall/internal/quantity"
	"shedwall/cmd/shedwall/internal/table"
)

type choiceRow struct {
	Band   table.Cell `csv:"band" table:"key"`
	Crop   table.Cell `csv:"crop" table:"key"`
	Layers table.Cell `csv:"layers"`
	Show   table.Cell `csv:"show"`
	Note   table.Cell `csv:"note"`
}

// everyOne stands in sheets.csv for all bands or all crops, openGround for no covers.
const everyOne, openGround = "all", "open"

// readSheets reads sheets.csv: crops and covers for the sheets of bands. Whether bands,
// crops and covers exist is checked with all tables read.
func (l *loader) readSheets(t *catalog.Tables) {
	var bands, crops, covers []string
	for i := range t.Bands {
		bands = append(bands, t.Bands[i].ID)
	}
	for i := range t.Crops {
		crops = append(crops, t.Crops[i].ID)
	}
	for i := range t.Covers {
		covers = append(covers, t.Covers[i].ID)
	}
	for _, j := range identify(l, layout[choiceRow]{
		key: func(r *choiceRow) table.Cell { return r.Band },
		id: func(r *choiceRow, _ []string) string {
			band, crop := r.Band.KeyID(append(bands, everyOne)), r.Crop.KeyID(append(crops, everyOne))
			if band == "" || crop == "" {
				return ""
			}
			return band + "/" + crop
		},
	}, read[choiceRow](l, "sheets", figure.Own, optional, table.Spec{}), nil) {
		r := j.row
		band, crop, _ := strings.Cut(j.id, "/")
		c := catalog.Choice{Band: forAll(band), Crop: forAll(crop), Cell: r.Band.At(), BandCell: r.Band.At(), CropCell: r.Crop.At(), LayersCell: r.Layers.At()}
		if ids := r.Layers.IDs("+", append(covers, openGround)); len(ids) > 0 {
			c.Layers, c.Planned = strings.Join(ids, "+"), true
			if c.Layers == openGround {
				c.Layers = ""
			}
		}
		if show, said := r.Show.YesNo().Get(); said {
			c.Shown = catalog.ShownNo
			if show {
				c.Shown = catalog.ShownYes
			}
		}
		if !c.Planned && c.Shown == catalog.ShownNotSaid && r.Layers.Blank() && r.Show.Blank() {
			r.Band.Note("sheets-row-empty", fmt.Sprintf("the row of %s chooses nothing", j.id))
			continue
		}
		t.Sheets = append(t.Sheets, c)
	}
}

func forAll(id string) string {
	if id == everyOne {
		return ""
	}
	return id
}

// startMonth reads the month with which task lists begin.
func startMonth(c table.Cell) int {
	text := strings.ToLower(c.Text())
	if text == "" {
		return 0
	}
	m := monthWord(text)
	if m == 0 {
		c.Fault("setting-unreadable", fmt.Sprintf("%q is no month", c.Text()), "a month such as 9 or September", "write one, or leave the cell empty for the first month of the local season")
	}
	return m
}

// termDay reads the first or last day of a term.
func termDay(c table.Cell) quantity.MonthDay {
	if c.Blank() {
		return quantity.MonthDay{}
	}
	d, ok := dateOf(c, false)
	if !ok {
		return quantity.MonthDay{}
	}
	return quantity.MonthDay{Month: d.month, Day: d.day}
}
