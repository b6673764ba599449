package page

import (
	"strings"

	"shedwall/cmd/shedwall/internal/catalog"
	"shedwall/cmd/shedwall/internal/figure"
	"shedwall/cmd/shedwall/internal/plan"
)

// monthSet is months in words: "October to April", "May", "March to April and July".
func (b *builder) monthSet(m catalog.Months) string {
	var runs []string
	for _, r := range m.Spans() {
		switch {
		case m.Count() == 12:
			return b.t("months.all")
		case r[0] == r[1]:
			runs = append(runs, b.words.Month(r[0]))
		default:
			runs = append(runs, b.t("months.span", "from", b.words.Month(r[0]), "to", b.words.Month(r[1])))
		}
	}
	return b.words.And(runs...)
}

// speed is a wind speed in both units. down rounds them down, as what a cover bears.
func (b *builder) speed(kmh float64) string {
	return b.t("wind.limit", "kmh", b.words.Number(float64(int(kmh+1e-6)), 0), "mph", b.words.Number(float64(int(kmh/1.609344+1e-6)), 0))
}

// exposure is one demand of the weather on a cover in words.
func (b *builder) exposure(e plan.Exposure, hoops bool) string {
	key := "exposure." + string(e.By) + "." + string(e.Asks)
	if e.By == plan.Wind && e.Asks == plan.Stronger && hoops {
		key += ".hoops"
	}
	pairs := []string{"months", b.monthSet(e.Months), "gust", b.speed(e.Gust), "limit", b.speed(e.Limit)}
	if e.By == plan.Wind && e.Asks == plan.Stronger && e.Gust == 0 {
		key += ".no_gust"
	}
	return b.t(key, pairs...)
}

// coverWeather is what wind, snow and hail ask of a cover in each band.
func (b *builder) coverWeather(c *catalog.Cover) []Block {
	if len(b.made) == 0 {
		return nil
	}
	t := Table{ID: "weather-table", Caption: b.t("exposure.caption", "cover", c.Name), RowHeads: true, Head: []string{
		b.t("head.band"), b.t("exposure.head.wind"), b.t("exposure.head.snow"), b.t("exposure.head.hail")}}
	for _, m := range b.made {
		row := [][]Inline{{link(m.row().Name, m.href())}}
		found := plan.Exposures(m.row(), c)
		for _, by := range []plan.Weather{plan.Wind, plan.Snow, plan.Hail} {
			text := b.noMonths(m.row(), by)
			for _, e := range found {
				if e.By == by {
					text = firstUpper(b.exposure(e, c.Hoops))
				}
			}
			row = append(row, plain(text))
		}
		t.Rows = append(t.Rows, row)
	}
	out := []Block{b.heading(2, "weather", "exposure.h"), para(Inline{Text: b.t("exposure.intro")}), t}
	if c.Hoops {
		out = append(out, para(Inline{Text: b.t("exposure.crossed")}))
	}
	if s, known := c.Snow.Get(); known && s != catalog.SnowLies {
		out = append(out, para(Inline{Text: b.t("exposure.snow_weight") + " "}, link(b.t("exposure.snow_link"), HTML(SafetyPath)+"#snow")))
	}
	return out
}

// noMonths says why nothing is said of one kind of weather in a band: none declared, or
// nobody gave its months.
func (b *builder) noMonths(row *catalog.Band, by plan.Weather) string {
	f := map[plan.Weather]figure.Of[catalog.Months]{plan.Wind: row.WindMonths, plan.Snow: row.SnowMonths, plan.Hail: row.HailMonths}[by]
	if m, known := f.Get(); known && m.Count() == 0 {
		return firstUpper(b.t("exposure.none"))
	}
	return firstUpper(b.t("not_known"))
}

// bandWeather says in a band which of the offered covers the weather rules out and in
// which months, and what else it asks for.
func (b *builder) bandWeather(m *bandPage) []Block {
	var months []string
	row := m.row()
	for _, x := range []struct {
		by plan.Weather
		f  figure.Of[catalog.Months]
	}{{plan.Wind, row.WindMonths}, {plan.Snow, row.SnowMonths}, {plan.Hail, row.HailMonths}} {
		key := "exposure.months." + string(x.by)
		set, known := x.f.Get()
		switch gust, has := row.Gust.Get(); {
		case !known:
			months = append(months, b.t(key+".unknown"))
		case set.Count() == 0:
			months = append(months, b.t(key+".none"))
		case x.by == plan.Wind && has:
			months = append(months, b.t(key+".gust", "months", b.monthSet(set), "gust", b.speed(gust)))
		default:
			months = append(months, b.t(key, "months", b.monthSet(set)))
		}
	}
	out := []Block{b.heading(3, "weather", "exposure.band.h"), para(Inline{Text: strings.Join(months, " ")})}
	seen := map[string]bool{}
	l := List{}
	for _, id := range b.planner.OfferedIn(m.in.Climate) {
		ids := catalog.SplitLayers(id)
		if len(ids) == 0 || seen[ids[0]] {
			continue
		}
		seen[ids[0]] = true
		cv := b.covers.Cover(ids[0])
		if cv == nil {
			continue
		}
		var said []string
		for _, e := range plan.Exposures(row, cv) {
			if e.RuledOut() || e.Asks == plan.Sweep || e.Asks == plan.Stronger {
				said = append(said, firstUpper(b.exposure(e, cv.Hoops))+".")
			}
		}
		if len(said) > 0 {
			l.Items = append(l.Items, []Inline{link(firstUpper(cv.Name), HTML(CoverPath(cv.ID))), {Text: ": " + strings.Join(said, " ")}})
		}
	}
	if len(l.Items) > 0 {
		out = append(out, l, para(Inline{Text: b.t("exposure.band.dates")}))
	}
	return out
}
