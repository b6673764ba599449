package frost

import (
	"cmp"
	"math"
	"slices"

	"shedwall/cmd/shedwall/internal/quantity"
	"shedwall/cmd/shedwall/internal/record"
)

// Table answers from a published freeze table, where there is no daily record to
// count from. Between published thresholds dates are linear in temperature at equal
// odds; between published odds they are linear on the normal deviate at one
// threshold. Beyond the outer thresholds and odds nothing is known. Dates are kept in
// order: a warmer threshold is never safe before a colder one, rarer odds never before
// likelier ones; where a table contradicts that, the safer date stands.
//
// What is not published is assumed only where hardly anything is: see assume.go of
// this room. Such answers are marked as estimates.
type Table struct {
	hemisphere quantity.Hemisphere
	years      int
	dates      [2][]isotherm // by event, coldest first
	spans      knots         // median frost-free days by threshold
}

// isotherm is the dates of one event at one threshold.
type isotherm struct {
	below  float64
	points knots
	rows   []record.FreezeRow // of the points
}

// knot is a published value at a place on an axis: of temperatures in C, or of
// rareness, which is the normal deviate of 1 - odds. Dates are kept as lateness, which
// grows towards midsummer in either season: the slot of a last freeze, minus the slot
// of a first. So the larger is always the safer, and it grows with temperature and
// with rareness. It is +Inf where it can freeze in any month, -Inf where it never
// freezes.
type knot struct{ x, y float64 }

type knots []knot

// thresholdSnap (K) is how far a threshold may lie from a published one to be the
// same: 28 F is -2.22 C and is written -2.2.
const thresholdSnap = 0.05

// at is the value at x, linear between neighbours; a value within snap of a knot is
// the knot's. Between a date and "never" the date stands, between a date and "any
// month" there is none. Outside the knots it is NaN, but for what follows by itself:
// where it never freezes it does not freeze colder or more often; where it can freeze
// in any month it can do so warmer and more rarely.
func (k knots) at(x, snap float64) float64 {
	i := 0
	for i < len(k) && k[i].x < x-snap {
		i++
	}
	switch {
	case i < len(k) && math.Abs(k[i].x-x) <= snap:
		return k[i].y
	case len(k) == 0, i == 0 && !math.IsInf(k[0].y, -1), i == len(k) && !math.IsInf(k[i-1].y, +1):
		return math.NaN()
	case i == 0:
		return k[0].y
	case i == len(k):
		return k[i-1].y
	}
	a, b := k[i-1], k[i]
	if math.IsInf(a.y, 0) || math.IsInf(b.y, 0) {
		return math.Max(a.y, b.y)
	}
	return a.y + (b.y-a.y)*(x-a.x)/(b.x-a.x)
}

// ordered raises each value to that before it where it is lower.
func (k knots) ordered() knots {
	for i := 1; i < len(k); i++ {
		k[i].y = math.Max(k[i].y, k[i-1].y)
	}
	return k
}

// NewTable prepares a published table. f is not changed and not kept.
func NewTable(f *record.Freeze, h quantity.Hemisphere) Table {
	t := Table{hemisphere: h, years: f.Years}
	for _, e := range []record.Event{record.Last, record.First} {
		rows := slices.DeleteFunc(slices.Clone(f.Rows), func(r record.FreezeRow) bool { return r.Event != e })
		slices.SortStableFunc(rows, func(a, b record.FreezeRow) int {
			return cmp.Or(cmp.Compare(tenths(a.Below), tenths(b.Below)), cmp.Compare(b.Odds, a.Odds))
		})
		for k, r := range rows {
			n := len(t.dates[e])
			if k == 0 || tenths(r.Below) != tenths(rows[k-1].Below) {
				t.dates[e] = append(t.dates[e], isotherm{below: float64(r.Below)})
				n++
			}
			i := &t.dates[e][n-1]
			i.points = append(i.points, knot{rareness(r.Odds), t.lateness(r)})
			i.rows = append(i.rows, r)
		}
		for _, i := range t.dates[e] {
			i.points.ordered()
		}
	}
	t.spans = medianSpans(f.Spans)
	return t
}

// tenths is a threshold to 0.1 C: 28 F and -2.2 C are one.
func tenths(below quantity.Celsius) float64 { return math.Round(float64(below) * 10) }

func rareness(odds quantity.Odds) float64 { return Deviate(1 - float64(odds)) }

// lateness of a row. A last freeze of the season year's first month, or a first
// freeze of its last, lies beyond midsummer: it can freeze in any month.
func (t Table) lateness(r record.FreezeRow) float64 {
	const month = 31
	switch r.State {
	case record.FreezeAnyMonth:
		return math.Inf(+1)
	case record.FreezeNever:
		return math.Inf(-1)
	}
	s := t.hemisphere.SlotOf(r.Date)
	switch {
	case r.Event == record.Last && s < month, r.Event == record.First && s >= quantity.SlotsPerYear-month:
		return math.Inf(+1)
	case r.Event == record.First:
		return -float64(s)
	}
	return float64(s)
}

