package page

import (
	"slices"
	"strings"
	"unicode/utf8"

	"shedwall/cmd/shedwall/internal/catalog"
	"shedwall/cmd/shedwall/internal/plan"
	"shedwall/cmd/shedwall/internal/quantity"
)

// sowSlip is what can be sown, planted and set out in two months.
type sowSlip struct {
	months [2]int
	parts  []slipPart
	layers map[string]bool // covers that are named by their letters
}

// slipPart is the crops of one action.
type slipPart struct {
	key   string // of its words: "sow-inside", "sow-outside", "plant", "set-out"
	crops []slipCrop
}

// slipCrop is a crop that can be begun. From and until are days within the two months,
// 0 = open before, or beyond. Layers are covers without which it cannot.
type slipCrop struct {
	name        string
	from, until quantity.Slot
	layers      string
}

// sowSlips are the six slips of a year, from its first month on.
func (b *builder) sowSlips(m *bandPage, y *workYear) []sowSlip {
	var out []sowSlip
	plans := make([][]plan.LayerPlan, len(y.chosen))
	for j := range y.chosen {
		plans[j] = slipPlans(y.term, &y.chosen[j])
	}
	for i := 0; i < 12; i += 2 {
		first := (b.firstTaskMonth()-1+i)%12 + 1
		s := sowSlip{months: [2]int{first, first%12 + 1}, layers: map[string]bool{}}
		h := b.Region.Hemisphere
		from := h.SlotOf(quantity.MonthDay{Month: s.months[0], Day: 1})
		to := from + quantity.Slot(quantity.DaysIn(2024, s.months[0])+quantity.DaysIn(2024, s.months[1])) - 1
		for _, part := range []struct {
			key    string
			action plan.Action
		}{{"sow-inside", plan.SowInside}, {"sow-outside", plan.SowOutside}, {"plant", plan.SowOutside}, {"set-out", plan.SetOut}} {
			p := slipPart{key: part.key}
			for j := range y.chosen {
				x := &y.chosen[j]
				if part.action == plan.SowOutside && (part.key == "plant") != (x.Plan.Crop.Start == catalog.Planted) {
					continue
				}
				if c, ok := m.wall.slipCrop(x.Plan.Crop, plans[j], part.action, from, to); ok {
					p.crops = append(p.crops, c)
					s.layers[c.layers] = true
				}
			}
			slices.SortStableFunc(p.crops, func(a, c slipCrop) int { return strings.Compare(a.name, c.name) })
			if len(p.crops) > 0 {
				s.parts = append(s.parts, p)
			}
		}
		out = append(out, s)
	}
	return out
}

// slipPlans is the plans by which a crop may be begun: in open ground, or else under the
// covers it is planned with.
func slipPlans(term *plan.Term, x *plan.Chosen) []plan.LayerPlan {
	if x.HasOpen {
		return append(term.Within(x.Plan.Crop, x.Open), term.Within(x.Plan.Crop, x.Layers)...)
	}
	return term.Within(x.Plan.Crop, x.Layers)
}

// slipCrop says whether a crop can be begun within days, by the first of its plans by which it
// can.
func (w Wall) slipCrop(crop *catalog.Crop, plans []plan.LayerPlan, a plan.Action, from, to quantity.Slot) (slipCrop, bool) {
	for i := range plans {
		l := &plans[i]
		win := l.Window(quantity.Careful, a)
		if win == nil || !startable(win) || win.From.State == plan.Dated && win.To.State == plan.Dated && win.To.Slot < win.From.Slot {
			continue
		}
		if a == plan.SowInside && win.From.State != plan.Dated {
			continue
		}
		begin, end := w.ends(*win)
		for k := quantity.Slot(-1); k <= 2; k++ {
			lo, hi := from+k*quantity.SlotsPerYear, to+k*quantity.SlotsPerYear
			if begin > hi || end < lo {
				continue
			}
			c := slipCrop{name: crop.Name, layers: l.Layers}
			if begin > lo && win.From.State == plan.Dated {
				c.from = begin
			}
			if end < hi && win.To.State == plan.Dated && win.To.EndKnown() {
				c.until = end
			}
			return c, true
		}
	}
	return slipCrop{}, false
}

// slipItems is the crops of a part, with days where they begin or end.
func (b *builder) slipItems(p slipPart, date func(quantity.MonthDay) string, covers func(string) string) []string {
	var out []string
	for _, c := range p.crops {
		text := c.name
		if c.layers != "" {
			text = b.t("slips.under", "crop", text, "covers", covers(c.layers))
		}
		switch {
		case c.from > 0 && c.until > 0:
			text = b.t("slips.between", "crop", text, "from", date(b.date(c.from)), "until", date(b.date(c.until)))
		case c.from > 0:
			text = b.t("slips.from", "crop", text, "date", date(b.date(c.from)))
		case c.until > 0:
			text = b.t("slips.until", "crop", text, "date", date(b.date(c.until)))
		}
		out = append(out, text)
	}
	return out
}

