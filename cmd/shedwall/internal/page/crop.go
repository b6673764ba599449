package page

import (
	"slices"

	"shedwall/cmd/shedwall/internal/band"
	"shedwall/cmd/shedwall/internal/catalog"
	"shedwall/cmd/shedwall/internal/figure"
	"shedwall/cmd/shedwall/internal/plan"
	"shedwall/cmd/shedwall/internal/quantity"
	"shedwall/cmd/shedwall/internal/words"
)

// cropIn is a crop's plan in one band.
type cropIn struct {
	band *bandPage
	plan *plan.CropPlan
}

func (g group) plansOf(id string) []cropIn {
	var out []cropIn
	for _, m := range g.bands {
		for i := range m.in.Plans {
			if p := &m.in.Plans[i]; p.Crop.ID == id {
				out = append(out, cropIn{m, p})
			}
		}
	}
	return out
}

// crop is the page of a crop: its dates in every band, open and covered, what
// holds them, and the figures behind them with whose they are.
func (b *builder) crop(c *catalog.Crop, g group) *Page {
	title, n := c.Name, g.first/GroupSize+1
	if n > 1 {
		title = b.t("crop.title.bands", "crop", c.Name, "bands", b.bandsOn(n))
	}
	p := b.newPage(CropPagePath(c.ID, n), HTML(CropsPath), title, b.t("crop.description", "crop", title))
	p.add(b.cropLead(c))
	p.add(b.cropPages(c, n)...)
	if n == 1 {
		p.add(b.otherNames(c)...)
		p.add(b.cropFacts(c))
		p.add(b.prose("crops/"+c.ID, 0)...)
		if c.Note != "" {
			p.add(para(Inline{Text: c.Note}))
		}
	}
	if needsWarmth(c) {
		p.add(Note{Kind: "caution", Label: b.t("note.warm"), Text: b.say("crop.warm")})
	}
	top := len(p.Blocks)
	plans := g.plansOf(c.ID)
	p.add(b.heading(2, "dates", "crop.h.dates"))
	if len(plans) == 0 {
		p.add(para(Inline{Text: b.t("crop.no_bands")}))
	} else {
		p.add(para(Inline{Text: b.t("crop.dates.intro")}))
		if mean, ok := b.planner.GrowsFrom(c); ok && (c.DaysLow.Known() || c.DaysHigh.Known()) {
			p.add(para(Inline{Text: b.t("crop.ripe", "temp", b.words.Temp(mean, 0))}))
		}
		p.add(b.estimateNotes(g.bands...)...)
		p.add(b.leftOutNotes(g.bands[0])...)
		p.add(b.cropDates(c, plans, quantity.Careful, "careful"), b.cropDates(c, plans, quantity.Half, "half"))
		p.add(Note{Kind: "hint", Label: b.t("note.forecast"), Text: b.say("band.forecast")})
		p.add(b.heading(2, "held", "crop.h.held"), b.heldList(plans))
		if slices.ContainsFunc(plans, func(x cropIn) bool { return len(x.plan.Layers) > 1 }) {
			p.add(b.heading(2, "covers", "crop.h.covers"), para(Inline{Text: b.t("crop.covers.intro", "odds", b.words.Odds(quantity.Careful), "half", b.words.Odds(quantity.Half))}))
			if insects, ok := c.NeedsInsect.Get(); ok && insects {
				p.add(Note{Kind: "caution", Label: b.t("note.insects"), Text: b.say("crop.insects")})
			}
			for _, x := range plans {
				p.add(b.heading(3, "covers-"+x.band.row().ID, "crop.covers.band", "band", x.band.row().Name), b.cropCovers(x))
			}
		}
	}
	p.add(b.cropPlanting(c, plans)...)
	p.add(b.cropWinter(c, plans)...)
	p.add(b.cropAgain(c, plans)...)
	if n == 1 {
		p.add(b.heading(2, "figures", "crop.h.figures"), para(Inline{Text: b.t("crop.figures.intro")}), b.cropFigures(c))
	}
	p.add(b.cropLeftOut(plans)...)
	p.Blocks = slices.Insert(p.Blocks, top, b.contentsOf(p.Blocks[top:]))
	return p
}

