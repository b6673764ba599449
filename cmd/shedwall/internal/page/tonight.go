package page

import (
	"math"
	"strings"

	"shedwall/cmd/shedwall/internal/band"
	"shedwall/cmd/shedwall/internal/catalog"
	"shedwall/cmd/shedwall/internal/plan"
	"shedwall/cmd/shedwall/internal/quantity"
	"shedwall/cmd/shedwall/internal/words"
)

// mostCardRows is how many rows a tonight card has at most: more than these make a
// half page too small to read by a torch.
const mostCardRows = 16

// tonightCards are the cards of a band, one for each unit the guide prints.
func (b *builder) tonightCards(c *band.Climate, plans []plan.CropPlan) []plan.Tonight {
	var out []plan.Tonight
	for _, d := range b.scales() {
		out = append(out, b.planner.Tonight(c, plans, d, mostCardRows))
	}
	return out
}

// scales are the units of a guide, each of which gets a card of its own.
func (b *builder) scales() []plan.Degrees {
	switch b.Tables.Guide.Units {
	case catalog.UnitsC:
		return []plan.Degrees{plan.InCelsius}
	case catalog.UnitsF:
		return []plan.Degrees{plan.InFahrenheit}
	}
	return []plan.Degrees{plan.InCelsius, plan.InFahrenheit}
}

// unit is "°C" or "°F".
func (b *builder) unit(d plan.Degrees) string {
	if d == plan.InFahrenheit {
		return b.t("unit.f")
	}
	return b.t("unit.c")
}

// on is a number on a card's scale, with its unit.
func (b *builder) on(d plan.Degrees, n float64) string {
	return b.words.Number(n, 1) + "\u00a0" + b.unit(d)
}

// signed is a difference on a card's scale with its sign: "+1", "−0.5", "0".
func (b *builder) signed(n float64) string {
	s := b.words.Number(n, 1)
	if n > 0 {
		return "+" + s
	}
	return s
}

// colder rounds a difference to the card's finest step, to the colder side.
func colder(d plan.Degrees, k quantity.Kelvins) float64 {
	const slack = 0.1 // of a step: a difference of −0.49 or −0.51 C is −0.5
	return d.Step() * math.Floor(d.Difference(k)/d.Step()+slack)
}

// station is the one that a garden of the band is compared with; nil without one.
func (b *builder) station(m *bandPage) *catalog.Station {
	if i := m.in.Climate.Nearest(); i >= 0 {
		return b.Region.Stations[i].Row
	}
	return nil
}

// stationName is the station's name, or words for it where there is none.
func (b *builder) stationName(m *bandPage) string {
	if s := b.station(m); s != nil {
		return s.Name
	}
	return b.t("tonight.station.none")
}

// whereToRead says where the station's figures are found, or that nobody says.
func (b *builder) whereToRead(m *bandPage) string {
	s := b.station(m)
	switch {
	case s == nil:
		return b.t("tonight.where.none")
	case s.WhereToRead == "":
		return b.t("tonight.where.not_said", "station", s.Name, "contact", b.Tables.Guide.Contact)
	}
	return b.t("tonight.where", "where", s.WhereToRead)
}

// nights is what the band differs by from its station on a still and on a windy night;
// false without a station.
func (b *builder) nights(m *bandPage, d plan.Degrees) (still, windy float64, ok bool) {
	return nightsOf(m.in.Climate, d)
}

func nightsOf(c *band.Climate, d plan.Degrees) (still, windy float64, ok bool) {
	i := c.Nearest()
	if i < 0 {
		return 0, 0, false
	}
	s, w := c.NightAgainstStation(i)
	if d := s - w; d < 0.5 && d > -0.5 { // too little to be told apart
		s, w = min(s, w), min(s, w)
	}
	return colder(d, s), colder(d, w), true
}

// sameNights is the ending of phrases: "same" for a band whose still and windy nights do
// not differ, else "each".
func sameNights(still, windy float64) string {
	if still == windy {
		return "same"
	}
	return "each"
}

// need is a cell of the card in full words, for the page.
func (b *builder) need(n plan.Need) string {
	if n.State == plan.Covered {
		return b.layersName(n.Layers)
	}
	return b.t(needKeys[n.State])
}

var needKeys = map[plan.NeedState]string{
	plan.NeedUnknown: "not_known", plan.Uncovered: "tonight.uncovered", plan.PickToday: "tonight.pick",
}

// code is how layers are written on paper: their letters on the wall sheets, outermost
// first; a cover without one by its name.
func (b *builder) layersCode(id string) string {
	var out []string
	for _, c := range catalog.SplitLayers(id) {
		code := c
		if cv := b.covers.Cover(c); cv != nil {
			code = cv.Letter
			if code == "" {
				code = cv.Name
			}
		}
		out = append(out, code)
	}
	return strings.Join(out, "+")
}

// layersOn is every set of layers that a card names, in the order of its rows.
func layersOn(t plan.Tonight) []string {
	var out []string
	seen := map[string]bool{}
	for _, r := range t.Rows {
		for _, n := range r.Needs {
			if n.State == plan.Covered && !seen[n.Layers] {
				seen[n.Layers] = true
				out = append(out, n.Layers)
			}
		}
	}
	return out
}

