package intake

import (
	"fmt"
	"io/fs"
	"slices"
	"strings"
	"time"

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
		} else if d, ok := dateOf(r.Date, false); ok && askedOf(r.Below, below) {
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

// Published tables of freeze dates ask for the last and first fall to 16, 20, 24, 28, 32
// and 36 F, -8.9 to 2.2 C (NCEI, read me of the normals by station). A few degrees more on
// either side are taken without a word: common practice, no source.
const coldestAsked, warmestAsked quantity.Celsius = -12.3, 5 // 10 and 41 F, the former rounded down

// askedOf looks whether the threshold of a typed date is one that freeze dates are made for. A bare 0
// in a column of degrees F is refused: it can be 0 F, a winter's cold, or freezing, 32 F.
func askedOf(c table.Cell, below quantity.Celsius) bool {
	const fZero = -17.8 // 0 F
	tables := "freeze tables are printed for 16 to 36 F (-9 to 2 C)"
	switch {
	case c.Text() == "0" && below < -17:
		c.Fault("freeze-threshold", fmt.Sprintf("0 in a column of degrees F is %.1f C, and freezing is 32 F; %s", fZero, tables), "32 for freezing", "write 32; if 0 F is meant, write 0 F with its unit")
		return false
	case below < coldestAsked || below > warmestAsked:
		c.Warn("freeze-threshold", fmt.Sprintf("the date is of %.1f C (%.0f F); %s", float64(below), below.Fahrenheit(), tables),
			"the temperature that the published date is for", "look at the number and its unit; if it is meant, name freeze-threshold in the setting silence")
	}
	return true
}

// Of 5,398 stations with published dates at 32 F (NCEI 1981-2010, odds of 50 and 90 %) no
// last freeze lies from July to November and no first one from 9 March to July. A season
// year begins on 1 August (south: 1 February), so July itself can be a last freeze.
const (
	lastFrom  quantity.Slot = 92  // 1 November, south 3 May: earlier is summer or fall
	firstUpTo quantity.Slot = 243 // 31 March, south 1 October: later is spring or summer
)

// outOfSeason finds a typed last freeze in late summer or fall, or a first one in spring.
// Where it is found in both, the two were exchanged.
func outOfSeason(rows []record.FreezeRow, h quantity.Hemisphere) []diag.Fault {
	var out []diag.Fault
	wrong := map[record.Event]bool{}
	for _, r := range rows {
		if r.At.File != freezeTable || r.State != record.FreezeDate {
			continue
		}
		slot := h.SlotOf(r.Date)
		f := diag.Fault{At: r.At, ID: "freeze-season"}
		switch {
		case r.Event == record.Last && slot < lastFrom:
			f.What = fmt.Sprintf("%s is given as a last freeze, which ends the frosts of winter and spring", spoken(r.Date))
			f.Expected = fmt.Sprintf("a day from %s to %s", spoken(h.MonthDay(lastFrom)), spoken(h.MonthDay(quantity.SlotsPerYear-1)))
			f.Cure = "look whether it is the first freeze, or month and day were exchanged"
		case r.Event == record.First && slot > firstUpTo:
			f.What = fmt.Sprintf("%s is given as a first freeze, which begins the frosts of fall and winter", spoken(r.Date))
			f.Expected = fmt.Sprintf("a day from %s to %s", spoken(h.MonthDay(0)), spoken(h.MonthDay(firstUpTo)))
			f.Cure = "look whether it is the last freeze, or month and day were exchanged"
		default:
			continue
		}
		wrong[r.Event] = true
		out = append(out, f)
	}
	for i := range out {
		if wrong[record.Last] && wrong[record.First] {
			out[i].Cure = exchanged
		}
	}
	return out
}

const exchanged = "if last and first were exchanged, write each date beside the other word; if the sign of the latitude in stations.csv is wrong, mend that"

// spoken is a date in words.
func spoken(d quantity.MonthDay) string { return fmt.Sprintf("%d %v", d.Day, time.Month(d.Month)) }

// lastBeforeFirst finds a last freeze that comes before the first one of the same winter,
// both at odds of 50 % or rarer. At likelier odds it can be so where some winters have no
// freeze: at 90 % it is at 264 of NCEI's 5,398 stations, at 50 % at none.
func lastBeforeFirst(rows []record.FreezeRow, h quantity.Hemisphere) (diag.Fault, bool) {
	dated := func(r record.FreezeRow, e record.Event) bool {
		return r.Event == e && r.State == record.FreezeDate && r.Odds <= 0.5
	}
	for _, last := range rows {
		for _, first := range rows {
			if !dated(last, record.Last) || !dated(first, record.First) || roundTenth(last.Below) != roundTenth(first.Below) || h.SlotOf(last.Date) >= h.SlotOf(first.Date) {
				continue
			}
			at := last.At
			if at.File != freezeTable {
				at = first.At // one of the two was typed
			}
			return diag.Fault{
				At: at, ID: "freeze-season", What: fmt.Sprintf("the last freeze of %.1f C, %s, comes before the first of the same winter, %s", float64(last.Below), spoken(last.Date), spoken(first.Date)),
				Expected: "the first freeze of a winter before its last", Cure: exchanged,
			}, true
		}
	}
	return diag.Fault{}, false
}
