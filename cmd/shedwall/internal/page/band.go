package page

import (
	"strconv"
	"sync"

	"shedwall/cmd/shedwall/internal/band"
	"shedwall/cmd/shedwall/internal/catalog"
	"shedwall/cmd/shedwall/internal/plan"
	"shedwall/cmd/shedwall/internal/quantity"
	"shedwall/cmd/shedwall/internal/record"
)

// The thresholds of a band's odds table (C): frost likely on the ground although
// the screen is above freezing, a freeze (32 F), a hard freeze (28 F), a severe
// one (24 F). The chart leaves out the first.
var thresholds = []quantity.Celsius{2, 0, -2.2, -4.4}

// bandPage is what pages say about a band again and again.
type bandPage struct {
	in     *BandInput
	number int // from 0, in the order of the pages

	// An outline (see there) has these empty.
	sheets []*Sheet
	both   []*Sheet // in two languages
	wall   Wall
	csv    File
	hand   handouts
	work   *workYear
	twice  saidTwice
	shared *sharedWork

	careful, half [2]band.Answer // freeze at 0 C, by event
	winter        band.Winter
	frostFree     int
	freeKnown     bool
}

func (m *bandPage) row() *catalog.Band { return m.in.Climate.Band }
func (m *bandPage) href() string       { return HTML(BandPath(m.row().ID)) }

// saidTwice is what both the page of a band and the whole guide say of it, made when it is
// first asked for. Its blocks must not be changed.
type saidTwice struct {
	calendar, covers, notHere func() []Block
	chart                     func() Chart
}

// sayTwice prepares what is said twice of a band with its plans.
func (b *builder) sayTwice(m *bandPage) saidTwice {
	blocks := func(make func(*bandPage) []Block) func() []Block {
		return sync.OnceValue(func() []Block { return make(m) })
	}
	return saidTwice{blocks(b.calendar), blocks(b.coversBuy), blocks(b.notHere), sync.OnceValue(func() Chart { return b.seasonChart(m) })}
}

// outline is what pages of other bands and of the whole guide say about a band: it is
// kept for all of them, and has no plans.
func (b *builder) outline(c *band.Climate) *bandPage {
	m := &bandPage{in: &BandInput{Climate: c}, winter: c.Winter()}
	m.frostFree, m.freeKnown = c.FrostFree(0)
	for _, e := range []record.Event{record.Last, record.First} {
		m.careful[e], m.half[e] = freeze(c, e, quantity.Careful, 0), freeze(c, e, quantity.Half, 0)
	}
	return m
}

// planned is a band's outline with its plans and what is made from them.
func (b *builder) planned(outline *bandPage, plans []plan.CropPlan) *bandPage {
	m := *outline
	m.shared = b.sharedOf(m.in.Climate, plans)
	plans = b.named(plans)
	m.in = &BandInput{m.in.Climate, under(m.shared.covered, plans)}
	m.wall = b.wallOf(outline, plans)
	if w, ok := b.walls.LoadAndDelete(m.row().ID); ok {
		m.wall = w.(Wall)
	}
	m.wall.keepChosen(m.in.Plans)
	m.sheets = m.wall.Sheets()
	m.both = b.bothSheets(&m, plans)
	if b.Tables.Guide.FirstPDF {
		for _, sheets := range [][]*Sheet{m.sheets, m.both} {
			for i, s := range sheets {
				s.NoPDF = i > 0
			}
		}
	}
	m.csv = b.calendarFile(&m)
	b.hand(&m)
	m.work = b.listWork(&m)
	m.twice = b.sayTwice(&m)
	return &m
}

// wallOf is the wall of a band.
func (b *builder) wallOf(outline *bandPage, plans []plan.CropPlan) Wall {
	cards := b.tonightCards(outline.in.Climate, plans)
	return Wall{Tables: b.Tables, Book: b.words, Climate: outline.in.Climate, Plans: plans, Cards: cards, Fitting: b.Fitting}.keeping()
}

