package page

import (
	"math"
	"slices"

	"shedwall/cmd/shedwall/internal/band"
	"shedwall/cmd/shedwall/internal/catalog"
	"shedwall/cmd/shedwall/internal/figure"
	"shedwall/cmd/shedwall/internal/frost"
	"shedwall/cmd/shedwall/internal/quantity"
	"shedwall/cmd/shedwall/internal/record"
	"shedwall/cmd/shedwall/internal/words"
)

// quality is the page that says how far the dates can be trusted: the records
// behind them, the rule by which years count, how far off hidden stations were
// guessed, the zones, and how many figures stand on what kind of source.
func (b *builder) quality() *Page {
	p := b.newPage(QualityPath, HTML(QualityPath), b.t("quality.title"), b.t("quality.description"))
	p.add(Para{Lead: true, Text: b.say(b.madeFrom("quality.lead", "quality.lead.tables"))})
	p.add(b.estimateNotes(b.made...)...)
	p.add(b.prose(QualityPath, 0)...)
	p.add(b.heading(2, "records", "quality.h.records"))
	p.add(b.recordTables()...)
	p.add(b.heading(2, "rule", "quality.h.rule"))
	for _, k := range []string{"season", "used", "without", "odds", "growth", "round"} {
		p.add(para(Inline{Text: b.t("quality.rule."+k, "missing", b.words.Int(frost.MaxMissing), "full", b.words.Int(frost.FullYears), "few", b.words.Int(frost.FewYears))}))
	}
	p.add(b.tableRules()...)
	p.add(b.heading(2, "hidden", "quality.h.hidden"))
	p.add(b.hidden()...)
	p.add(b.heading(2, "tried", "quality.h.tried"))
	p.add(b.tried()...)
	p.add(b.heading(2, "warming", "quality.h.present"))
	p.add(b.present()...)
	p.add(b.heading(2, "height", "quality.h.height"))
	p.add(b.lapses()...)
	p.add(b.heading(2, "zones", "quality.h.zones"))
	p.add(b.zones()...)
	p.add(b.heading(2, "figures", "quality.h.figures"))
	p.add(b.figureCounts()...)
	return p
}

// recordTables are the stations and, for each, what its years gave at 0 C.
func (b *builder) recordTables() []Block {
	if len(b.Region.Stations) == 0 {
		return []Block{para(Inline{Text: b.t("quality.no_records")})}
	}
	t := Table{ID: "stations", Caption: b.t("quality.stations.caption"), RowHeads: true, Head: []string{
		b.t("head.station"), b.t("head.height"), b.t("head.position"), b.t("quality.head.years"), b.t("quality.head.dropped"), b.t("quality.head.observed"), b.t("quality.head.where")}}
	u := Table{ID: "years", Caption: b.t("quality.years.caption", "temp", b.words.Temp(0, words.Nearest)), RowHeads: true, Head: []string{
		b.t("head.station"), b.t("quality.head.last.careful"), b.t("quality.head.last.half"), b.t("quality.head.last_years"),
		b.t("quality.head.first.careful"), b.t("quality.head.first.half"), b.t("quality.head.first_years"), b.t("quality.head.winter")}}
	for _, s := range b.Region.Stations {
		d := s.Record.Dropped
		dropped := d.Flagged + d.Sentinel + d.Implausible + 2*d.MinOverMax + d.Contradicted
		text := b.t("none")
		if dropped > 0 {
			text = b.t("quality.dropped", "all", b.words.Int(dropped), "flagged", b.words.Int(d.Flagged), "missing", b.words.Int(d.Sentinel), "other", b.words.Int(dropped-d.Flagged-d.Sentinel))
		}
		height := b.t("not_known")
		if z, ok := s.Row.Elevation.Get(); ok {
			height = b.words.Height(z)
		}
		t.Rows = append(t.Rows, [][]Inline{plain(s.Row.Name), plain(height), plain(b.position(s.Row.Position)),
			plain(b.behind(s)), plain(text), plain(b.orUnknown(s.Row.ObservedAt)), plain(b.orUnknown(s.Row.WhereToRead))})
		row := [][]Inline{plain(s.Row.Name)}
		c, ok := b.Region.Station(s.Row.ID)
		if !ok {
			continue
		}
		for _, e := range []record.Event{record.Last, record.First} {
			a, half := freeze(c, e, quantity.Careful, 0), freeze(c, e, quantity.Half, 0)
			row = append(row, plain(b.answerAt(c, a, 0)), plain(b.answerAt(c, half, 0)), plain(b.yearsBehind(s, half)))
		}
		w := c.Winter()
		winter := b.t("not_known")
		if w.Known {
			winter = b.t("quality.winter", "temp", b.words.Temp(w.MeanExtreme, words.Nearest), "winters", b.words.Int(w.Years))
		}
		u.Rows = append(u.Rows, append(row, plain(winter)))
	}
	out := []Block{t}
	if len(b.Region.Left) > 0 {
		out = append(out, para(Inline{Text: b.t("quality.left", "stations", b.words.And(b.Region.Left...))}))
	}
	out = append(out, b.changes()...)
	return append(out, u, para(Inline{Text: b.t("quality.unusable", "missing", b.words.Int(frost.MaxMissing))}))
}

