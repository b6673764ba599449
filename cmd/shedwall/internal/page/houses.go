package page

import (
	"slices"

	"shedwall/cmd/shedwall/internal/catalog"
	"shedwall/cmd/shedwall/internal/cover"
	"shedwall/cmd/shedwall/internal/figure"
	"shedwall/cmd/shedwall/internal/plan"
	"shedwall/cmd/shedwall/internal/quantity"
	"shedwall/cmd/shedwall/internal/words"
)

// housesShown is for how many bands a structure that the guide does not plan with is
// worked out: each takes some milliseconds, and a guide may have hundreds of bands.
const housesShown = 12

// everyCover is every cover and structure that has a page: the guide's covers, then the
// structures that it does not plan with.
func everyCover(t *catalog.Tables) []*catalog.Cover {
	var out []*catalog.Cover
	used := map[string]bool{}
	for i := range t.Covers {
		out = append(out, &t.Covers[i])
		used[t.Covers[i].ID] = true
	}
	for i := range t.Structures {
		if !used[t.Structures[i].ID] {
			out = append(out, &t.Structures[i].Cover)
		}
	}
	return out
}

// housed is a structure on the nights of one band.
type housed struct {
	band           *bandPage
	spring, winter cover.Report
	low, coldest   quantity.Celsius // outside on those nights
	hasSpring      bool             // there are such nights of spring
	hasWinter      bool
}

// housedKey is the key of a structure on a band's nights, the same in every language.
type housedKey struct{ structure string }

// gain is what the structure is planned with in the band.
func (h housed) gain() cover.Gain { return h.spring.Planned() }

// houses works a structure out for the guide's bands: all where the guide plans with it,
// else the first ones. Nothing where its figures do not suffice; missing names them.
func (b *builder) houses(s *catalog.Structure) (out []housed, missing []string) {
	if in, ok := b.houseMemo.Load(s.ID); ok {
		return in.([]housed), nil
	}
	house, missing := cover.HouseOf(s)
	if len(missing) > 0 {
		return nil, missing
	}
	for _, m := range b.housedBands(s) {
		h := m.in.Climate.Hold(housedKey{s.ID}, func() any {
			var h housed
			w, ok := plan.DesignNights(m.in.Climate)
			if !ok {
				return h
			}
			h.hasSpring, h.spring, h.low = true, house.Report(w), w.Min
			if v, ok := plan.WinterNights(m.in.Climate); ok {
				h.winter, h.coldest, h.hasWinter = house.Report(v), v.Min, true
			}
			return h
		}).(housed)
		if h.hasSpring {
			h.band = m
			out = append(out, h)
		}
	}
	b.houseMemo.Store(s.ID, out)
	return out, nil
}

// housedBands is the bands that a structure is worked out for.
func (b *builder) housedBands(s *catalog.Structure) []*bandPage {
	if b.covers.Cover(s.ID) == nil && len(b.made) > housesShown {
		return b.made[:housesShown]
	}
	return b.made
}

// gainKey is the key of a structure's gain on a band's nights, the same in every language.
type gainKey struct{ structure string }

// houseGains is the gain of a structure in each band of houses: a tenth of the work of all
// that its own page tells.
func (b *builder) houseGains(s *catalog.Structure) (out []cover.Gain) {
	house, missing := cover.HouseOf(s)
	if len(missing) > 0 {
		return nil
	}
	for _, m := range b.housedBands(s) {
		g := m.in.Climate.Hold(gainKey{s.ID}, func() any {
			if w, ok := plan.DesignNights(m.in.Climate); ok {
				return house.Gain(w)
			}
			return cover.Gain{}
		}).(cover.Gain)
		if g.Known {
			out = append(out, g)
		}
	}
	return out
}

// housePart is what the heat balance says of a structure in each band, and what water,
// heat and the second skin buy.
func (b *builder) housePart(s *catalog.Structure, in []housed, missing []string) []Block {
	out := []Block{b.heading(2, "house", "house.h")}
	switch {
	case len(missing) > 0:
		return append(out, para(Inline{Text: b.t("house.missing", "figures", b.words.And(missing...))}))
	case len(in) == 0:
		return append(out, para(Inline{Text: b.t("house.no_nights")}))
	}
	out = append(out, para(Inline{Text: b.t("house.intro")}))
	if s.HeatW.Known() {
		out = append(out, Note{Kind: "caution", Label: b.t("note.heater"), Text: b.say("house.heater")})
	}
	if len(in) < len(b.made) && b.covers.Cover(s.ID) == nil {
		out = append(out, para(Inline{Text: b.t("house.some_bands", "n", b.words.Int(len(in)))}))
	}
	out = append(out, b.houseNights("house-spring", "house.spring.caption", s, in, func(h housed) (cover.Report, quantity.Celsius, bool) { return h.spring, h.low, true }))
	if slices.ContainsFunc(in, func(h housed) bool { return h.hasWinter }) {
		out = append(out, b.houseNights("house-winter", "house.winter.caption", s, in, func(h housed) (cover.Report, quantity.Celsius, bool) { return h.winter, h.coldest, h.hasWinter }))
	}
	return append(out, b.houseDays(s, in))
}