// mustStand says whether any of the layers is more than an evening's work.
func (b *builder) mustStand(layers []string) bool {
	for _, id := range layers {
		for _, c := range catalog.SplitLayers(id) {
			if cv := b.covers.Cover(c); cv != nil && !cv.ByHand() {
				return true
			}
		}
	}
	return false
}

// rule is one of the card's rules: a word in front and what it says.
type rule struct{ lead, text string }

// openAt is when covers come off at the latest in the morning (C, 50 F): what low
// tunnels and cold frames are opened at in the table of covers.
const openAt quantity.Celsius = 10

// tonightRules are what stands beside a card's table, figures on its scale.
func (b *builder) tonightRules(t plan.Tonight) []rule {
	d := t.Degrees
	var out []rule
	for _, key := range []string{"seedlings", "fall", "evening", "open", "margin"} {
		text := b.t("tonight.rule."+key+".text", "temp", b.on(d, d.Number(openAt)), "margin", b.on(d, d.Difference(d.ForecastMargin())))
		if key == "seedlings" {
			text = strings.Join(append([]string{text}, b.tenderYoung(t)...), " ")
		}
		out = append(out, rule{b.t("tonight.rule." + key), text})
	}
	return out
}

// fewTender is how many crops of a group are named as exceptions; more make the
// exception one for the whole group.
const fewTender = 3

// tenderYoung says whose seedlings the rule of one column to the right does not serve.
func (b *builder) tenderYoung(t plan.Tonight) []string {
	var out []string
	for _, own := range t.Groups {
		names := map[byte][]string{}
		all, furthest := 0, byte('C')
		for _, x := range t.Tender {
			if x.Own != own.Group {
				continue
			}
			names[x.Group] = append(names[x.Group], x.Crop.Name)
			all++
			if x.Group == 0 || furthest != 0 && x.Group > furthest {
				furthest = x.Group
			}
		}
		say := func(who string, group byte) {
			if group == 0 {
				out = append(out, b.t("tonight.tender.in", "crops", who))
			} else {
				out = append(out, b.t("tonight.tender.column", "crops", who, "group", string(group)))
			}
		}
		if all > fewTender {
			say(b.t("tonight.tender.group", "group", string(own.Group)), furthest)
			continue
		}
		for _, group := range []byte{'C', 'D', 0} {
			if len(names[group]) > 0 {
				say(b.words.And(names[group]...), group)
			}
		}
	}
	return out
}

// example is a sum with the band's own figure for a still night: "31 and −2 make 29".
func (b *builder) example(d plan.Degrees, still float64) string {
	forecast := 1.0
	if d == plan.InFahrenheit {
		forecast = 34
	}
	return b.t("tonight.example", "forecast", b.words.Number(forecast, 1), "garden", b.signed(still), "sum", b.words.Number(forecast+still, 1))
}

// groupCrops names the crops of a group, at most so many.
func (b *builder) groupCrops(g plan.TonightGroup, most int) string {
	if len(g.Crops) == 0 {
		return b.t("tonight.crops.none")
	}
	var names []string
	for i, c := range g.Crops {
		if i == most {
			names = append(names, b.t("tonight.crops.more", "n", b.words.Int(len(g.Crops)-most), "group", string(g.Group)))
			break
		}
		names = append(names, c.Name)
	}
	return strings.Join(names, "\u00a0· ")
}

// tonightPage is the card as a page of text.
func (b *builder) tonightPage(m *bandPage) *Page {
	name := m.row().Name
	p := b.newPage(TonightPath(m.row().ID), BandsPlace, b.t("tonight.title", "band", name), b.t("tonight.description", "band", name))
	p.add(Para{Lead: true, Text: b.say("tonight.lead")}, b.leafLinks(m, m.hand.tonight))
	if len(m.hand.cards[0].Rows) == 0 {
		p.add(Note{Kind: "caution", Label: b.t("note.missing"), Text: b.say("tonight.no_figures")})
		return p
	}
	p.add(b.heading(2, "figures", "tonight.h.figures"), b.figuresList(m))
	for _, t := range m.hand.cards {
		id := "card-c"
		if t.Degrees == plan.InFahrenheit {
			id = "card-f"
		}
		p.add(b.heading(2, id, "tonight.h.card", "unit", b.unit(t.Degrees)), para(Inline{Text: b.t("tonight.how")}), b.tonightTable(t, name))
		l := List{}
		l.Items = append(l.Items, []Inline{{Text: firstUpper(b.t("tonight.pick")) + ":", Strong: true}, {Text: " " + b.t("tonight.pick.means")}})
		for _, r := range b.tonightRules(t) {
			l.Items = append(l.Items, []Inline{{Text: r.lead, Strong: true}, {Text: " " + r.text}})
		}
		l.Items = append(l.Items, b.say("tonight.standing"))
		p.add(l)
	}
	p.add(b.heading(2, "open", "tonight.h.open"), b.openTable(), para(Inline{Text: b.t("tonight.open.flowers")}))
	p.add(b.takeOffTables(m)...)
	p.add(b.heading(2, "crops", "tonight.h.crops"), b.tonightCrops(m.hand.cards[0]))
	if u := m.hand.cards[0].Unknown; len(u) > 0 {
		var names []string
		for _, c := range u {
			names = append(names, c.Name)
		}
		p.add(para(Inline{Text: b.t("tonight.unknown", "crops", b.words.And(names...))}))
	}
	return p
}

