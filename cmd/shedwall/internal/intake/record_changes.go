package intake

import (
	"fmt"
	"math"
	"strconv"
	"strings"

	"shedwall/cmd/shedwall/internal/diag"
	"shedwall/cmd/shedwall/internal/quantity"
	"shedwall/cmd/shedwall/internal/record"
)

// What counts as a move, and how long another hour of reading must hold. Coordinates
// are written with more or fewer decimals, and single readings are taken late.
const (
	movedDegrees = 0.005 // some 500 m
	movedMetres  = 5.0
	hourHolds    = 30 // readings
)

// placeColumns are where a table says its stations' places, -1 where it does not.
type placeColumns struct{ latitude, longitude, elevation int }

func placesOf(h headingRow) placeColumns {
	return placeColumns{h.named("latitude"), h.named("longitude"), h.named("elevation")}
}

// watch follows what the rows of one station say about it, in the order of the file.
type watch struct {
	place   [3]float64 // latitude, longitude, elevation; NaN = not yet said
	cells   [3]string  // as last read
	hour    string     // hour of reading, "" = not yet said
	flags   string     // attributes as last read
	next    string     // another hour, and since when it holds
	since   quantity.Day
	held    int
	last    quantity.Day
	changes []record.Change
}

func newWatch() *watch {
	return &watch{place: [3]float64{math.NaN(), math.NaN(), math.NaN()}, last: math.MinInt32}
}

// see follows one row. Rows that go back in time tell no change.
func (w *watch) see(fields []string, c placeColumns, flags int, day quantity.Day) {
	if day < w.last {
		return
	}
	w.last = day
	w.seePlace(fields, c, day)
	if flags >= 0 && flags < len(fields) {
		w.seeHour(fields[flags], day)
	}
}

// seePlace compares a row's place with the one before it.
func (w *watch) seePlace(fields []string, c placeColumns, day quantity.Day) {
	same := true
	for i, column := range [3]int{c.latitude, c.longitude, c.elevation} {
		if column >= 0 && column < len(fields) && fields[column] != w.cells[i] {
			same = false
			w.cells[i] = strings.Clone(fields[column])
		}
	}
	if same {
		return
	}
	before, moved := w.place, false
	for i, cell := range w.cells {
		v, err := strconv.ParseFloat(strings.TrimSpace(cell), 64)
		if err != nil || v <= -999 { // -999.9: not known
			continue
		}
		limit := movedDegrees
		if i == 2 {
			limit = movedMetres
		}
		moved = moved || math.Abs(v-before[i]) >= limit // false for NaN
		w.place[i] = v
	}
	if moved {
		w.changes = append(w.changes, record.Change{Day: day, What: record.Moved, Before: placeText(before), After: placeText(w.place)})
	}
}

// placeText is a place as people write it; what is not known is left out.
func placeText(p [3]float64) string {
	var parts []string
	for i, sides := range [2]string{"NS", "EW"} {
		if !math.IsNaN(p[i]) {
			side := sides[:1]
			if p[i] < 0 {
				side = sides[1:]
			}
			parts = append(parts, fmt.Sprintf("%.4f %s", math.Abs(p[i]), side))
		}
	}
	if !math.IsNaN(p[2]) {
		parts = append(parts, fmt.Sprintf("%.0f m", p[2]))
	}
	return strings.Join(parts, ", ")
}

// seeHour follows the hour of reading, the fourth part of NOAA's attributes ("H,,S,0700").
// Another hour is a change once it has held for hourHolds readings.
func (w *watch) seeHour(attributes string, day quantity.Day) {
	if attributes != w.flags {
		w.flags = strings.Clone(attributes)
	}
	parts := strings.Split(w.flags, ",")
	if len(parts) < 4 {
		return
	}
	hour := strings.TrimSpace(parts[3])
	if n, ok := digits([]byte(hour)); !ok || len(hour) != 4 || n > 2400 {
		return
	}
	switch {
	case w.hour == "":
		w.hour = hour
	case hour == w.hour:
		w.next, w.held = "", 0
	case hour != w.next:
		w.next, w.since, w.held = hour, day, 1
	default:
		if w.held++; w.held == hourHolds {
			w.changes = append(w.changes, record.Change{Day: w.since, What: record.OtherHour, Before: hourText(w.hour), After: hourText(hour)})
			w.hour, w.next, w.held = hour, "", 0
		}
	}
}

func hourText(hour string) string { return hour[:2] + ":" + hour[2:] }

// tellChanges notes them, the first few.
func tellChanges(station string, changes []record.Change, t *teller) {
	for _, c := range changes {
		what, id := "stands in another place", "record-station-moved"
		if c.What == record.OtherHour {
			what, id = "is read at another hour", "record-hour-changed"
		}
		t.add(diag.Fault{
			ID: id, Severity: diag.Notice, What: fmt.Sprintf("station %s %s from %s on: %s, before %s", station, what, c.Day.ISO(), c.After, c.Before),
			Cure: "if minima before and after do not fit together, limit the years used (setting years)",
		})
	}
}