// houseNights is a table of nights of one season: a row a band.
func (b *builder) houseNights(id, caption string, s *catalog.Structure, in []housed, of func(housed) (cover.Report, quantity.Celsius, bool)) Table {
	t := Table{ID: id, Caption: firstUpper(b.t(caption, "cover", s.Name)), RowHeads: true, Head: []string{
		b.t("head.band"), b.t("house.head.outside"), b.t("house.head.inside"), b.t("house.head.gain")}}
	r, _, _ := of(in[0])
	parts := []struct {
		key   string
		there bool
		worth func(cover.Report) cover.Worth
	}{
		{"water", r.Water.There || in[0].spring.Water.There, func(r cover.Report) cover.Worth { return r.Water }},
		{"heat", r.Heat.There || in[0].spring.Heat.There, func(r cover.Report) cover.Worth { return r.Heat }},
		{"second", r.SecondSkin.There || in[0].spring.SecondSkin.There, func(r cover.Report) cover.Worth { return r.SecondSkin }},
	}
	for _, p := range parts {
		if p.there {
			t.Head = append(t.Head, b.t("house.head."+p.key))
		}
	}
	heated, water := in[0].spring.Heat.There, in[0].spring.Water.There
	if heated {
		t.Head = append(t.Head, b.t("house.head.kwh"))
	}
	if water {
		t.Head = append(t.Head, b.t("house.head.ice"))
	}
	for _, h := range in {
		r, low, ok := of(h)
		row := [][]Inline{{link(h.band.row().Name, h.band.href())}}
		if !ok {
			for len(row) < len(t.Head) {
				row = append(row, plain(b.t("not_known")))
			}
			t.Rows = append(t.Rows, row)
			continue
		}
		row = append(row, plain(b.words.Temp(low, 0)), plain(b.words.Temp(r.Min[cover.Dull], words.Down)), plain(b.three(r.Gain)))
		for _, p := range parts {
			if p.there {
				row = append(row, plain(b.three(p.worth(r).Gain)))
			}
		}
		if heated {
			row = append(row, plain(b.t("house.kwh", "dull", b.words.Number(r.KWh[cover.Dull], 1), "half", b.words.Number(r.KWh[cover.HalfSun], 1), "clear", b.words.Number(r.KWh[cover.Clear], 1))))
		}
		if water {
			row = append(row, plain(b.t("percent", "n", b.words.Number(100*r.Frozen[cover.Dull], 0))))
		}
		t.Rows = append(t.Rows, row)
	}
	return t
}

// three is a range of differences with its typical value: "12-21 °C, typically 15".
func (b *builder) three(k [3]quantity.Kelvins) string {
	low, high := min(k[cover.Dull], k[cover.HalfSun], k[cover.Clear]), max(k[cover.Dull], k[cover.HalfSun], k[cover.Clear])
	switch {
	case high < 0.05:
		return b.t("house.nothing")
	case high-low < 0.05:
		return b.words.Diff(low, words.Down)
	case k[cover.HalfSun] < 0.05:
		return b.t("house.three_nothing", "range", b.words.DiffRange(low, high))
	}
	return b.t("house.three", "range", b.words.DiffRange(low, high), "typical", b.words.Diff(k[cover.HalfSun], words.Down))
}

// houseDays is how hot it gets inside on clear days, a row a band.
func (b *builder) houseDays(s *catalog.Structure, in []housed) Table {
	t := Table{ID: "house-days", Caption: firstUpper(b.t("house.days.caption", "cover", s.Name)), RowHeads: true, Head: []string{
		b.t("head.band"), b.t("house.head.shut"), b.t("house.head.open"), b.t("house.head.opens")}}
	opens := b.t("not_known")
	if v, ok := s.Vent.Get(); ok {
		opens = b.words.Temp(v, words.Down)
	}
	for _, h := range in {
		t.Rows = append(t.Rows, [][]Inline{{link(h.band.row().Name, h.band.href())}, plain(b.words.Temp(h.spring.PeakShut, words.Up)), plain(b.words.Temp(h.spring.PeakOpen, words.Up)), plain(opens)})
	}
	return t
}

