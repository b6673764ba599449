package page

import (
	"regexp"
	"slices"
	"strconv"
	"strings"
	"sync"

	"shedwall/cmd/shedwall/internal/plan"
	"shedwall/cmd/shedwall/internal/quantity"
)

// calendar is a band's calendar: a table for each group of hardiness, then the
// same in sentences.
func (b *builder) calendar(m *bandPage) []Block {
	out := []Block{para(Inline{Text: b.t("calendar.intro", "odds", b.words.Odds(quantity.Careful))}), b.actionList()}
	codes := m.wall.codes()
	for _, g := range []byte{'A', 'B', 'C', 'D'} {
		t := Table{ID: "group-" + strings.ToLower(string(g)), Caption: b.t("calendar.caption", "group", string(g), "band", m.row().Name), RowHeads: true, Head: []string{
			b.t("head.crop"), b.t("action.sow-inside"), b.t("action.sow-outside"), b.t("action.set-out"), b.t("action.harvest"), b.t("action.last-safe-day"), b.t("calendar.head.covers")}}
		for i := range m.in.Plans {
			p := &m.in.Plans[i]
			if p.Group == g {
				t.Rows = append(t.Rows, b.calendarRow(m, p, codes[p.Crop.ID]))
			}
		}
		if len(t.Rows) > 0 {
			out = append(out, b.heading(3, "", "calendar.group", "group", b.group(g)), t)
		}
	}
	return out
}

// group is "A: a hard frost does no harm".
func (b *builder) group(g byte) string { return b.t("group." + string(g)) }

// actionList says what each column means, in one line each.
func (b *builder) actionList() List {
	l := List{}
	for _, a := range plan.Actions {
		l.Items = append(l.Items, []Inline{{Text: b.t("label", "name", b.t("action."+string(a))), Strong: true}, {Text: " " + b.t("action."+string(a)+".means")}})
	}
	return l
}

func (b *builder) calendarRow(m *bandPage, p *plan.CropPlan, code string) [][]Inline {
	name := []Inline{link(p.Crop.Name, cropHref(m, p.Crop.ID))}
	if code != "" {
		name = append(name, Inline{Text: " " + code})
	}
	open := &p.Layers[0]
	row := [][]Inline{name}
	for _, a := range plan.Actions {
		row = append(row, b.quiet(b.cropAction(p.Crop, open, quantity.Careful, a)))
	}
	return append(row, b.quiet(b.coverHint(m, p)))
}

// coverHint says what the sheet plans with: which covers, and the days they buy; of a crop
// with a season in a house only, which house.
func (b *builder) coverHint(m *bandPage, p *plan.CropPlan) string {
	l := m.wall.chosen(*p)
	house, only := m.wall.inHouse(*m.wall.whole(p))
	switch {
	case only && seasonNotKnown(&l, quantity.Careful):
		return b.t("calendar.covers.house_known", "covers", b.layersName(house))
	case only:
		return b.t("calendar.covers.house", "covers", b.layersName(house))
	case seasonNotKnown(&l, quantity.Careful):
		return b.t("not_known")
	case l.Layers == "" && !started(&l, quantity.Careful):
		return b.t("calendar.covers.none")
	case l.Layers == "":
		return b.t("calendar.covers.little")
	}
	name := b.layersName(l.Layers)
	start, ok := firstStartOf(&l, quantity.Careful)
	switch {
	case !started(&l, quantity.Careful):
		return b.t("calendar.covers.none")
	case ok && seasonNotKnown(&p.Layers[0], quantity.Careful):
		return b.t("calendar.covers.known", "covers", name, "date", b.words.Date(b.date(start)))
	case ok && !started(&p.Layers[0], quantity.Careful):
		return b.t("calendar.covers.only", "covers", name, "date", b.words.Date(b.date(start)))
	case l.GainKnown && l.SpringGain > 0 && ok:
		return b.t("calendar.covers.from", "covers", name, "date", b.words.Date(b.date(start)), "days", b.words.Days(l.SpringGain))
	case l.GainKnown && l.FallGain > 0:
		return b.t("calendar.covers.fall", "covers", name, "days", b.words.Days(l.FallGain))
	}
	return name
}