func (b *builder) orUnknown(s string) string {
	if s == "" {
		return b.t("not_known")
	}
	return s
}

// hidden says how far off the guide was when it hid each station and guessed it.
func (b *builder) hidden() []Block {
	out := []Block{para(Inline{Text: b.t("quality.hidden.intro")})}
	lastMiss, n := b.Region.MeanMiss(record.Last)
	firstMiss, k := b.Region.MeanMiss(record.First)
	if n == 0 && k == 0 {
		return append(out, para(Inline{Text: b.t("quality.hidden.none")}))
	}
	f := Facts{Name: b.t("quality.h.hidden")}
	for _, x := range []struct {
		key  string
		days float64
		n    int
	}{{"last", lastMiss, n}, {"first", firstMiss, k}} {
		if x.n > 0 {
			f.Items = append(f.Items, Fact{b.t("quality.hidden." + x.key), plain(b.t("quality.days", "n", b.words.Number(x.days, 1))), plain(b.words.N("quality.hidden.stations", x.n))})
		}
	}
	t := Table{ID: "hidden-table", Caption: b.t("quality.hidden.caption"), RowHeads: true, Head: []string{
		b.t("head.station"), b.t("quality.hidden.event"), b.t("quality.hidden.seen"), b.t("quality.hidden.guessed"), b.t("quality.hidden.off")}}
	names := map[string]string{}
	for _, s := range b.Region.Stations {
		names[s.Row.ID] = s.Row.Name
	}
	for _, m := range b.Region.Misses {
		t.Rows = append(t.Rows, [][]Inline{plain(names[m.Station]), b.say("event." + m.Event.String()),
			plain(b.words.Date(b.date(m.SeenDay))), plain(b.words.Date(b.date(m.GuessedDay))), plain(b.off(m.DaysPrinted()))})
	}
	out = append(out, f, t)
	for _, e := range []record.Event{record.Last, record.First} {
		var missing []string
		for _, s := range b.Region.Stations {
			if !slices.ContainsFunc(b.Region.Misses, func(m band.Miss) bool { return m.Station == s.Row.ID && m.Event == e }) {
				missing = append(missing, s.Row.Name)
			}
		}
		if len(missing) > 0 {
			out = append(out, para(Inline{Text: b.t("quality.hidden.missing", "event", b.t("event."+e.String()), "stations", b.words.And(missing...))}))
		}
	}
	return out
}

// off words how far a guess was from what was seen.
func (b *builder) off(n int) string {
	switch {
	case n > 0:
		return b.t("quality.off.late", "days", b.words.Days(n))
	case n < 0:
		return b.t("quality.off.early", "days", b.words.Days(-n))
	}
	return b.t("quality.off.right")
}

