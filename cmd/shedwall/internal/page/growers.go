package page

import (
	"strconv"
	"strings"

	"shedwall/cmd/shedwall/internal/catalog"
	"shedwall/cmd/shedwall/internal/quantity"
	"shedwall/cmd/shedwall/internal/score"
	"shedwall/cmd/shedwall/internal/words"
)

// storiesFolder holds the texts of growers.
const storiesFolder = "stories/"

// growers is the page on which growers' reports stand beside what the guide had
// printed, with their stories and the forms for new reports.
func (b *builder) growers() *Page {
	p := b.newPage(GrowersPath, HTML(GrowersPath), b.t("growers.title"), b.t("growers.description"))
	var r score.Result
	if b.Reports != nil {
		r = b.Reports()
	}
	lead := b.t("growers.lead.none")
	if len(r.Judged) > 0 {
		lead = b.t("growers.lead", "reports", b.words.N("growers.reports", r.All.Reports))
	}
	p.add(Para{Lead: true, Text: plain(lead)})
	if r.Parked > 0 {
		p.add(para(Inline{Text: b.words.N("growers.parked", r.Parked)}))
	}
	if len(r.Judged) > 0 {
		p.add(b.heading(2, "kept", "growers.h.kept"), para(Inline{Text: b.verdict(r.All)}))
		p.add(b.tallyTable("by-band", "growers.by_band", "growers.head.band", r.Bands, func(id string) string { return b.bandName(id) }))
		p.add(b.tallyTable("by-cover", "growers.by_cover", "growers.head.cover", r.Covers, func(id string) string { return firstUpper(b.under(id)) }))
		p.add(para(Inline{Text: b.t("growers.care")}))
		p.add(b.heading(2, "reports", "growers.h.reports"), para(Inline{Text: b.t("growers.reports.how")}), b.reportTable(r))
	}
	if stories := b.stories(); len(stories.Items) > 0 {
		p.add(b.heading(2, "stories", "growers.h.stories"), stories)
	}
	p.add(b.heading(2, "form", "growers.h.form"), para(Inline{Text: b.t("growers.form")}), b.reportForms())
	return p
}

// verdict says what the reports tell about the careful dates.
func (b *builder) verdict(t score.Tally) string {
	key := "growers.verdict.kept"
	switch t.Verdict() {
	case score.TooFew:
		key = "growers.verdict.few"
	case score.TooMuch:
		key = "growers.verdict.much"
	}
	return b.t(key, "safe", b.words.N("growers.reports", t.Safe), "harmed", b.words.Int(t.SafeHarmed), "odds", b.words.Odds(quantity.Careful))
}

// tallyTable adds reports up by band or by cover.
func (b *builder) tallyTable(id, caption, first string, tallies []score.Tally, name func(string) string) Table {
	t := Table{ID: id, Caption: b.t(caption), RowHeads: true,
		Head: []string{b.t(first), b.t("growers.head.safe"), b.t("growers.head.even"), b.t("growers.head.outside"), b.t("growers.head.told"), b.t("growers.head.other")}}
	part := func(harmed, all int) []Inline {
		if all == 0 {
			return b.say("growers.none")
		}
		return b.say("growers.harmed_of", "harmed", b.words.Int(harmed), "all", b.words.Int(all))
	}
	for _, x := range tallies {
		told := b.t("growers.none")
		if n := x.Right + x.Wrong; n > 0 {
			told = b.t("growers.right_of", "right", b.words.Int(x.Right), "all", b.words.Int(n))
		}
		other := b.t("growers.none")
		if x.Heat+x.Crush > 0 {
			other = b.t("growers.heat_crush", "heat", b.words.Int(x.Heat), "crush", b.words.Int(x.Crush))
		}
		t.Rows = append(t.Rows, [][]Inline{plain(name(x.ID)), part(x.SafeHarmed, x.Safe), part(x.EvenHarmed, x.Even), part(x.OutsideHarmed, x.Outside), plain(told), plain(other)})
	}
	return t
}

// reportTable is every report with what was printed for its day.
func (b *builder) reportTable(r score.Result) Table {
	t := Table{ID: "reports-table", Caption: b.t("growers.reports.caption"), RowHeads: true,
		Head: []string{b.t("growers.head.what"), b.t("growers.head.where"), b.t("growers.head.when"), b.t("growers.head.cover"),
			b.t("growers.head.low"), b.t("growers.head.outcome"), b.t("growers.head.place"), b.t("growers.head.foretold")}}
	for _, j := range r.Judged {
		x := j.Report
		what := b.cropRow[x.Crop].Name
		if x.Young {
			what = b.t("growers.young", "crop", what)
		}
		where := b.bandName(x.Band)
		for _, more := range []string{x.Place, b.reportHeight(x), x.Grower} {
			if more != "" {
				where += ", " + more
			}
		}
		when := b.words.Date(x.On)
		if x.Year > 0 {
			when = b.words.DateFull(quantity.DayOf(x.Year, x.On.Month, x.On.Day))
		}
		cover := firstUpper(b.under(x.Layers))
		if x.Touched {
			cover += ", " + b.t("growers.touched")
		}
		low := b.t("not_known")
		if v, ok := x.Outside.Get(); ok {
			low = b.words.Temp(v, words.Nearest)
		}
		if v, ok := x.Inside.Get(); ok {
			low = b.t("growers.inside", "outside", low, "inside", b.words.Temp(v, words.Nearest))
		}
		outcome := plain(firstUpper(b.t("growers.outcome." + x.Outcome.String())))
		if x.Note != "" { // as the grower wrote it, on pages of any language
			note := Inline{Text: x.Note}
			if own := b.Tables.Guide.Language; own != b.words.Language() {
				note.Lang = own
			}
			outcome = append(outcome, Inline{Text: " ("}, note, Inline{Text: ")"})
		}
		t.Rows = append(t.Rows, [][]Inline{plain(what), plain(where), plain(when), plain(cover), plain(firstUpper(low)), outcome,
			b.say("growers.place." + strconv.Itoa(int(j.Place))), b.say("growers.told." + strconv.Itoa(int(j.Told)))})
	}
	return t
}

func (b *builder) reportHeight(x *catalog.Report) string {
	if v, ok := x.Height.Get(); ok {
		return b.words.Height(v)
	}
	return ""
}

func (b *builder) bandName(id string) string {
	for i := range b.Tables.Bands {
		if b.Tables.Bands[i].ID == id {
			return b.Tables.Bands[i].Name
		}
	}
	return id
}

// under names layers, open ground among them.
func (b *builder) under(layers string) string {
	if layers == "" {
		return b.t("growers.open")
	}
	return b.layersName(layers)
}

// stories leads to the growers' texts.
func (b *builder) stories() List {
	l := List{}
	for _, d := range b.further {
		if strings.HasPrefix(d.ID, storiesFolder) {
			l.Items = append(l.Items, []Inline{link(d.Title, HTML(d.ID))})
		}
	}
	return l
}