// started says whether a crop can be begun outside under layers and come to harvest.
func started(l *plan.LayerPlan, odds quantity.Odds) bool {
	for _, a := range []plan.Action{plan.SowOutside, plan.SetOut} {
		if w, ok := l.Find(odds, a); ok && startable(&w) {
			return true
		}
	}
	return false
}

// firstStartOf is the first day on which anything stands outside under layers.
func firstStartOf(l *plan.LayerPlan, odds quantity.Odds) (quantity.Slot, bool) {
	var best quantity.Slot
	found := false
	for _, a := range []plan.Action{plan.SowOutside, plan.SetOut} {
		if w, ok := l.Find(odds, a); ok && w.From.State == plan.Dated && w.To.State != plan.Never && (!found || w.From.Slot < best) {
			best, found = w.From.Slot, true
		}
	}
	return best, found
}

// sentences is the page of a band's calendar in words and large print: what the
// bars of the wall sheets say, crop by crop, and which crops are not on them.
func (b *builder) sentences(m *bandPage) *Page {
	name := m.row().Name
	p := b.newPage(SentencesPath(m.row().ID), BandsPlace, b.t("sentences.title", "band", name), b.t("sentences.description", "band", name))
	p.Large = true
	p.add(Para{Lead: true, Text: b.say("sentences.lead", "odds", b.words.Odds(quantity.Careful))},
		para(link(b.t("sentences.back", "band", name), m.href())))
	p.add(b.estimateNotes(m)...)
	p.add(b.leftOutNotes(m)...)
	p.add(b.sentenceLists(m)...)
	p.add(m.twice.notHere()...)
	p.add(Note{Kind: "hint", Label: b.t("note.forecast"), Text: b.say("band.forecast")})
	return p
}

// sentenceLists is every row of a band's wall sheets in words, a list for each
// sheet.
func (b *builder) sentenceLists(m *bandPage) []Block {
	var out []Block
	for i, s := range m.sheets {
		l := List{}
		for _, r := range s.Rows {
			l.Items = append(l.Items, []Inline{{Text: r.Code, Strong: true}, {Text: " " + r.Sentence}})
		}
		out = append(out, Heading{Level: 2, ID: "sentences-" + strconv.Itoa(i+1), Text: plain(s.Name)}, l)
	}
	return out
}

// calendarHeads are the columns of calendar.csv. They are the same in every
// language, so that other programs can read them.
var calendarHeads = []string{"band", "code", "crop", "name", "group", "action", "covers", "odds_percent", "from", "to", "gap_from", "gap_to", "give_or_take_days", "from_held_by", "to_held_by", "words", "estimate"}

// calendarBytes is about what a band's table takes: a hundred crops under fifteen covers.
const calendarBytes = 3 << 18

// calendarFile is every window of a band as a table for spreadsheets (RFC 4180).
// Dates are MM-DD; a blank date is explained by the state in from_held_by or
// to_held_by and in words. From gap_from to gap_to, where given, it is not done. Estimate is
// yes where a date rests on few years or on what is assumed.
func (b *builder) calendarFile(m *bandPage) File {
	codes := m.wall.codes()
	return File{Path: CalendarPath(m.row().ID), write: func(room []byte) []byte { return b.appendCalendar(slices.Grow(room, calendarBytes), m, codes) }}
}

func (b *builder) appendCalendar(out []byte, m *bandPage, codes map[string]string) []byte {
	out = appendRow(out, calendarHeads...)
	ofBand := b.estimateOf(m) != ""
	var ofCrop, ofLayers []byte                   // cells that stand in many rows
	ends := rowEnds.Get().(map[windowDays][2]int) // where the rest of a row stands first, from its dates on
	defer rowEnds.Put(ends)
	clear(ends)
	for i := range m.in.Plans {
		p := &m.in.Plans[i]
		ofCrop = appendCells(ofCrop[:0], m.row().ID, codes[p.Crop.ID], p.Crop.ID, p.Crop.Name, string(p.Group))
		for j := range p.Layers {
			l := &p.Layers[j]
			for _, odds := range []quantity.Odds{quantity.Careful, quantity.Half} {
				ofLayers = appendCells(ofLayers[:0], l.Layers, strconv.Itoa(percent(odds)))
				for _, a := range plan.Actions {
					win := l.Window(odds, a)
					if win == nil {
						continue
					}
					out = append(append(out, ofCrop...), ',')
					out = append(append(out, a...), ',')
					out = append(append(out, ofLayers...), ',')
					days := windowDays{win.From, win.To, win.Gap, a == plan.LastSafeDay}
					if at, ok := ends[days]; ok {
						out = append(out, out[at[0]:at[1]]...)
						continue
					}
					from := len(out)
					out = b.appendDays(out, a, *win, b.estimated(m, ofBand, *win))
					ends[days] = [2]int{from, len(out)}
				}
			}
		}
	}
	return out
}

