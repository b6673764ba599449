package page

import (
	"shedwall/cmd/shedwall/internal/band"
	"shedwall/cmd/shedwall/internal/quantity"
	"shedwall/cmd/shedwall/internal/record"
)

// chartOdds are the odds at which the curves are worked out, from likely to rare.
var chartOdds = func() []quantity.Odds {
	var out []quantity.Odds
	for p := 95; p >= 5; p -= 5 {
		out = append(out, quantity.Odds(float64(p)/100))
	}
	return out
}()

// twinOdds are the rows of the chart's table.
var twinOdds = []quantity.Odds{0.9, 0.7, 0.5, 0.3, 0.1}

// chartLimits are the thresholds with a curve.
var chartLimits = thresholds[1:]

// chartLines are how the curves are drawn, warmest threshold first.
var chartLines = []string{"solid", "dashed", "dotted"}

// seasonChart shows in how many years of ten it freezes again after a day of
// spring, and has frozen before a day of fall, at three thresholds.
func (b *builder) seasonChart(m *bandPage) Chart {
	c := m.in.Climate
	ch := Chart{
		ID: "season", Name: b.t("chart.name", "band", m.row().Name), Months: m.wall.months(), Days: quantity.SlotsPerYear,
		YLabel: b.t("chart.y"), YMin: 0, YMax: 10,
		Twin: Table{ID: "season-table", Caption: b.t("chart.twin.caption", "band", m.row().Name), RowHeads: true, Head: []string{b.t("chart.twin.head")}},
	}
	for _, t := range []struct {
		y    float64
		text string
	}{{0, "odds.never"}, {5, "odds.half"}, {10, "odds.always"}} {
		ch.YTicks = append(ch.YTicks, Tick{t.y, b.t(t.text)})
	}
	curves := m.curves()
	for k, limit := range chartLimits {
		ch.Lines = append(ch.Lines, ChartLine{Name: b.words.Temp(limit, 0), Dash: chartLines[k], Y: curves[k]})
		ch.Twin.Head = append(ch.Twin.Head,
			b.t("chart.twin.last", "temp", b.words.TempFirst(limit, 0)), b.t("chart.twin.first", "temp", b.words.TempFirst(limit, 0)))
	}
	for _, odds := range twinOdds {
		row := [][]Inline{plain(firstUpper(b.words.Odds(odds)))}
		for _, limit := range chartLimits {
			row = append(row, plain(b.answerAt(c, freeze(c, record.Last, odds, limit), limit)), plain(b.answerAt(c, freeze(c, record.First, odds, limit), limit)))
		}
		ch.Twin.Rows = append(ch.Twin.Rows, row)
	}
	for _, e := range []record.Event{record.Last, record.First} {
		if a := m.careful[e]; a.State == band.Dated {
			ch.Marks = append(ch.Marks, SheetMark{At: m.wall.day(a.Slot), Label: b.t("chart.mark", "date", b.words.DateShort(b.date(a.Slot)))})
		}
	}
	return ch
}

// curves is curve of each of chartLimits, worked out once for every language.
func (m *bandPage) curves() [][]float64 {
	type key struct{ axisEnd quantity.Slot }
	return m.in.Climate.Keep(key{m.wall.axisEnd()}, func() any {
		var out [][]float64
		for _, limit := range chartLimits {
			out = append(out, m.curve(func(o quantity.Odds, e record.Event) band.Answer { return freeze(m.in.Climate, e, o, limit) }))
		}
		return out
	}).([][]float64)
}

// curve is the number of years in ten, by day of the axis: of a freeze on or after
// the day in spring, on or before it in fall, whichever is more.
func (m *bandPage) curve(answer func(quantity.Odds, record.Event) band.Answer) []float64 {
	spring := m.points(record.Last, answer)
	fall := m.points(record.First, answer)
	floor := 0.0 // where it may freeze in any month the curve never falls below that
	for _, odds := range chartOdds {
		if answer(odds, record.Last).State == band.AnyMonth {
			floor = max(floor, 10*float64(odds))
		}
	}
	out := make([]float64, quantity.SlotsPerYear)
	for d := range out {
		out[d] = max(floor, between(spring, float64(d)), between(fall, float64(d)))
	}
	return out
}

// point is a day of the axis and the years in ten at it.
type point struct{ day, years float64 }

// points are the dated answers as points, ordered by day.
func (m *bandPage) points(e record.Event, answer func(quantity.Odds, record.Event) band.Answer) []point {
	var out []point
	origin := m.wall.axisEnd() - quantity.SlotsPerYear + 1
	for _, odds := range chartOdds {
		if a := answer(odds, e); a.State == band.Dated {
			// The axis follows the summer planned for, so that fall slots and the
			// spring slots before them share its days.
			out = append(out, point{float64(a.Slot - origin), 10 * float64(odds)})
		}
	}
	if e == record.First {
		for i, j := 0, len(out)-1; i < j; i, j = i+1, j-1 {
			out[i], out[j] = out[j], out[i]
		}
	}
	if len(out) < 2 {
		return out
	}
	// Beyond the odds that a record can tell the curve is drawn on to all or none
	// of the years, as steep as its last piece.
	last := len(out) - 1
	lead := max(1, out[1].day-out[0].day)
	tail := max(1, out[last].day-out[last-1].day)
	if out[0].years > 9 {
		out = append([]point{{out[0].day - lead, 10}}, out...)
	} else if out[0].years < 1 {
		out = append([]point{{out[0].day - lead, 0}}, out...)
	}
	switch last = len(out) - 1; {
	case out[last].years > 9:
		out = append(out, point{out[last].day + tail, 10})
	case out[last].years < 1:
		out = append(out, point{out[last].day + tail, 0})
	}
	return out
}

// between is the value at a day on the line through points; before the first and
// after the last it stays level. Where there are no points at all it is 0: it
// freezes too seldom to tell.
func between(points []point, day float64) float64 {
	if len(points) == 0 {
		return 0
	}
	if day <= points[0].day {
		return points[0].years
	}
	for i := 1; i < len(points); i++ {
		p, q := points[i-1], points[i]
		if day <= q.day {
			if q.day == p.day {
				return q.years
			}
			return p.years + (q.years-p.years)*(day-p.day)/(q.day-p.day)
		}
	}
	return points[len(points)-1].years
}