// band is the page of a band.
func (b *builder) band(m *bandPage) *Page {
	row := m.row()
	p := b.newPage(BandPath(row.ID), BandsPlace, row.Name, b.t("band.description", "band", row.Name))
	p.add(Para{Lead: true, Text: b.say("band.lead", "heights", b.heights(row), "position", b.position(row.Position), "zone", b.zoneOf(m))})
	p.add(b.bandContents())
	p.add(b.bandFacts(m))
	p.add(b.estimateNotes(m)...)
	p.add(b.leftOutNotes(m)...)
	p.add(b.prose("bands/"+row.ID, 0)...)

	p.add(b.heading(2, "sheets", "band.h.sheets"))
	p.add(b.sheetTable(m))
	p.add(b.bothLinks(m)...)
	p.add(b.cardTables(m), b.workLine(m), b.moreBandLine(m), b.bandFiles(m))
	p.add(b.movedHint()...)
	p.add(b.onlyCovered(m)...)
	p.add(m.twice.notHere()...)

	p.add(b.heading(2, "odds", "band.h.odds"))
	p.add(para(Inline{Text: b.t("band.odds.intro")}), b.oddsTable(m))
	p.add(b.oddsNotes(m)...)
	p.add(b.chartBlocks(m)...)
	p.add(b.heading(2, "zone", "band.h.zone"))
	p.add(para(Inline{Text: b.t("band.zone.two_sentences")}), para(Inline{Text: b.zoneCompared(m)}))
	p.add(b.bandWinter(m)...)

	p.add(b.heading(2, "calendar", "band.h.calendar"))
	p.add(m.twice.calendar()...)
	p.add(b.heading(2, "covers", "band.h.covers"))
	p.add(m.twice.covers()...)
	p.add(b.heading(2, "border", "band.h.border"))
	p.add(b.borderList(m)...)
	p.add(b.heading(2, "tonight", "band.h.freezes"))
	p.add(para(Inline{Text: b.t("band.freeze.still")}), para(Inline{Text: b.t("band.freeze.wind")}))
	p.add(b.takeOff(m)...)
	p.add(b.heading(2, "cautions", "band.h.cautions"))
	p.add(b.cautions("all")...)
	p.add(para(Inline{Text: b.t("band.cautions.more") + " "}, link(b.t("band.cautions.link"), HTML(SafetyPath))))
	p.add(b.heading(2, "sentences", "band.h.sentences"), para(Inline{Text: b.t("calendar.more", "odds", b.words.Odds(quantity.Careful)) + " "},
		link(b.t("band.files.sentences", "band", row.Name), HTML(SentencesPath(row.ID)))))
	return p
}

func (b *builder) bandContents() Contents {
	c := Contents{Name: b.t("frame.contents")}
	for _, id := range []string{"sheets", "odds", "zone", "calendar", "covers", "border", "freezes", "cautions", "sentences"} {
		anchor := id
		if id == "freezes" {
			anchor = "tonight"
		}
		c.Items = append(c.Items, link(b.t("band.h."+id), "#"+anchor))
	}
	return c
}

// bandFacts is what most readers came for.
func (b *builder) bandFacts(m *bandPage) Facts {
	f := Facts{Name: b.t("band.facts")}
	fact := func(key string, e record.Event) {
		f.Items = append(f.Items, Fact{b.t("band.facts." + key), plain(firstUpper(b.answerAt(m.in.Climate, m.careful[e], 0))), b.freezeDetail(m, key, e)})
	}
	fact("last", record.Last)
	fact("first", record.First)
	free, detail := b.free(m)
	f.Items = append(f.Items, Fact{b.t("band.facts.free"), plain(firstUpper(free)), detail})
	zone := Fact{Name: b.t("band.facts.zone"), Value: plain(firstUpper(b.zoneOf(m)))}
	if m.winter.Known {
		zone.Detail = b.say("band.facts.zone.detail", "temp", b.words.Temp(m.winter.MeanExtreme, 0))
	} else if m.row().DeclaredZone.Known() {
		zone.Detail = b.say("band.facts.zone.declared")
	}
	f.Items = append(f.Items, zone)
	return f
}

// sheetTable leads to the wall sheets in every form.
func (b *builder) sheetTable(m *bandPage) Block {
	if len(m.sheets) == 0 {
		return para(Inline{Text: b.t("band.sheets.none")})
	}
	t := Table{ID: "sheet-table", Caption: b.t("band.sheets.caption", "band", m.row().Name), RowHeads: true,
		Head: []string{b.t("band.sheets.sheet"), b.t("band.sheets.crops"), b.t("band.sheets.paper"), b.t("band.sheets.code")}}
	for i, s := range m.sheets {
		what := b.t("paper.sheet", "n", strconv.Itoa(i+1))
		pdf := b.say("band.sheets.no_pdf")
		if !s.NoPDF {
			pdf = []Inline{heardLink(what, b.t("paper.letter.cell"), SheetPDF(s.Path, "letter")), {Text: " · "}, heardLink(what, b.t("paper.a4.cell"), SheetPDF(s.Path, "a4"))}
		}
		t.Rows = append(t.Rows, [][]Inline{
			{link(s.Name, HTML(s.Path))},
			plain(b.words.Int(len(s.Rows))),
			pdf,
			plain(s.Code),
		})
	}
	return t
}

func (b *builder) bandFiles(m *bandPage) Block {
	return para(Inline{Text: b.t("band.files") + " "}, link(b.t("band.files.sentences", "band", m.row().Name), HTML(SentencesPath(m.row().ID))),
		Inline{Text: " · "}, link(b.t("band.files.csv", "band", m.row().Name), m.csv.Path))
}

