package page

import (
	"strconv"
	"strings"

	"shedwall/cmd/shedwall/internal/band"
	"shedwall/cmd/shedwall/internal/frost"
	"shedwall/cmd/shedwall/internal/plan"
	"shedwall/cmd/shedwall/internal/record"
	"shedwall/cmd/shedwall/internal/words"
)

// estimateKey is the phrase that says why dates of a climate are estimates, "" where
// they are not: all or some stations have nothing but typed average dates, or few
// years stand behind a date.
func estimateKey(r *band.Region, answers ...band.Answer) string {
	switch basis := r.Basis(); {
	case basis.Typed > 0 && basis.Typed == len(r.Stations):
		return "estimate.typed"
	case basis.Typed > 0:
		return "estimate.some_typed"
	}
	for _, a := range answers {
		if a.Estimate {
			return "band.estimate"
		}
	}
	return ""
}

// estimateNotes says, for bands of a page, why their dates are estimates and what
// holds no date back because nobody knows it: soil, weeks of cold nights.
func (b *builder) estimateNotes(bands ...*bandPage) []Block {
	var out []Block
	key := ""
	for _, m := range bands {
		if key == "" {
			key = b.estimateOf(m)
		}
	}
	if key != "" {
		out = append(out, Note{Kind: "estimate", Label: b.t("note.estimate"), Text: b.say(key)})
	}
	return out
}

// estimated is "yes" for a window whose dates are estimates, as all of its band are where
// ofBand, else "".
func (b *builder) estimated(m *bandPage, ofBand bool, w plan.Window) string {
	means := func(x plan.Bound) bool {
		return x.Gate == plan.Soil && m.in.Climate.Tells(band.Soil) == band.ToldByMeans || x.Gate == plan.Chill && m.in.Climate.Tells(band.Week) == band.ToldByMeans
	}
	if ofBand || means(w.From) || means(w.To) {
		return "yes"
	}
	return ""
}

// estimateOf is estimateKey of a band.
func (b *builder) estimateOf(m *bandPage) string {
	return estimateKey(b.Region, m.careful[record.Last], m.half[record.Last], m.careful[record.First], m.half[record.First])
}

// leftOutNotes says what holds no date back in this guide for want of figures: soil,
// weeks of cold nights; or that they are known from monthly means alone.
func (b *builder) leftOutNotes(m *bandPage) []Block {
	var out []Block
	soil, week := m.in.Climate.Tells(band.Soil), m.in.Climate.Tells(band.Week)
	if soil == band.ToldNot {
		out = append(out, Note{Kind: "caution", Label: b.t("note.left_out.soil"), Text: b.say("left_out.soil")})
	}
	if week == band.ToldNot {
		out = append(out, Note{Kind: "caution", Label: b.t("note.left_out.week"), Text: b.say("left_out.week")})
	}
	if soil == band.ToldByMeans || week == band.ToldByMeans {
		out = append(out, Note{Kind: "estimate", Label: b.t("note.estimate"), Text: b.say("estimate.means")})
	}
	return out
}

// leadEstimate is the sheet's own line of the same: what its dates are made from where
// that is no daily record, and what they do not wait for. nil where there is nothing to say.
func (w Wall) leadEstimate(answers ...band.Answer) []string {
	b := w.Book
	var parts []string
	switch estimateKey(w.Climate.Region, answers...) {
	case "estimate.typed":
		parts = append(parts, b.T("sheet.lead.typed"))
	case "estimate.some_typed":
		parts = append(parts, b.T("sheet.lead.some_typed"))
	case "band.estimate":
		parts = append(parts, b.T("sheet.lead.few_years"))
	}
	soil, week := w.Climate.Tells(band.Soil), w.Climate.Tells(band.Week)
	switch {
	case soil == band.ToldNot && week == band.ToldNot:
		parts = append(parts, b.T("sheet.lead.no_soil_week"))
	case soil == band.ToldNot:
		parts = append(parts, b.T("sheet.lead.no_soil"))
	case week == band.ToldNot:
		parts = append(parts, b.T("sheet.lead.no_week"))
	}
	if soil == band.ToldByMeans || week == band.ToldByMeans {
		parts = append(parts, b.T("sheet.lead.means"))
	}
	if len(parts) == 0 {
		return nil
	}
	return []string{strings.Join(parts, " ")}
}