// figuresList is how the garden's low is worked out.
func (b *builder) figuresList(m *bandPage) List {
	l := List{Ordered: true}
	add := func(lead, text string, more ...Inline) {
		l.Items = append(l.Items, append([]Inline{{Text: b.t("label", "name", lead), Strong: true}, {Text: " " + text}}, more...))
	}
	add(b.t("tonight.box1", "station", b.stationName(m)), firstUpper(b.whereToRead(m)+"."))
	own := b.t("tonight.no_default")
	var sums []string
	for _, d := range b.scales() {
		if still, windy, ok := b.nights(m, d); ok {
			if len(sums) == 0 {
				own = ""
			}
			own = strings.TrimSpace(own + " " + b.t("tonight.box2.page."+sameNights(still, windy), "unit", b.unit(d), "still", b.signed(still), "windy", b.signed(windy)))
			sums = append(sums, b.example(d, still)+" "+b.unit(d))
		}
	}
	add(b.t("tonight.box2"), own+" ", link(b.t("tonight.worksheet"), HTML(WorksheetPath(m.row().ID))))
	sum := b.t("tonight.box3.page")
	if len(sums) > 0 {
		sum += " " + b.t("tonight.examples", "sums", strings.Join(sums, "; "))
	}
	add(b.t("tonight.box3"), sum)
	return l
}

// tonightTable is a card's table with every cover in full words.
func (b *builder) tonightTable(t plan.Tonight, name string) Table {
	unit := "c"
	if t.Degrees == plan.InFahrenheit {
		unit = "f"
	}
	out := Table{ID: "tonight-" + unit, RowHeads: true, Caption: b.t("tonight.caption", "band", name, "unit", b.unit(t.Degrees)), Head: []string{b.t("tonight.head.low")}}
	for _, g := range t.Groups {
		out.Head = append(out.Head, firstUpper(b.group(g.Group)))
	}
	for i, r := range t.Rows {
		low := b.t("tonight.row.colder", "low", b.on(t.Degrees, r.Low))
		if !r.Colder {
			low = b.lows(t, i, "\u00a0"+b.unit(t.Degrees))
		}
		row := [][]Inline{plain(low)}
		for _, n := range r.Needs {
			row = append(row, []Inline{{Text: b.need(n), Strong: n.State == plan.PickToday}})
		}
		out.Rows = append(out.Rows, row)
	}
	return out
}

// lows names the lows of a row that is not the coldest, with a unit behind or none: "4.5 or
// warmer", "3 to 1". A low between two rows is read in the colder one.
func (b *builder) lows(t plan.Tonight, row int, unit string) string {
	low := b.words.Number(t.Rows[row].Low, 1) + unit
	if row == 0 {
		return b.t("tonight.row.first", "low", low)
	}
	from := t.Rows[row-1].Low - t.Degrees.Step()
	if from <= t.Rows[row].Low {
		return low
	}
	return b.t("range.words", "from", b.words.Number(from, 1), "to", low)
}

// openTable is when to open each cover that is planned with.
func (b *builder) openTable() Block {
	t := Table{ID: "open-table", RowHeads: true, Caption: b.t("tonight.open.caption"), Head: []string{b.t("covers.buy.head.layers"), b.t("cover.fact.vent")}}
	used := coversOf(b.offered)
	for i := range b.Tables.Covers {
		cv := &b.Tables.Covers[i]
		if !used[cv.ID] {
			continue
		}
		open := b.t("cover.fact.vent.none")
		if v, ok := cv.Vent.Get(); ok {
			key := "vent.outside"
			if cv.VentInside {
				key = "vent.inside"
			}
			open = b.t(key, "temp", b.words.Temp(v, words.Down))
		}
		t.Rows = append(t.Rows, [][]Inline{{link(cv.Name, HTML(CoverPath(cv.ID)))}, plain(open)})
	}
	if len(t.Rows) == 0 {
		return para(Inline{Text: b.t("covers.none_offered")})
	}
	return t
}

// tonightCrops lists the crops of each group with the figure that its column goes by.
func (b *builder) tonightCrops(t plan.Tonight) List {
	l := List{}
	for _, g := range t.Groups {
		item := []Inline{{Text: b.t("label", "name", firstUpper(b.group(g.Group))), Strong: true}, {Text: " " + b.groupCrops(g, math.MaxInt) + "."}}
		if g.Known {
			item = append(item, Inline{Text: " " + b.t("tonight.limit", "temp", b.words.Temp(g.Limit, words.Up), "crop", g.By.Name)})
		}
		l.Items = append(l.Items, item)
	}
	return l
}