func (b *builder) sowTitle(s sowSlip) string {
	return b.t("slips.slip", "first", firstUpper(b.words.Month(s.months[0])), "second", b.words.Month(s.months[1]))
}

// sowPage is the slips as a page of text.
func (b *builder) sowPage(m *bandPage) *Page {
	name := m.row().Name
	p := b.newPage(SlipsPath(m.row().ID), BandsPlace, b.t("slips.title", "band", name), b.t("slips.description", "band", name))
	p.Large = true
	p.add(Para{Lead: true, Text: b.say("slips.lead", "odds", b.words.Odds(quantity.Careful))}, b.workLinks(m, m.work.slips, SlipsPath(m.row().ID)))
	p.add(b.estimateNotes(m)...)
	for i, s := range m.work.sown {
		p.add(Heading{Level: 2, ID: "slip-" + string(rune('1'+i)), Text: plain(b.sowTitle(s))})
		l := List{}
		for _, part := range s.parts {
			l.Items = append(l.Items, []Inline{{Text: b.t("label", "name", b.t("tasks.kind."+part.key)), Strong: true}, {Text: " " + strings.Join(b.slipItems(part, b.words.Date, b.layersName), " · ")}})
		}
		if len(l.Items) == 0 {
			p.add(para(Inline{Text: b.t("slips.nothing")}))
			continue
		}
		p.add(l)
	}
	return p
}

// runOn is a list as one paragraph, whose lines break between its items alone: a third
// of the room that columns take.
func runOn(items []string) string {
	for i, x := range items {
		items[i] = strings.ReplaceAll(x, " ", "\u00a0")
	}
	return strings.Join(items, "\u00a0· ")
}

// sowLeaf is the slips on paper, to be cut apart: each as wide as the paper.
func (b *builder) sowLeaf(m *bandPage, y *workYear) *Leaf {
	l := b.newLeaf(m, SlipsPath(m.row().ID), "slips.name")
	l.Pages = true
	l.Running = b.running(m, "slips.running")
	about := b.t("slips.about", "odds", b.words.Odds(quantity.Careful), "edition", l.Edition)
	if line := b.estimateLine(m); line != "" { // on every slip: they are cut apart
		about += " " + line
	}
	for i, s := range y.sown {
		head := LeafStrip{CutAbove: i > 0, Columns: [][]LeafBlock{{LeafHeading{Level: 1 + min(i, 1), Text: b.t("slips.heading", "months", b.sowTitle(s), "band", m.row().Name)}, LeafText{Small: true, Text: about}}}}
		if key := b.letterKey(s.layers); key != "" {
			head.Columns[0] = append(head.Columns[0], LeafText{Text: key, Small: true})
		}
		if len(s.parts) == 0 {
			head.Columns[0] = append(head.Columns[0], LeafText{Text: b.t("slips.nothing")})
			l.Strips = append(l.Strips, head)
			continue
		}
		head.Keep = true
		l.Strips = append(l.Strips, head)
		for _, body := range b.slipTexts(m, s) {
			l.Strips = append(l.Strips, LeafStrip{Columns: [][]LeafBlock{body}})
		}
	}
	return b.closed(l)
}

// slipLetters is how many letters of a slip stay together on a page: two thirds of one.
const slipLetters = 3600

// slipTexts is the paragraphs of a slip in parts that each fit a page, mostly one.
func (b *builder) slipTexts(m *bandPage, s sowSlip) [][]LeafBlock {
	bodies, letters := [][]LeafBlock{nil}, 0
	for _, part := range s.parts {
		lead := b.t("label", "name", b.t("tasks.kind."+part.key))
		items := b.slipItems(part, b.words.DateShort, m.wall.layerLetters)
		for len(items) > 0 {
			n, size := 0, 0
			for n < len(items) && (n == 0 || size+utf8.RuneCountInString(items[n]) <= slipLetters) {
				size += utf8.RuneCountInString(items[n])
				n++
			}
			if last := len(bodies) - 1; bodies[last] != nil && letters+size > slipLetters {
				bodies, letters = append(bodies, nil), 0
			}
			last := len(bodies) - 1
			bodies[last] = append(bodies[last], LeafText{Lead: lead, Text: runOn(items[:n]), Small: true})
			letters += size
			items = items[n:]
		}
	}
	return bodies
}