// builtHow is the figures that a structure is worked out from, each with whose it is and
// its source.
func (b *builder) builtHow(s *catalog.Structure) Table {
	t := Table{ID: "built-table", Caption: b.t("house.built.caption", "cover", firstUpper(s.Name)), RowHeads: true, Head: []string{
		b.t("figures.head.figure"), b.t("figures.head.value"), b.t("figures.head.whose"), b.t("figures.head.source")}}
	row := func(key string, f figure.Of[float64], say func(float64) string) {
		value, whose, from := b.t("not_known"), b.t("owner.nobody"), b.say("source.nothing")
		if v, ok := f.Get(); ok {
			value = say(v)
			whose, from = b.t("owner."+ownerKey(f.Owner)), b.source(f.Source)
		}
		t.Rows = append(t.Rows, [][]Inline{plain(b.t("house.figure." + key)), plain(value), plain(whose), from})
	}
	in := func(places int, unit string) func(float64) string {
		return func(v float64) string { return b.words.Number(v, places) + unit }
	}
	percent := func(v float64) string { return b.t("percent", "n", b.words.Number(v, 0)) }
	const gallon = 3.785411784 // l
	litres := func(v float64) string {
		return b.either(b.words.Number(v, 0)+"\u00a0l", b.words.Number(v/gallon, 0)+"\u00a0gal")
	}
	uValue := in(2, "\u00a0W/m²K")
	row("length", s.Length, b.metre)
	row("width", s.Width, b.metre)
	row("height", s.Height, b.metre)
	row("glazing", s.Glazing, b.squareMetres)
	row("glazing_u", s.GlazingU, uValue)
	row("light", s.LightPercent, percent)
	if s.SecondU.Known() {
		row("second_u", s.SecondU, uValue)
		row("second_light", s.SecondLight, percent)
	}
	if s.Walls.Known() {
		row("walls", s.Walls, b.squareMetres)
		row("walls_u", s.WallsU, uValue)
	}
	row("calm", s.CalmChanges, in(2, ""))
	row("usual", s.Changes, in(2, ""))
	row("windy", s.WindyChanges, in(2, ""))
	if s.Water.Known() {
		row("water", s.Water, litres)
	}
	if s.HeatW.Known() {
		row("watts", s.HeatW, in(0, "\u00a0W"))
	}
	return t
}

// houseFacts is what most readers of a structure's page came for, over all its bands.
func (b *builder) houseFacts(s *catalog.Structure) Facts {
	gain := Fact{Name: b.t("cover.fact.gain"), Value: plain(firstUpper(b.t("not_known"))), Detail: b.say("house.fact.gain.none")}
	if in := b.houseGains(s); len(in) > 0 {
		low, high := in[0].Low, in[0].High
		for _, g := range in {
			low, high = min(low, g.Low), max(high, g.High)
		}
		gain.Value, gain.Detail = plain(b.words.DiffRange(low, high)), b.say("house.fact.gain")
	}
	vent := Fact{Name: b.t("cover.fact.vent"), Value: plain(firstUpper(b.t("not_known"))), Detail: b.say("cover.fact.vent.none")}
	if v, ok := s.Vent.Get(); ok {
		vent.Value, vent.Detail = plain(b.words.Temp(v, words.Down)), b.say("cover.fact.vent.inside")
	}
	light := Fact{Name: b.t("cover.fact.light"), Value: plain(firstUpper(b.percent(b.lightOf(&s.Cover)))), Detail: b.say("cover.fact.light.detail")}
	return Facts{Name: b.t("band.facts"), Items: []Fact{gain, vent, light}}
}

// underCovers is the layers of each plan without those in structures, but for crops that the
// publisher plans in one by sheets.csv: a band's sheets, tasks and dates are for gardens, and a
// heated house would make a season of any month. Pages of crops have them all.
func (b *builder) underCovers(band string, plans []plan.CropPlan) [][]plan.LayerPlan {
	housed := map[string]bool{} // by layers
	out := make([][]plan.LayerPlan, len(plans))
	for i := range plans {
		p := &plans[i]
		out[i] = p.Layers
		if len(b.Tables.Structures) == 0 {
			continue
		}
		named, _ := b.Tables.Sheets.Layers(band, p.Crop.ID)
		out[i] = make([]plan.LayerPlan, 0, len(p.Layers))
		for k := range p.Layers {
			l := &p.Layers[k]
			in, known := housed[l.Layers]
			if !known {
				in = b.structureIn(l.Layers) != nil
				housed[l.Layers] = in
			}
			if !in || l.Layers == named {
				out[i] = append(out[i], *l)
			}
		}
	}
	return out
}
