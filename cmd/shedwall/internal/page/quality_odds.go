package page

import (
	"math"
	"strconv"
	"strings"

	"shedwall/cmd/shedwall/internal/band"
	"shedwall/cmd/shedwall/internal/frost"
	"shedwall/cmd/shedwall/internal/quantity"
	"shedwall/cmd/shedwall/internal/record"
	"shedwall/cmd/shedwall/internal/words"
)

// tried says how the odds would have fared: dates made from the years before each
// year, held against that year.
func (b *builder) tried() []Block {
	t := b.backTest()
	if t.Train == 0 || len(t.Stations) == 0 {
		return []Block{para(Inline{Text: b.t("quality.tried.none", "n", b.words.Int(frost.FullYears))})}
	}
	out := []Block{para(Inline{Text: b.t("quality.tried.intro", "train", b.words.Int(t.Train), "first", strconv.Itoa(t.First), "last", strconv.Itoa(t.Last))})}
	if t.Train < frost.DefaultYears {
		out = append(out, para(Inline{Text: b.t("quality.tried.short", "train", b.words.Int(t.Train), "full", b.words.Int(frost.DefaultYears))}))
	}
	out = append(out, b.triedChart(t.Stations), para(Inline{Text: b.t("quality.tried.read")}))
	if len(t.Bands) > 0 {
		out = append(out, para(Inline{Text: b.t("quality.tried.bands")}), b.triedPlaces(t))
	}
	return out
}

// cell is one kind of date tried: an event and a temperature.
type cell struct {
	event record.Event
	limit quantity.Celsius
}

// cellDays is how broad a cell is drawn on the chart's axis.
const cellDays = 30

// backTest is worked out once for every language.
func (b *builder) backTest() band.BackTest {
	test := func() any { return b.Region.BackTest(b.Tables.Bands) }
	if len(b.Bands) == 0 {
		return test().(band.BackTest)
	}
	type key struct{ bands string }
	var ids []string
	for i := range b.Tables.Bands {
		ids = append(ids, b.Tables.Bands[i].ID)
	}
	return b.Bands[0].Climate.Hold(key{strings.Join(ids, " ")}, test).(band.BackTest)
}

// triedChart shows how often dates were passed, promised and seen, a stretch of the axis
// for each event and temperature.
func (b *builder) triedChart(scores []band.Score) Chart {
	ch := Chart{
		ID: "tried-chart", Name: b.t("quality.tried.chart"), YLabel: b.t("quality.tried.y"), YMax: 70,
		Lines: []ChartLine{{Name: b.t("quality.tried.line.careful"), Dash: "solid"}, {Name: b.t("quality.tried.line.half"), Dash: "dashed"}},
		Twin: Table{ID: "tried-table", Caption: b.t("quality.tried.caption"), RowHeads: true, Head: []string{
			b.t("quality.hidden.event"), b.t("quality.tried.head.careful"), b.t("quality.tried.head.careful_with"), b.t("quality.tried.head.careful_without"),
			b.t("quality.tried.head.half"), b.t("quality.tried.head.half_without"), b.t("quality.tried.head.years")}},
	}
	odds := []quantity.Odds{quantity.Careful, quantity.Half}
	for _, y := range odds {
		ch.YTicks = append(ch.YTicks, Tick{100 * float64(y), b.t("quality.tried.promised", "percent", b.share(float64(y)))})
	}
	seen := func(c cell, o quantity.Odds, w band.Way) (band.Score, bool) {
		return band.Find(scores, c.event, c.limit, o, w)
	}
	say := func(c cell, o quantity.Odds, w band.Way) []Inline {
		s, ok := seen(c, o, w)
		if !ok {
			return plain(b.t("quality.tried.nothing"))
		}
		return plain(b.score(s))
	}
	var marked record.Event
	for _, e := range []record.Event{record.Last, record.First} {
		for _, limit := range band.TriedLimits {
			c := cell{e, limit}
			careful, a := seen(c, quantity.Careful, band.Printed)
			half, h := seen(c, quantity.Half, band.Printed)
			if !a && !h {
				continue
			}
			name := b.words.TempFirst(limit, words.Nearest)
			if len(ch.Months) == 0 || marked != e {
				ch.Marks, marked = append(ch.Marks, SheetMark{At: ch.Days, Label: b.t("quality.tried.mark." + e.String())}), e
			}
			ch.Months = append(ch.Months, Month{Name: name, Full: name, From: ch.Days, To: ch.Days + cellDays})
			ch.Days += cellDays
			ch.Lines[0].Y = append(ch.Lines[0].Y, level(careful, a, &ch.YMax)...)
			ch.Lines[1].Y = append(ch.Lines[1].Y, level(half, h, &ch.YMax)...)
			years := max(careful.Tried, half.Tried)
			ch.Twin.Rows = append(ch.Twin.Rows, [][]Inline{
				plain(b.t("quality.tried.cell."+e.String(), "temp", b.words.Temp(limit, words.Nearest))),
				say(c, quantity.Careful, band.Printed), say(c, quantity.Careful, band.Shifted), say(c, quantity.Careful, band.PlainYears),
				say(c, quantity.Half, band.Printed), say(c, quantity.Half, band.PlainYears), plain(b.words.Int(years))})
		}
	}
	return ch
}

// level is a score as a stretch of the curve, with a gap at both its ends; it raises the
// axis where it would not fit.
func level(s band.Score, ok bool, top *float64) []float64 {
	out := make([]float64, cellDays)
	for i := range out {
		out[i] = math.NaN()
		if ok && i > 2 && i < cellDays-3 {
			out[i] = 100 * s.Passed
			*top = max(*top, 100*s.Passed)
		}
	}
	return out
}

