package page

import (
	"math"
	"strings"

	"shedwall/cmd/shedwall/internal/catalog"
	"shedwall/cmd/shedwall/internal/plan"
	"shedwall/cmd/shedwall/internal/quantity"
	"shedwall/cmd/shedwall/internal/words"
)

// manySecond is how many second crops a row of the table names.
const manySecond = 10

// moreBandLine leads to a band's pages of sowing again and of pots.
func (b *builder) moreBandLine(m *bandPage) Block {
	text := []Inline{{Text: b.t("again.more") + " "}, link(b.t("again.title", "band", m.row().Name), HTML(AgainPath(m.row().ID)))}
	if len(b.Tables.Pots) > 0 {
		text = append(text, Inline{Text: " · "}, link(b.t("pots.title", "band", m.row().Name), HTML(PotsPath(m.row().ID))))
	}
	return para(text...)
}

// againPage is which crops are worth starting more than once in a band, and what may
// follow an early crop.
func (b *builder) againPage(m *bandPage) *Page {
	name := m.row().Name
	p := b.newPage(AgainPath(m.row().ID), BandsPlace, b.t("again.title", "band", name), b.t("again.description", "band", name))
	p.add(Para{Lead: true, Text: b.say("again.lead")}, para(link(b.t("sentences.back", "band", name), m.href())))
	p.add(b.estimateNotes(m)...)
	p.add(b.heading(2, "again", "again.h.again"), para(Inline{Text: b.t("again.intro")}))
	all := b.successions(m)
	if len(all) == 0 {
		p.add(para(Inline{Text: b.t("again.none")}))
	} else {
		p.add(b.againTable(name, all))
		p.add(b.withoutBase(all)...)
	}
	p.add(b.heading(2, "second", "second.h"), para(Inline{Text: b.t("second.intro", "odds", b.words.Odds(quantity.Careful))}))
	p.add(b.secondTable(m))
	for _, f := range plan.IntoAnyBed(m.in.Plans) {
		p.add(para(Inline{Text: b.t("second.fall", "crop", f.Plan.Crop.Name, "date", b.words.Date(b.date(f.By)))}))
	}
	p.add(Note{Kind: "hint", Label: b.t("note.forecast"), Text: b.say("band.forecast")})
	return p
}

func (b *builder) againTable(name string, all []plan.Succession) Table {
	t := Table{ID: "again-table", Caption: b.t("again.caption", "band", name), RowHeads: true, Head: []string{
		b.t("head.crop"), b.t("again.head.times"), b.t("again.head.first"), b.t("again.head.every"), b.t("again.head.last")}}
	for i := range all {
		s := &all[i]
		t.Rows = append(t.Rows, [][]Inline{
			{link(s.Crop.Name, HTML(CropPath(s.Crop.ID)))},
			plain(b.words.Int(len(s.Sowings))),
			plain(b.words.Date(b.date(s.Sowings[0].Start))),
			plain(b.every(s)),
			plain(b.words.Date(b.date(s.Last.Slot))),
		})
	}
	return t
}

// every is the days between plantings through the season, and the gap of hot soil.
func (b *builder) every(s *plan.Succession) string {
	first, shortest, last, _ := s.Interval()
	text := ""
	switch {
	case len(s.Sowings) == 2:
		text = b.words.Days(first)
	case first == last && shortest == first:
		text = b.t("again.every.even", "days", b.words.Days(first))
	case shortest < min(first, last):
		text = b.t("again.every.three", "first", b.words.Days(first), "shortest", b.words.Int(shortest), "last", b.words.Int(last))
	default:
		text = b.t("again.every.two", "first", b.words.Days(first), "last", b.words.Int(last))
	}
	if s.Hot[1] > s.Hot[0] {
		text += " " + b.t("again.hot", "from", b.words.Date(b.date(s.Hot[0])), "to", b.words.Date(b.date(s.Hot[1]-1)))
	}
	return text
}

