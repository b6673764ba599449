package page

import (
	"shedwall/cmd/shedwall/internal/catalog"
	"shedwall/cmd/shedwall/internal/figure"
	"shedwall/cmd/shedwall/internal/plan"
	"shedwall/cmd/shedwall/internal/quantity"
	"shedwall/cmd/shedwall/internal/words"
)

// potsPage is the tender plants of a band: when they come in and go out, and which places
// of the guide keep them through the winter.
func (b *builder) potsPage(m *bandPage) *Page {
	name := m.row().Name
	p := b.newPage(PotsPath(m.row().ID), BandsPlace, b.t("pots.title", "band", name), b.t("pots.description", "band", name))
	plans := b.planner.Pots(m.in.Climate)
	odds := b.words.Odds(quantity.Careful)
	p.add(Para{Lead: true, Text: b.say("pots.lead", "odds", odds)}, para(link(b.t("sentences.back", "band", name), m.href())))
	p.add(b.estimateNotes(m)...)
	p.add(b.heading(2, "dates", "pots.h.dates"), para(Inline{Text: b.t("pots.dates.intro")}), b.potDates(name, plans))
	p.add(b.potStandIns(plans)...)
	p.add(Note{Kind: "caution", Label: b.t("note.roots"), Text: b.say("pots.roots")})
	p.add(Note{Kind: "hint", Label: b.t("note.forecast"), Text: b.say("band.forecast")})
	p.add(b.heading(2, "places", "pots.h.places"))
	p.add(b.potPlaces(m, plans)...)
	p.add(b.heading(2, "figures", "pots.h.figures"), para(Inline{Text: b.t("pots.figures.intro")}), b.potFigures(plans))
	p.add(b.potNotes(plans)...)
	return p
}

func (b *builder) potDates(name string, plans []plan.PotPlan) Table {
	careful, half := b.words.Odds(quantity.Careful), b.words.Odds(quantity.Half)
	t := Table{ID: "pot-dates", Caption: b.t("pots.dates.caption", "band", name), RowHeads: true, Head: []string{
		b.t("pots.head.plant"), b.t("pots.head.nights"), b.t("pots.head.in", "odds", careful), b.t("pots.head.in", "odds", half),
		b.t("pots.head.out", "odds", half), b.t("pots.head.out", "odds", careful)}}
	for _, x := range plans {
		nights := b.words.Temp(x.Outside, words.Up)
		if x.Pot.Kind == catalog.Lifted {
			nights = b.t("pots.lifted")
		}
		t.Rows = append(t.Rows, [][]Inline{
			plain(x.Pot.Name), plain(nights), plain(b.potDay(x.BringIn[0], "in")), plain(b.potDay(x.BringIn[1], "in")),
			plain(b.potDay(x.PutOut[1], "out")), plain(b.potDay(x.PutOut[0], "out")),
		})
	}
	return t
}

// potDay words one date, or why there is none.
func (b *builder) potDay(x plan.Bound, way string) string {
	switch x.State {
	case plan.Dated:
		return b.words.Date(b.date(x.Slot))
	case plan.Open:
		return b.t("pots." + way + ".open")
	case plan.Never:
		return b.t("pots." + way + ".never")
	}
	return b.t("not_known")
}

// potStandIns says for which plants frost stands in for a limit that nobody gave.
func (b *builder) potStandIns(plans []plan.PotPlan) []Block {
	var out, in []string
	for _, x := range plans {
		if x.OutsideFrom == "" && x.Pot.Kind != catalog.Lifted {
			out = append(out, x.Pot.Name)
		}
		if x.InsideFrom == "" {
			in = append(in, x.Pot.Name)
		}
	}
	var blocks []Block
	if len(out) > 0 {
		blocks = append(blocks, para(Inline{Text: b.t("pots.stand_in.out") + " ", Strong: true}, Inline{Text: namesOf(out)}))
	}
	if len(in) > 0 {
		blocks = append(blocks, para(Inline{Text: b.t("pots.stand_in.in") + " ", Strong: true}, Inline{Text: namesOf(in)}))
	}
	return blocks
}