// lapses says how much colder each height is taken to be.
func (b *builder) lapses() []Block {
	per := func(l quantity.KelvinsPerMetre) string {
		return b.t("quality.lapse", "diff", b.words.Diff(quantity.Kelvins(float64(l)*1000), words.Nearest), "height", b.words.Height(1000))
	}
	l := List{Items: [][]Inline{
		plain(b.t("quality.lapse.spring", "lapse", per(b.Region.Lapse[record.Last]))),
		plain(b.t("quality.lapse.fall", "lapse", per(b.Region.Lapse[record.First]))),
		plain(b.t("quality.lapse.winter", "lapse", per(b.Region.WinterLapse))),
	}}
	out := []Block{para(Inline{Text: b.t("quality.lapse.intro")}), l}
	if len(b.made) == 0 {
		return out
	}
	t := Table{ID: "offsets", Caption: b.t("quality.offsets.caption"), RowHeads: true, Head: []string{
		b.t("head.band"), b.t("head.position"), b.t("quality.offsets.spring"), b.t("quality.offsets.fall"), b.t("quality.offsets.whose")}}
	for _, m := range b.made {
		spring, given := m.in.Climate.Offset(record.Last)
		fall, _ := m.in.Climate.Offset(record.First)
		whose := b.t("quality.offsets.estimate")
		if given {
			whose = b.t("owner.own")
		}
		t.Rows = append(t.Rows, [][]Inline{plain(m.row().Name), plain(b.position(m.row().Position)), plain(b.offset(spring)), plain(b.offset(fall)), plain(whose)})
	}
	return append(out, t)
}

// offset words how a place differs from what its height says.
func (b *builder) offset(k quantity.Kelvins) string {
	switch d := math.Round(float64(k) * 10); {
	case d < 0:
		return b.t("offset.colder", "diff", b.words.Diff(-k, words.Nearest))
	case d > 0:
		return b.t("offset.warmer", "diff", b.words.Diff(k, words.Nearest))
	}
	return b.t("offset.none")
}

func (b *builder) zones() []Block {
	if len(b.made) == 0 {
		return []Block{para(Inline{Text: b.t("index.bands.none")})}
	}
	t := Table{ID: "zone-table", Caption: b.t("quality.zones.caption"), RowHeads: true, Head: []string{
		b.t("head.band"), b.t("quality.zones.computed"), b.t("quality.zones.declared"), b.t("quality.zones.mean"), b.t("quality.zones.coldest")}}
	for _, m := range b.made {
		mean, coldest := b.t("not_known"), b.t("not_known")
		if m.winter.Known {
			mean, coldest = b.words.Temp(m.winter.MeanExtreme, words.Nearest), b.words.Temp(m.winter.Coldest, words.Nearest)
		}
		declared, ok := m.row().DeclaredZone.Get()
		if !ok {
			declared = b.t("quality.zones.not_declared")
		}
		computed := b.zone(m.winter)
		if from, to, ok := m.in.Climate.ZoneRange(); ok && from != to {
			computed += b.t("quality.zones.range", "from", from, "to", to)
		}
		t.Rows = append(t.Rows, [][]Inline{plain(m.row().Name), plain(computed), plain(declared), plain(mean), plain(coldest)})
	}
	out := []Block{t}
	if z := b.Tables.Guide.ZoneMap; z != "" {
		out = append(out, para(Inline{Text: b.t("quality.zones.map", "map", z)}))
	}
	return out
}