// footRecords names what stands behind a sheet: the years of records and tables, and
// how many stations.
func (w Wall) footRecords() string {
	b, r := w.Book, w.Climate.Region
	stations := b.N("stations", len(r.Stations))
	basis := r.Basis()
	switch {
	case basis.Typed == len(r.Stations) && r.LastYear() < r.FirstYear():
		return b.T("sheet.foot.typed", "stations", stations)
	case r.LastYear() < r.FirstYear():
		return b.T("sheet.foot.published", "stations", stations)
	case basis.Records == 0:
		return b.T("sheet.foot.tables", "from", strconv.Itoa(r.FirstYear()), "to", strconv.Itoa(r.LastYear()), "stations", stations)
	}
	return b.T("sheet.foot.records", "from", strconv.Itoa(r.FirstYear()), "to", strconv.Itoa(r.LastYear()), "stations", stations)
}

// behind names what a station answers from: its years, or the kind of its table.
func (b *builder) behind(s *band.Station) string {
	switch {
	case s.Table == nil:
		return strconv.Itoa(s.First) + "\u2013" + strconv.Itoa(s.Last)
	case s.Table.Typed && s.Table.From == 0:
		return b.t("quality.behind.typed")
	case s.Table.From == 0:
		return b.t("quality.behind.table")
	case s.Table.Typed:
		return b.t("quality.behind.table_typed", "from", strconv.Itoa(s.Table.From), "to", strconv.Itoa(s.Table.To))
	}
	return b.t("quality.behind.table_years", "from", strconv.Itoa(s.Table.From), "to", strconv.Itoa(s.Table.To))
}

// tableRules says how dates are read from tables, where any station has one.
func (b *builder) tableRules() []Block {
	basis := b.Region.Basis()
	var out []Block
	if basis.Tables > 0 {
		out = append(out, para(Inline{Text: b.t("quality.rule.table")}), para(Inline{Text: b.t("quality.rule.table_gates")}))
	}
	if basis.Typed > 0 {
		out = append(out, para(Inline{Text: b.t("quality.rule.typed", "spread", b.words.Number(frost.AssumedSpread, 0),
			"degree", b.words.Diff(1, words.Nearest), "colder", b.words.Number(frost.AssumedShiftColder, 1), "warmer", b.words.Number(frost.AssumedShiftWarmer, 1))}))
	}
	return out
}

// madeFrom is the phrase for guides with daily records, or the one for guides without.
func (b *builder) madeFrom(records, tables string) string {
	if basis := b.Region.Basis(); basis.Records == 0 && basis.Tables > 0 {
		return tables
	}
	return records
}

// typedOr is the phrase for guides where every station has nothing but typed dates, or the
// one for others.
func (b *builder) typedOr(typed, other string) string {
	if allTyped(b.Region) {
		return typed
	}
	return other
}

// allTyped says whether every station of a region has nothing but typed dates.
func allTyped(r *band.Region) bool {
	basis := r.Basis()
	return basis.Typed > 0 && basis.Typed == len(r.Stations)
}

// yearsBehind says how a station's years count at a date, or what stands in their place.
func (b *builder) yearsBehind(s *band.Station, a band.Answer) string {
	switch {
	case s.Table == nil:
		return b.t("quality.years", "used", b.words.Int(a.Used), "without", b.words.Int(a.Without), "unusable", b.words.Int(a.Unusable))
	case s.Table.Typed && a.Estimate:
		return b.t("quality.years.typed")
	case a.Estimate:
		return b.t("quality.years.estimate")
	case s.Table.Years > 0:
		return b.t("quality.years.table", "years", b.words.Int(s.Table.Years))
	}
	return b.t("quality.years.published")
}