// potPlaces is the odds of each place, the plants in groups that need the same.
func (b *builder) potPlaces(m *bandPage, plans []plan.PotPlan) []Block {
	places := b.planner.Places(m.in.Climate)
	if len(places) == 0 || len(plans) == 0 {
		return []Block{para(Inline{Text: b.t("pots.places.none")})}
	}
	t := Table{ID: "pot-places", Caption: b.t("pots.places.caption", "band", m.row().Name), RowHeads: true, Head: []string{b.t("pots.head.inside")}}
	for _, id := range places {
		t.Head = append(t.Head, b.placeName(id))
	}
	for _, limit := range insideLimits(plans) {
		var names []string
		var keeps []plan.Keep
		for _, x := range plans {
			if x.Inside == limit {
				names, keeps = append(names, x.Pot.Name), x.Keeps
			}
		}
		row := [][]Inline{{{Text: b.t("pots.above", "temp", b.words.Temp(limit, words.Up)), Strong: true}, {Text: " " + namesOf(names)}}}
		for _, k := range keeps {
			row = append(row, plain(b.wintering(k.Odds)))
		}
		t.Rows = append(t.Rows, row)
	}
	return []Block{para(Inline{Text: b.t("pots.places.intro")}), t, para(Inline{Text: b.t("pots.places.after")})}
}

// insideLimits is what plants need inside, coldest first.
func insideLimits(plans []plan.PotPlan) []quantity.Celsius {
	var out []quantity.Celsius
	for _, x := range plans {
		at := 0
		for at < len(out) && out[at] < x.Inside {
			at++
		}
		if at == len(out) || out[at] != x.Inside {
			out = append(out[:at], append([]quantity.Celsius{x.Inside}, out[at:]...)...)
		}
	}
	return out
}

func (b *builder) placeName(id string) string {
	if s := b.Tables.Structure(id); s != nil {
		return firstUpper(s.Name)
	}
	return firstUpper(b.layersName(id))
}

// potFigures is every figure of the plants with its source.
func (b *builder) potFigures(plans []plan.PotPlan) Table {
	t := Table{ID: "pot-figures", Caption: b.t("pots.figures.caption"), RowHeads: true, Head: []string{
		b.t("pots.head.plant"), b.t("pots.head.bring_in"), b.t("pots.head.never"), b.t("pots.head.keep"), b.t("pots.head.damage"), b.t("pots.head.kill"), b.t("pots.head.light")}}
	for _, x := range plans {
		p := x.Pot
		name := plain(p.Name)
		if p.Latin != "" {
			name = append(name, Inline{Text: " "}, Inline{Text: p.Latin, Lang: "la"})
		}
		t.Rows = append(t.Rows, [][]Inline{
			name, b.potFigure(p.BringIn), b.potFigure(p.Never), b.potKeep(p), b.potFigure(p.Damage), b.potFigure(p.Kill), plain(b.t("pots.light." + p.Light.String())),
		})
	}
	return t
}

func (b *builder) potFigure(f figure.Of[quantity.Celsius]) []Inline {
	if !f.Known() {
		return plain(b.t("not_known"))
	}
	out := []Inline{{Text: b.temp(f) + " ("}}
	out = append(out, b.source(f.Source)...)
	return append(out, Inline{Text: ")"})
}

func (b *builder) potKeep(p *catalog.Pot) []Inline {
	low, a := p.KeepLow.Get()
	high, z := p.KeepHigh.Get()
	text := ""
	switch {
	case !a:
		return plain(b.t("not_known"))
	case !z || low == high:
		text = b.words.Temp(low, words.Nearest)
	default:
		text = b.t("pots.keep", "low", b.words.Temp(low, words.Nearest), "high", b.words.Temp(high, words.Nearest))
	}
	out := []Inline{{Text: text + " ("}}
	out = append(out, b.source(p.KeepLow.Source)...)
	return append(out, Inline{Text: ")"})
}

func (b *builder) potNotes(plans []plan.PotPlan) []Block {
	l := List{}
	for _, x := range plans {
		if x.Pot.Note != "" {
			l.Items = append(l.Items, []Inline{{Text: b.t("label", "name", x.Pot.Name), Strong: true}, {Text: " " + x.Pot.Note}})
		}
	}
	if len(l.Items) == 0 {
		return nil
	}
	return []Block{l}
}