// oddsTable is the dates of the last and first night at or below each threshold, and from
// how many years they are, where that is known of any.
func (b *builder) oddsTable(m *bandPage) Block {
	careful, half := b.words.Odds(quantity.Careful), b.words.Odds(quantity.Half)
	t := Table{ID: "odds-table", Caption: b.t("band.odds.caption", "band", m.row().Name), RowHeads: true, Head: []string{
		b.t("band.odds.head.limit"),
		b.t("band.odds.head.last", "odds", careful), b.t("band.odds.head.last", "odds", half),
		b.t("band.odds.head.first", "odds", half), b.t("band.odds.head.first", "odds", careful),
	}}
	c := m.in.Climate
	years := yearsKnown(c)
	if years {
		t.Head = append(t.Head, b.t("band.odds.head.years"))
	}
	for i, limit := range thresholds {
		last := freeze(c, record.Last, quantity.Careful, limit)
		name := b.t("band.odds.limit."+strconv.Itoa(i), "temp", b.words.Temp(limit, 0))
		t.Rows = append(t.Rows, [][]Inline{
			plain(name),
			plain(b.answerAt(c, last, limit)), plain(b.answerAt(c, freeze(c, record.Last, quantity.Half, limit), limit)),
			plain(b.answerAt(c, freeze(c, record.First, quantity.Half, limit), limit)), plain(b.answerAt(c, freeze(c, record.First, quantity.Careful, limit), limit)),
		})
		if row := &t.Rows[i]; years {
			*row = append(*row, plain(b.yearsUsed(last)))
		}
	}
	return t
}

// yearsKnown says whether anybody knows how many years stand behind a date of oddsTable.
func yearsKnown(c *band.Climate) bool {
	for _, limit := range thresholds {
		if freeze(c, record.Last, quantity.Careful, limit).Used > 0 {
			return true
		}
	}
	return false
}

// yearsUsed is "28 of 30 years".
func (b *builder) yearsUsed(a band.Answer) string {
	if a.Used == 0 {
		return b.t("not_known")
	}
	return b.t("years.used", "used", b.words.Int(a.Used), "all", b.words.Int(a.Used+a.Unusable))
}

// oddsNotes says how far to trust the dates and how to move them for one's own height.
func (b *builder) oddsNotes(m *bandPage) []Block {
	c := m.in.Climate
	var out []Block
	if !yearsKnown(c) {
		out = append(out, para(Inline{Text: b.t("band.odds.no_years")}))
	}
	if a := m.half[record.Last]; a.PlusMinus > 0 {
		text := b.t("band.odds.give", "last", b.words.PlusMinus(a.PlusMinus), "first", b.words.PlusMinus(max(1, m.half[record.First].PlusMinus)))
		if allTyped(b.Region) && m.careful[record.Last].PlusMinus > a.PlusMinus {
			text += " " + b.t("band.odds.give.careful", "last", b.words.PlusMinus(m.careful[record.Last].PlusMinus), "first", b.words.PlusMinus(max(1, m.careful[record.First].PlusMinus)))
		}
		var own []string
		for i := range b.Region.Stations {
			if c.OwnStation(i) {
				own = append(own, b.Region.Stations[i].Row.Name)
			}
		}
		if len(own) > 0 {
			text += " " + b.t("band.odds.own", "stations", b.words.And(own...))
		} else {
			text += " " + b.t("band.odds.no_own")
		}
		out = append(out, para(Inline{Text: text}))
	}
	last, first := c.DaysPerHundredMetres(record.Last), c.DaysPerHundredMetres(record.First)
	if last > 0.5 && first > 0.5 {
		out = append(out, para(Inline{Text: b.t("band.odds.height", "height", b.words.Height(100),
			"last", b.words.Days(int(last+0.5)), "first", b.words.Days(int(first+0.5)))}))
	}
	if slow, sun := plan.SlowDays(c); slow.Exists() {
		key := "band.short_days"
		if sun {
			key = "band.sun_lost"
		}
		out = append(out, para(Inline{Text: b.t(key, "from", b.words.Date(b.date(slow.From)), "to", b.words.Date(b.date(slow.To)))}))
	}
	out = append(out, Note{Kind: "hint", Label: b.t("note.forecast"), Text: b.say("band.forecast")})
	return out
}

// zoneCompared sets this band's zone beside another band's that shows best how
// little the zone says about dates.
func (b *builder) zoneCompared(m *bandPage) string {
	declared, ok := m.row().DeclaredZone.Get()
	whence := ""
	if z := b.Tables.Guide.ZoneMap; z != "" {
		whence = " (" + z + ")"
	}
	if !m.winter.Known {
		text := b.t(b.untold("band.zone.unknown", m.winter), b.reach()...)
		if ok {
			text = b.t("band.zone.declared", "zone", declared, "map", whence) + " " + text
		}
		return text
	}
	text := b.t("band.zone.computed", "zone", m.winter.Zone, "temp", b.words.Temp(m.winter.MeanExtreme, 0), "winters", b.words.Int(m.winter.Years))
	if ok {
		key := "band.zone.differs"
		if declared == m.winter.Zone {
			key = "band.zone.agrees"
		}
		text += " " + b.t(key, "zone", declared, "map", whence)
	}
	return text
}