// withoutBase names the crops whose interval does not follow the season for want of a
// base temperature, and those that take their class's.
func (b *builder) withoutBase(all []plan.Succession) []Block {
	var none, class []string
	for i := range all {
		switch {
		case len(all[i].Missing) > 0:
			none = append(none, all[i].Crop.Name)
		case all[i].ByClass:
			class = append(class, all[i].Crop.Name)
		}
	}
	var out []Block
	if len(class) > 0 {
		out = append(out, para(Inline{Text: b.t("again.by_class") + " ", Strong: true}, Inline{Text: namesOf(class)}))
	}
	if len(none) > 0 {
		out = append(out, para(Inline{Text: b.t("again.no_base") + " ", Strong: true}, Inline{Text: namesOf(none)}))
	}
	return out
}

// secondTable is what clears its bed early and what may follow.
func (b *builder) secondTable(m *bandPage) Block {
	all := plan.SecondCrops(m.in.Plans)
	if len(all) == 0 {
		return para(Inline{Text: b.t("second.none")})
	}
	t := Table{ID: "second-table", Caption: b.t("second.caption", "band", m.row().Name), RowHeads: true, Head: []string{
		b.t("second.head.first"), b.t("second.head.cleared"), b.t("second.head.next")}}
	for _, s := range all {
		var next []string
		for i, f := range s.Next {
			if i == manySecond {
				next = append(next, b.t("second.more", "n", b.words.Int(len(s.Next)-manySecond)))
				break
			}
			key := "second.until"
			if f.Action == plan.SetOut && f.Plan.Crop.Start == catalog.Either {
				key = "second.set_out"
			}
			next = append(next, b.t(key, "crop", f.Plan.Crop.Name, "date", b.words.Date(b.date(f.By))))
		}
		t.Rows = append(t.Rows, [][]Inline{
			{link(s.First.Crop.Name, HTML(CropPath(s.First.Crop.ID)))},
			plain(b.words.Date(b.date(s.Cleared))),
			plain(strings.Join(next, " · ")),
		})
	}
	return t
}

// cropAgain is a crop's plantings one after another, band by band; nothing for crops that
// are started once.
func (b *builder) cropAgain(c *catalog.Crop, plans []cropIn) []Block {
	t := Table{ID: "again-table", Caption: b.t("again.crop.caption", "crop", c.Name), RowHeads: true, Head: []string{
		b.t("head.band"), b.t("again.head.times"), b.t("again.head.dates"), b.t("again.head.every"), b.t("again.head.last"), b.t("again.head.grown")}}
	var told *plan.Succession
	for _, x := range plans {
		found := b.planner.Successions(x.band.in.Climate, []plan.CropPlan{*x.plan})
		if len(found) == 0 {
			continue
		}
		s := &found[0]
		told = s
		var days []string
		for _, sown := range s.Sowings {
			days = append(days, b.words.Date(b.date(sown.Start)))
		}
		t.Rows = append(t.Rows, [][]Inline{
			{link(x.band.row().Name, x.band.href())}, plain(b.words.Int(len(s.Sowings))), plain(strings.Join(days, " · ")),
			plain(b.every(s)), plain(b.words.Date(b.date(s.Last.Slot))), plain(b.grownBy(s)),
		})
	}
	if told == nil {
		return nil
	}
	out := []Block{b.heading(2, "again", "again.h.again"), para(Inline{Text: b.t("again.intro")})}
	switch base := b.words.Temp(quantity.Celsius(told.Base), words.Nearest); {
	case len(told.Missing) > 0:
		out = append(out, para(Inline{Text: b.t("again.crop.no_base")}))
	case told.ByClass:
		out = append(out, para(Inline{Text: b.t("again.crop.class", "base", base)}))
	default:
		out = append(out, para(Inline{Text: b.t("again.crop.base", "base", base)}))
	}
	return append(out, t)
}

// grownBy is how far on a planting is when the next is started, to the nearest 5 %.
func (b *builder) grownBy(s *plan.Succession) string {
	low, high := math.Inf(1), 0.0
	for _, x := range s.Sowings[1:] {
		low, high = min(low, x.Grown), max(high, x.Grown)
	}
	five := func(x float64) int { return int(math.Round(x*20)) * 5 }
	if five(low) == five(high) {
		return b.t("again.grown", "percent", b.words.Int(five(low)))
	}
	return b.t("again.grown", "percent", b.words.IntRange(five(low), five(high)))
}
