package intake

import (
	"fmt"
	"io/fs"
	"slices"
	"strings"

	"shedwall/cmd/shedwall/internal/diag"
	"shedwall/cmd/shedwall/internal/figure"
	"shedwall/cmd/shedwall/internal/quantity"
	"shedwall/cmd/shedwall/internal/record"
	"shedwall/cmd/shedwall/internal/table"
)

type freezeRow struct {
	Station table.Cell `csv:"station" table:"key"`
	Event   table.Cell `csv:"event" table:"required"`
	Below   table.Cell `csv:"below_c,below_f" table:"number,required"`
	Odds    table.Cell `csv:"odds_percent" table:"number,required"`
	Date    table.Cell `csv:"date" table:"required"`
	Note    table.Cell `csv:"note"`
}

// freezeWords are what may stand in place of a date.
var freezeWords = map[string]record.FreezeState{"never": record.FreezeNever, "any month": record.FreezeAnyMonth}

// Freeze reads data/freeze.csv, the published freeze dates of stations, by
// station id in the order of the table. Odds are the chance of harm: of a freeze
// after a last date or before a first date. In place of a date may stand "never" and
// "any month". A guide without the file has none.
func Freeze(guide fs.FS, faults *diag.List) map[string][]record.FreezeRow {
	l := newLoader(guide, guide, faults)
	out := map[string][]record.FreezeRow{}
	for _, r := range read[freezeRow](l, "freeze", figure.Own, optional, table.Spec{}) {
		station := r.Station.KeyID(nil)
		mustHave(r.Event, "last or first")
		mustHave(r.Below, "the temperature")
		mustHave(r.Odds, "the chance of harm in percent")
		mustHave(r.Date, "a date such as 05-18")
		event, known := oneOf(r.Event, map[string]record.Event{"last": record.Last, "first": record.First}).Get()
		below, hasBelow := temperature.within(-40, 20).of(r.Below).Get()
		// 0.9 beside 90 is a fraction where percent are meant: below 1 is refused.
		odds, hasOdds := inPercent.within(1, 99).of(r.Odds).Get()
		if r.Date.Text() == "" || station == "" || !known || !hasBelow || !hasOdds {
			continue
		}
		row := record.FreezeRow{Event: event, Below: below, Odds: quantity.Odds(odds / 100), At: r.Date.At(), StationAt: r.Station.At()}
		if state, said := freezeWords[strings.ToLower(r.Date.Text())]; said {
			row.State = state
		} else if d, ok := dateOf(r.Date, false); ok {
			row.Date = quantity.MonthDay{Month: d.month, Day: d.day}
		} else {
			continue
		}
		if i := slices.IndexFunc(out[station], func(old record.FreezeRow) bool { return sameRow(old, row) }); i >= 0 {
			r.Date.Fault("freeze-repeated", fmt.Sprintf("line %d has the same station, event, temperature and odds", out[station][i].At.Line), "each of them once", "delete one of the two rows")
			continue
		}
		out[station] = append(out[station], row)
	}
	return out
}