func (b *builder) cropLead(c *catalog.Crop) Para {
	p := Para{Lead: true}
	if c.Latin != "" {
		p.Text = append(p.Text, Inline{Text: c.Latin, Lang: "la"}, Inline{Text: " · "})
	}
	kind := b.t("crop.kind", "cycle", b.known("cycle.", c.Cycle), "group", b.known("crop.group.", c.Group))
	p.Text = append(p.Text, Inline{Text: kind})
	if c.Family != "" {
		p.Text = append(p.Text, Inline{Text: " · " + b.t("crop.family") + " "}, Inline{Text: c.Family, Lang: "la"})
	}
	return p
}

// known is the phrase of a value of a table, or the value itself where a
// publisher's table uses one that the words do not know.
func (b *builder) known(prefix, value string) string {
	if value == "" {
		return b.t("not_known")
	}
	if b.words.Has(prefix + value) {
		return b.t(prefix + value)
	}
	return value
}

func (b *builder) cropFacts(c *catalog.Crop) Facts {
	f := Facts{Name: b.t("band.facts")}
	class := b.class(c)
	limit := func(key string, own figure.Of[quantity.Celsius], byClass figure.Of[quantity.Celsius]) {
		fact := Fact{Name: b.t("crop.fact." + key), Value: plain(firstUpper(b.temp(own))), Detail: b.say("crop.fact." + key + ".detail")}
		if v, ok := byClass.Get(); ok && own.State == figure.Blank {
			fact.Value, fact.Detail = plain(b.words.Temp(v, words.Up)), b.say("crop.fact.by_class")
		}
		f.Items = append(f.Items, fact)
	}
	limit("young", c.YoungDamage, class.YoungDamage)
	limit("grown", c.GrownDamage, class.GrownDamage)
	limit("soil", c.SoilMin, class.SoilMin)
	if c.Start == catalog.Planted && c.SoilMin.Known() {
		f.Items[len(f.Items)-1].Detail = b.say("crop.fact.soil.planted")
	}
	days := Fact{Name: b.t("crop.fact.days"), Value: plain(firstUpper(b.intRange(c.DaysLow, c.DaysHigh))), Detail: b.say("crop.fact.days.sowing")}
	if c.DaysFromSetOut {
		days.Detail = b.say("crop.fact.days.set_out")
	}
	if !c.DaysLow.Known() && !c.DaysHigh.Known() {
		days.Detail = b.say("crop.fact.days.unknown")
	}
	f.Items = append(f.Items, days)
	return f
}

// class is the row of a crop's class; an empty one where there is none.
func (b *builder) class(c *catalog.Crop) *catalog.Class {
	for i := range b.Tables.Classes {
		if b.Tables.Classes[i].ID == c.Class {
			return &b.Tables.Classes[i]
		}
	}
	return &catalog.Class{}
}

func (b *builder) temp(f figure.Of[quantity.Celsius]) string {
	if v, ok := f.Get(); ok {
		return b.qualified(f.Qualifier, b.words.Temp(v, words.Up))
	}
	return b.t("not_known")
}

// qualified puts "under", "over" or "about" before a figure whose cell said so.
func (b *builder) qualified(q, text string) string {
	switch q {
	case "<":
		return b.t("figure.under", "figure", text)
	case ">":
		return b.t("figure.over", "figure", text)
	case "about":
		return b.t("figure.about", "figure", text)
	}
	return text
}

func (b *builder) intRange(low, high figure.Of[int]) string {
	l, a := low.Get()
	h, c := high.Get()
	switch {
	case a && c:
		return b.words.IntRange(l, h)
	case a:
		return b.words.Int(l)
	case c:
		return b.words.Int(h)
	}
	return b.t("not_known")
}

// cropDates is a crop's windows in open ground, a row for each band.
func (b *builder) cropDates(c *catalog.Crop, plans []cropIn, odds quantity.Odds, level string) Table {
	t := Table{ID: "dates-" + level, Caption: b.t("crop.dates."+level, "crop", c.Name, "odds", b.words.Odds(odds)), RowHeads: true, Head: []string{b.t("head.band")}}
	var actions []plan.Action
	for _, a := range plan.Actions {
		if _, ok := plans[0].plan.Layers[0].Find(odds, a); ok {
			actions = append(actions, a)
			t.Head = append(t.Head, b.t("action."+string(a)))
		}
	}
	t.Head = append(t.Head, b.t("head.give"))
	for _, x := range plans {
		open := &x.plan.Layers[0]
		row := [][]Inline{{link(x.band.row().Name, x.band.href())}}
		give := 0
		for _, a := range actions {
			row = append(row, b.quiet(b.cropAction(c, open, odds, a)))
			w, _ := open.Find(odds, a)
			give = max(give, int(w.From.PlusMinus), int(w.To.PlusMinus))
		}
		text := b.t("not_known")
		if give > 0 {
			text = b.words.Days(give)
		}
		t.Rows = append(t.Rows, append(row, plain(text)))
	}
	return t
}