// endsOfRows is about how many rows of a band's table differ from their dates on; twice as
// many are as others.
const endsOfRows = 3000

var rowEnds = sync.Pool{New: func() any { return make(map[windowDays][2]int, endsOfRows) }}

// windowDays is all that a row of the table depends on from its dates on.
type windowDays struct {
	from, to plan.Bound
	gap      plan.Stretch
	last     bool // the last safe day: one day, not a window
}

// appendDays adds the end of a row, from its dates on.
func (b *builder) appendDays(out []byte, a plan.Action, win plan.Window, estimate string) []byte {
	gap := [2]string{}
	if win.Gap.Exists() {
		gap = [2]string{b.date(win.Gap.From).String(), b.date(win.Gap.To).String()}
	}
	give := ""
	if n := int(max(win.From.PlusMinus, win.To.PlusMinus)); n > 0 {
		give = strconv.Itoa(n)
	}
	return appendRow(out, b.csvDate(win.From), b.csvDate(win.To), gap[0], gap[1], give, heldBy(win.From), heldBy(win.To), b.actionOf(a, win), estimate)
}

// appendRow adds a row of a table for spreadsheets (RFC 4180, section 2), its texts kept
// safe as safeCell says. A band's calendar has a hundred thousand cells, more than a writer
// of tables in general gets through in the time.
func appendRow(b []byte, texts ...string) []byte {
	return append(appendCells(b, texts...), '\r', '\n')
}

// appendCells is appendRow without the end of the row.
func appendCells(b []byte, texts ...string) []byte {
	for i, text := range texts {
		if i > 0 {
			b = append(b, ',')
		}
		text = safeCell(text)
		if !needsQuotes(text) {
			b = append(b, text...)
			continue
		}
		b = append(b, '"')
		for k := range len(text) {
			switch text[k] {
			case '"':
				b = append(b, '"', '"')
			case '\n':
				b = append(b, '\r', '\n')
			case '\r':
			default:
				b = append(b, text[k])
			}
		}
		b = append(b, '"')
	}
	return b
}

// needsQuotes says whether a cell must stand in quotes; most are short, and looked through
// sooner by hand than by a search for any of several letters.
func needsQuotes(text string) bool {
	for i := range len(text) {
		switch text[i] {
		case '"', ',', '\r', '\n':
			return true
		}
	}
	return strings.HasPrefix(text, " ")
}

func (b *builder) csvDate(x plan.Bound) string {
	if x.State != plan.Dated || x.AtLeast {
		return ""
	}
	return b.date(x.Slot).String()
}

// heldBy is the gate behind a date, or the state that leaves none.
func heldBy(x plan.Bound) string {
	switch x.State {
	case plan.Dated:
		if x.AtLeast {
			return "not-known"
		}
		return x.Gate.String()
	case plan.Open:
		return "open"
	case plan.Never:
		return "never"
	}
	return "not-known"
}

// safeCell keeps a spreadsheet from running a text cell as a formula: such a cell
// gets an apostrophe in front. Numbers, negative ones too, stay bare.
func safeCell(s string) string {
	if s == "" {
		return s
	}
	switch s[0] {
	case '=', '+', '-', '@', '\t', '\r':
		if !plainNumber.MatchString(s) {
			return "'" + s
		}
	}
	return s
}

// plainNumber is a number as tables write them. What only a program reads as one (1e3,
// -inf) is text.
var plainNumber = regexp.MustCompile(`^[+-]?[0-9]+(\.[0-9]+)?$`)