// share is a share as a whole percentage.
func (b *builder) share(share float64) string {
	return b.t("percent", "n", b.words.Int(int(math.Round(100*share))))
}

// score is a share seen, with its error where there is one.
func (b *builder) score(s band.Score) string {
	if math.IsNaN(s.Error) {
		return b.share(s.Passed)
	}
	return b.t("quality.tried.share", "percent", b.share(s.Passed), "error", b.words.Int(int(math.Ceil(100*s.Error))))
}

// triedPlaces is the printed dates of each band at 0 C and how often they were passed.
func (b *builder) triedPlaces(t band.BackTest) Table {
	table := Table{ID: "tried-bands", Caption: b.t("quality.tried.bands.caption", "temp", b.words.Temp(0, words.Nearest)), RowHeads: true, Head: []string{
		b.t("head.band"), b.t("quality.tried.bands.last_careful"), b.t("quality.tried.bands.last_half"),
		b.t("quality.tried.bands.first_careful"), b.t("quality.tried.bands.first_half"), b.t("quality.tried.head.years")}}
	names := map[string]string{}
	for i := range b.Tables.Bands {
		names[b.Tables.Bands[i].ID] = b.Tables.Bands[i].Name
	}
	for _, p := range t.Places {
		if !p.IsBand {
			continue
		}
		row := [][]Inline{plain(names[p.ID])}
		years := 0
		for _, e := range []record.Event{record.Last, record.First} {
			for _, o := range []quantity.Odds{quantity.Careful, quantity.Half} {
				text := b.t("quality.tried.nothing")
				if s, ok := band.Find(p.Scores, e, 0, o, band.Printed); ok {
					text, years = b.score(s), max(years, s.Tried)
				}
				row = append(row, plain(text))
			}
		}
		table.Rows = append(table.Rows, append(row, plain(b.words.Int(years))))
	}
	return table
}

// present shows each band's dates and winters with the last years' warming counted and
// without, and how the stations' nights have changed.
func (b *builder) present() []Block {
	out := []Block{para(Inline{Text: b.t("quality.present.intro", "most", b.words.Diff(frost.MostDrift, words.Nearest))})}
	if b.Region.Plain {
		out = append(out, para(Inline{Text: b.t("quality.present.off")}))
	}
	trends := Table{ID: "trends", Caption: b.t("quality.present.trends"), RowHeads: true, Head: []string{
		b.t("head.station"), b.trendMonths(record.Last), b.trendMonths(record.First)}}
	told := false
	for i, s := range b.Region.Stations {
		row := [][]Inline{plain(s.Row.Name)}
		for _, e := range []record.Event{record.Last, record.First} {
			text := b.t("not_known")
			if trend, ok := b.Region.Trend(i, e); ok {
				text, told = b.trend(3*trend), true
			}
			row = append(row, plain(text))
		}
		trends.Rows = append(trends.Rows, row)
	}
	if !told {
		return append(out, para(Inline{Text: b.t("quality.present.unknown")}))
	}
	if out = append(out, trends); len(b.made) == 0 {
		return out
	}
	dates := Table{ID: "present", Caption: b.t("quality.present.caption", "temp", b.words.Temp(0, words.Nearest)), RowHeads: true, Head: []string{
		b.t("head.band"), b.t("quality.hidden.event"), b.t("quality.present.careful_with"), b.t("quality.present.careful_without"),
		b.t("quality.present.half_with"), b.t("quality.present.half_without")}}
	winters := Table{ID: "present-winters", Caption: b.t("quality.present.winters"), RowHeads: true, Head: []string{
		b.t("head.band"), b.t("quality.present.with"), b.t("quality.present.without")}}
	for _, m := range b.made {
		for _, e := range []record.Event{record.Last, record.First} {
			row := [][]Inline{plain(m.row().Name), b.say("event." + e.String())}
			for _, o := range []quantity.Odds{quantity.Careful, quantity.Half} {
				without, with := m.in.Climate.DateBothWays(e, o, band.Gate{Limit: 0})
				row = append(row, plain(b.answer(with)), plain(b.answer(without)))
			}
			dates.Rows = append(dates.Rows, row)
		}
		without, with := m.in.Climate.WinterBothWays()
		winters.Rows = append(winters.Rows, [][]Inline{plain(m.row().Name), plain(b.winter(with)), plain(b.winter(without))})
	}
	return append(out, dates, winters)
}

// trendMonths are the months by which a trend is told.
func (b *builder) trendMonths(e record.Event) string {
	from, to := frost.TrendMonths(e, b.Region.Hemisphere)
	return b.t("quality.present.months", "from", b.words.Month(from), "to", b.words.Month(to))
}

// trend words how nights have changed.
func (b *builder) trend(k quantity.Kelvins) string {
	switch d := math.Round(float64(k) * 10); {
	case d > 0:
		return b.t("quality.present.warmer", "diff", b.words.Diff(k, words.Nearest))
	case d < 0:
		return b.t("quality.present.colder", "diff", b.words.Diff(-k, words.Nearest))
	}
	return b.t("quality.present.same")
}

// winter is the mean of the coldest nights with its zone.
func (b *builder) winter(w band.Winter) string {
	if !w.Known {
		return b.t("not_known")
	}
	return b.t("quality.present.winter", "temp", b.words.Temp(w.MeanExtreme, words.Nearest), "zone", w.Zone)
}