// figureCounts counts the crops' cold and soil figures by what stands behind them.
func (b *builder) figureCounts() []Block {
	kinds := []string{"extension", "handbook", "fao", "paper", "records", "trade", "grower", "practice", "memory", "own", "class", "unsourced", "nobody"}
	count := map[string]int{}
	all := 0
	see := func(known bool, owner figure.Owner, source string) {
		all++
		s := b.sources[source]
		switch {
		case !known:
			count["nobody"]++
		case owner == figure.ByClass:
			count["class"]++
		case s == nil:
			count["unsourced"]++
		default:
			count[s.Kind]++
		}
	}
	for i := range b.Tables.Crops {
		c := &b.Tables.Crops[i]
		class := b.class(c)
		for _, f := range [][2]figure.Of[quantity.Celsius]{{c.YoungDamage, class.YoungDamage}, {c.GrownDamage, class.GrownDamage}, {c.GrownKill, class.GrownKill}, {c.SoilMin, class.SoilMin}, {c.Chill, {}}} {
			if f[0].State == figure.Blank && f[1].Known() {
				see(true, figure.ByClass, f[1].Source)
				continue
			}
			see(f[0].Known(), f[0].Owner, f[0].Source)
		}
	}
	t := Table{ID: "figure-table", Caption: b.t("quality.figures.caption", "n", b.words.Int(all)), RowHeads: true, Head: []string{b.t("quality.figures.kind"), b.t("quality.figures.count")}}
	for _, k := range kinds {
		if count[k] > 0 {
			t.Rows = append(t.Rows, [][]Inline{plain(firstUpper(b.known("source.kind.", k))), plain(b.words.Int(count[k]))})
		}
	}
	if len(t.Rows) == 0 {
		return []Block{para(Inline{Text: b.t("quality.figures.none")})}
	}
	return []Block{para(Inline{Text: b.t("quality.figures.intro")}), t}
}

// safety is the page of cautions: the publisher's text, then the table of hazards.
func (b *builder) safety() *Page {
	title := b.t("safety.title")
	if d := b.Texts.Doc(SafetyPath); d != nil {
		title = d.Title
	}
	p := b.newPage(SafetyPath, HTML(SafetyPath), title, b.t("safety.description"))
	p.add(Para{Lead: true, Text: b.say("safety.lead")})
	p.add(b.prose(SafetyPath, 0)...)
	for _, part := range []string{"all", "covers", "structure", "heat", "food"} {
		l := List{}
		for i := range b.Tables.Hazards {
			if h := &b.Tables.Hazards[i]; hazardPart(h) == part {
				l.Items = append(l.Items, b.caution(h))
			}
		}
		if len(l.Items) > 0 {
			p.add(b.heading(2, "safety-"+part, "safety.h."+part), l)
		}
	}
	p.add(b.snowWeights()...)
	return p
}

// hazardPart is the part of the safety page on which a caution stands, by the first thing
// that it names.
func hazardPart(h *catalog.Hazard) string {
	if len(h.On) == 0 {
		return "covers"
	}
	switch on := h.On[0]; on {
	case "all", "food", "heat", "structure":
		return on
	case "lamps":
		return "heat"
	case "house", "water":
		return "structure"
	}
	return "covers"
}

// sourcePage lists every source of the guide's figures and cautions.
func (b *builder) sourcePage() *Page {
	p := b.newPage(SourcesPath, HTML(SourcesPath), b.t("sources.title"), b.t("sources.description"))
	p.add(Para{Lead: true, Text: b.say("sources.lead")})
	p.add(b.prose(SourcesPath, 0)...)
	if len(b.Tables.Sources) == 0 {
		p.add(para(Inline{Text: b.t("sources.none")}))
		return p
	}
	t := Table{ID: "source-table", Caption: b.t("sources.caption"), RowHeads: true, Head: []string{
		b.t("sources.head.who"), b.t("sources.head.title"), b.t("sources.head.kind"), b.t("sources.head.read")}}
	for i := range b.Tables.Sources {
		s := &b.Tables.Sources[i]
		title := plain(b.orUnknown(s.Title))
		if s.Title != "" {
			title = []Inline{{Text: s.Title, Href: address(s.Address), Lang: b.sourceLanguage(s)}}
		}
		if s.Year != "" {
			title = append(title, Inline{Text: ", " + s.Year})
		}
		who := plain(firstUpper(b.known("source.kind.", s.Kind)))
		if s.Organisation != "" {
			who = []Inline{{Text: firstUpper(s.Organisation), Lang: b.sourceLanguage(s)}}
		}
		t.Rows = append(t.Rows, [][]Inline{who, title, plain(b.known("source.kind.", s.Kind)), plain(b.orUnknown(s.Read))})
		t.RowIDs = append(t.RowIDs, sourceAnchor(s.ID))
	}
	p.add(t)
	return p
}