// heldList says in words what decides each crop's first and last start.
func (b *builder) heldList(plans []cropIn) List {
	l := List{}
	for _, x := range plans {
		open := &x.plan.Layers[0]
		text := ""
		for _, a := range []plan.Action{plan.SowOutside, plan.SetOut} {
			w, ok := open.Find(quantity.Careful, a)
			if !ok {
				continue
			}
			if text != "" {
				text += " "
			}
			text += firstUpper(b.held(x, w, b.heldAction(x.plan.Crop, a)))
		}
		if w, ok := open.Find(quantity.Careful, plan.LastSafeDay); ok && w.To.AtLeast {
			text += " " + b.t("held.safe_least", "date", b.words.Date(b.date(w.To.Slot)))
		} else if ok && w.To.State == plan.Dated {
			text += " " + b.t("held.safe", "date", b.words.Date(b.date(w.To.Slot)))
		}
		if open.Risk.Known {
			text += " " + b.t("held.risk", "share", b.risk(open.Risk))
		}
		text += b.heldAlso(x)
		if text == "" {
			text = b.t("not_known")
		}
		l.Items = append(l.Items, []Inline{{Text: x.band.row().Name + ".", Strong: true}, {Text: " " + text}})
	}
	return l
}

// held is one window's sentence: what opens it and what ends it.
func (b *builder) held(x cropIn, w plan.Window, action string) string {
	var text string
	switch w.From.State {
	case plan.Dated:
		key := "held.from." + w.From.Gate.String()
		if !b.words.Has(key) {
			key = "held.from.frost"
		}
		text = b.t(key, "action", action, "date", b.words.Date(b.date(w.From.Slot)))
	case plan.Open:
		text = b.t("held.from.open", "action", action)
	case plan.Never:
		key := "held.never." + w.From.Gate.String()
		if !b.words.Has(key) {
			key = "held.never"
		}
		return b.t(key, "action", action)
	default:
		if plan.PlantedInFall(x.plan.Crop) && x.band.in.Climate.Tells(band.Soil) == band.ToldNot {
			return b.t("held.not_known.ground", "action", action)
		}
		return b.t("held.not_known", "action", action)
	}
	switch {
	case w.To.State == plan.Never:
		text += " " + b.tooShort(x.plan.Crop, w)
	case !w.To.EndKnown():
		text += " " + b.t("held.to.not_known")
	case w.To.State == plan.Dated && b.words.Has("held.to."+w.To.Gate.String()):
		text += " " + b.t("held.to."+w.To.Gate.String(), "date", b.words.Date(b.date(w.To.Slot)))
	}
	return text
}

// tooShort says that even the first start is too late, and which days to harvest decided.
func (b *builder) tooShort(c *catalog.Crop, w plan.Window) string {
	s, ok := w.TooShort(c)
	slow, quick := b.words.Int(s.Slow), b.words.Int(s.Quick)
	switch {
	case ok && s.QuickFits:
		return b.t("held.to.never.quick", "slow", slow, "quick", quick)
	case ok:
		return b.t("held.to.never.slow", "slow", slow, "quick", quick)
	}
	return b.t("held.to.never")
}