// Date is the date of an event at threshold below and odds of harm (0 < odds < 1).
// State is Dated, NoneNeeded, AnyMonth or NotKnown. Used is the years behind the
// table, 0 where it does not say. Midsummer, in State AnyMonth, is the likeliest odds
// at which that holds. PlusMinus is the sampling error of normal theory with as many
// years (thirty where not said), in estimates also that of what is assumed.
func (t Table) Date(e record.Event, below quantity.Celsius, odds quantity.Odds) Answer {
	a := Answer{Used: t.years, Estimate: t.years > 0 && t.years < FullYears}
	late, guessed := t.late(e, float64(below), rareness(odds))
	a.Estimate = a.Estimate || guessed.any()
	switch {
	case math.IsNaN(late):
	case math.IsInf(late, +1):
		a.State, a.Midsummer = AnyMonth, t.midsummer(e, float64(below), odds)
	case math.IsInf(late, -1):
		a.State = NoneNeeded
	default:
		a.State, a.Exact = Dated, late
		if e == record.First {
			a.Exact = -late
		}
		a.Slot = SafeSide(a.Exact, e)
		a.PlusMinus = guessed.error(t.sampling(e, float64(below), odds))
	}
	return a
}

// late is the lateness at a threshold and a rareness, and what had to be guessed.
func (t Table) late(e record.Event, below, rare float64) (float64, guess) {
	if list := t.dates[e]; len(list) == 1 {
		return t.assumed(e, list[0], below, rare)
	}
	var line knots
	var g guess
	for _, i := range t.dates[e] {
		late := i.points.at(rare, rankSlack)
		if math.IsNaN(late) {
			late = i.widened(rare, &g)
		}
		if !math.IsNaN(late) {
			line = append(line, knot{i.below, late})
		}
	}
	return line.ordered().at(below, thresholdSnap), g
}

// midsummer is the likeliest odds, those asked for or of the table, at which it can
// freeze in any month at a threshold.
func (t Table) midsummer(e record.Event, below float64, asked quantity.Odds) float64 {
	share := float64(asked)
	for _, i := range t.dates[e] {
		for n, p := range i.points {
			if odds := float64(i.rows[n].Odds); odds > share {
				if late, _ := t.late(e, below, p.x); math.IsInf(late, +1) {
					share = odds
				}
			}
		}
	}
	return share
}

// sampling is the standard error (days) of a date from as many years as the table
// has: sd sqrt((1 + z^2/2)/n), sd that of the nearest threshold.
func (t Table) sampling(e record.Event, below float64, odds quantity.Odds) float64 {
	sd, nearest := AssumedSpread, math.Inf(1)
	for _, i := range t.dates[e] {
		if s, ok := i.spread(); ok && math.Abs(i.below-below) < nearest {
			sd, nearest = s, math.Abs(i.below-below)
		}
	}
	years := t.years
	if years == 0 {
		years = DefaultYears
	}
	return Normal{SD: sd}.StandardError(float64(odds), years)
}

// spread is the standard deviation (days) that the outermost dates of a threshold
// tell; false with fewer than two.
func (i isotherm) spread() (float64, bool) {
	dated := slices.DeleteFunc(slices.Clone(i.points), func(k knot) bool { return math.IsInf(k.y, 0) })
	if len(dated) < 2 {
		return 0, false
	}
	a, b := dated[0], dated[len(dated)-1]
	return (b.y - a.y) / (b.x - a.x), true
}

// Behind is the rows from which the date at a threshold and odds is worked out: of
// the thresholds around it those of the odds around.
func (t Table) Behind(e record.Event, below quantity.Celsius, odds quantity.Odds) []record.FreezeRow {
	list := t.dates[e]
	var out []record.FreezeRow
	around(len(list), func(i int) float64 { return list[i].below }, float64(below), thresholdSnap, func(i int) {
		p := list[i].points
		around(len(p), func(k int) float64 { return p[k].x }, rareness(odds), rankSlack, func(k int) {
			out = append(out, list[i].rows[k])
		})
	})
	return out
}

// around calls use with the place at x, else with those before and behind it.
func around(n int, at func(int) float64, x, snap float64, use func(int)) {
	i := 0
	for i < n && at(i) < x-snap {
		i++
	}
	exact := i < n && math.Abs(at(i)-x) <= snap
	if i > 0 && !exact {
		use(i - 1)
	}
	if i < n {
		use(i)
	}
}

// medianSpans is the median season lengths by threshold, coldest first.
func medianSpans(rows []record.SpanRow) knots {
	var k knots
	for _, r := range rows {
		if math.Abs(float64(r.Odds-quantity.Half)) < rankSlack {
			k = append(k, knot{float64(r.Below), float64(r.Days)})
		}
	}
	slices.SortStableFunc(k, func(a, b knot) int { return cmp.Compare(a.x, b.x) })
	return k
}

// FrostFree is the median span from the last freeze at one threshold to the first
// after it at another: as published, by the mean of both thresholds, which lie close
// together; else the days between the half-and-half dates, as an estimate. State is
// Dated, NoneNeeded, AnyMonth or NotKnown.
func (t Table) FrostFree(last, first quantity.Celsius) MedianSpan {
	a, b := t.Date(record.Last, last, quantity.Half), t.Date(record.First, first, quantity.Half)
	m := MedianSpan{Used: t.years, Estimate: a.Estimate || b.Estimate}
	switch {
	case a.State != Dated:
		m.State = a.State
		return m
	case b.State != Dated:
		m.State = b.State
		return m
	}
	m.State = Dated
	if days := t.spans.at(float64(last+first)/2, thresholdSnap); !math.IsNaN(days) {
		m.Days = int(math.Floor(days + rankSlack))
		return m
	}
	m.Estimate = true
	m.Days = int(b.Slot) + quantity.SlotsPerYear - int(a.Slot)
	if a.Slot < t.hemisphere.SlotOf(quantity.MonthDay{Month: 2, Day: 29}) {
		m.Days-- // most years have no 29 February between them
	}
	return m
}