// cropCovers is a crop in one band under each offered set of layers; one sentence where
// nothing makes a season, at any odds.
func (b *builder) cropCovers(x cropIn) Block {
	any := false
	for i := range x.plan.Layers {
		any = any || started(&x.plan.Layers[i], quantity.Careful) || started(&x.plan.Layers[i], quantity.Half)
	}
	if open := &x.plan.Layers[0]; !any {
		return para(Inline{Text: b.t("crop.covers.no_season", "reason", b.firstStart(open, quantity.Careful))})
	}
	t := Table{Caption: b.t("crop.covers.caption", "crop", x.plan.Crop.Name, "band", x.band.row().Name), RowHeads: true, Head: []string{
		b.t("covers.buy.head.layers"), b.t("crop.covers.head.start"), b.t("crop.covers.head.typical"), b.t("crop.covers.head.spring"), b.t("action.last-safe-day"), b.t("crop.covers.head.fall"), b.t("crop.covers.head.work"), b.t("crop.covers.head.risk")}}
	for i := range x.plan.Layers {
		l := &x.plan.Layers[i]
		name := b.layersLink(l.Layers)
		if l.Layers == "" {
			name = b.say("layers.open")
		}
		row := [][]Inline{name, plain(b.firstStart(l, quantity.Careful)), plain(b.firstStart(l, quantity.Half))}
		if !started(l, quantity.Careful) { // no start, so nothing is gained, lost or at risk
			none := plain(b.t("days.no_season"))
			if seasonNotKnown(l, quantity.Careful) {
				none = plain(b.t("not_known"))
			}
			t.Rows = append(t.Rows, append(row, none, none, none, none, none))
			continue
		}
		spring, fall := b.bought(l, &x.plan.Layers[0])
		t.Rows = append(t.Rows, append(row, b.quiet(spring), plain(b.action(l, quantity.Careful, plan.LastSafeDay)), b.quiet(fall), plain(b.work(l, &x.plan.Layers[0])), plain(b.risk(l.Risk))))
	}
	return t
}

// bought is what layers buy at careful odds in spring and in fall; where open ground
// has no season, that there is one under the layers only, or that none is known.
func (b *builder) bought(l, open *plan.LayerPlan) (spring, fall string) {
	switch {
	case l.Layers == "":
		return b.t("days.base"), b.t("days.base")
	case seasonNotKnown(open, quantity.Careful):
		return b.t("days.open_not_known"), b.t("days.open_not_known")
	case !started(open, quantity.Careful):
		return b.t("days.only_under"), b.t("days.only_under")
	}
	spring, fall = b.t("not_known"), b.t("not_known")
	if l.SpringKnown {
		spring = b.daysGained(l.SpringGain)
	}
	if l.FallKnown {
		fall = b.daysGained(l.FallGain)
	}
	return spring, fall
}

// work is the price of the early start in work: nights with covers on and days that
// are shut by night and open by noon, in a middling year and in a bad one; not known where
// an early start needs covers and no daily record tells of nights.
func (b *builder) work(l, open *plan.LayerPlan) string {
	if l.Layers == "" {
		return b.t("work.open")
	}
	var w *plan.Work // of the start that costs most
	for i := range l.Work {
		if x := &l.Work[i]; x.Action != plan.LastSafeDay && (w == nil || x.Prudent.Middling > w.Prudent.Middling) {
			w = x
		}
	}
	if w != nil {
		text := b.t("work.nights", "middling", b.words.Int(int(w.Prudent.Middling)), "bad", b.words.Int(int(w.Prudent.Bad)))
		if w.VentKnown {
			text += b.t("work.days", "middling", b.words.Int(int(w.ShutAndOpen.Middling)), "bad", b.words.Int(int(w.ShutAndOpen.Bad)))
		}
		if w.Warming > 0 {
			text += b.t("work.warming", "n", b.words.Int(w.Warming), "date", b.words.Date(b.date(w.From)))
		}
		return text
	}
	if b.Region.Basis().Records == 0 && (l.SpringGain > 0 || !started(open, quantity.Careful)) {
		return b.t("work.not_known")
	}
	return b.t("work.none")
}

// risk is how often frost strikes a whole season outside, at one end or the other.
func (b *builder) risk(r band.SeasonRisk) string {
	switch {
	case !r.Known:
		return b.t("not_known")
	case r.Share == 0:
		return b.t("risk.none", "years", b.words.N("years", r.Years))
	}
	return b.t("risk.share", "percent", b.share(r.Share))
}

// firstStart is the first day outside under layers, or why there is none.
func (b *builder) firstStart(l *plan.LayerPlan, odds quantity.Odds) string {
	if s, ok := firstStartOf(l, odds); ok {
		return b.words.Date(b.date(s))
	}
	for _, a := range []plan.Action{plan.SowOutside, plan.SetOut} {
		if w, ok := l.Find(odds, a); ok {
			return b.window(w)
		}
	}
	return b.t("not_known")
}
