package page

import (
	"crypto/sha256"
	"encoding/json"
	"fmt"
	"slices"
	"strconv"
	"strings"

	"shedwall/cmd/shedwall/internal/band"
	"shedwall/cmd/shedwall/internal/catalog"
	"shedwall/cmd/shedwall/internal/plan"
	"shedwall/cmd/shedwall/internal/quantity"
	"shedwall/cmd/shedwall/internal/record"
	"shedwall/cmd/shedwall/internal/words"
)

// SheetRows is how many crops fit on a wall sheet on Letter or A4; more go on
// further sheets, each with a name.
const SheetRows = 24

// worthwhile is how many days, spring and fall together, layers must buy before a
// sheet plans with them.
const worthwhile = 10

// Wall builds the wall sheets of one band. One that was kept (see keeping) must stay with
// one goroutine.
type Wall struct {
	Tables  *catalog.Tables
	Book    *words.Book
	Climate *band.Climate
	Plans   []plan.CropPlan
	Cards   []plan.Tonight // the band's tonight cards, one a unit
	Fitting func() Fitting // says whether its sheets fit on their papers; nil = all do
	pair    *pairWall      // of sheets in two languages; else nil
	kept    *wallKept      // what was worked out before; nil = nothing is kept
	fitting Fitting        // of the sheets that are being made
}

// Fitting says whether the sheets of one wall fit on their papers.
type Fitting interface {
	// Fits is nil where a sheet fits on each.
	Fits(*Sheet) error

	// TooMuch says that a sheet does not fit, whatever its code turns out to be; false
	// says nothing.
	TooMuch(*Sheet) bool
}

// roomForAll is the fitting of sheets of which nobody asks whether they fit.
type roomForAll struct{}

func (roomForAll) Fits(*Sheet) error   { return nil }
func (roomForAll) TooMuch(*Sheet) bool { return false }

// fewestRows is the least a part is cut down to so that its sheets fit; a sheet
// that does not fit with so few has words too long for any paper.
const fewestRows = 6

// Sheets is every wall sheet of the band: vegetables that stand frost, tender
// vegetables, herbs and fruit, flowers, each split where more than SheetRows crops
// fall to it, or fewer where rows are tall, until every sheet fits. Crops that
// cannot be grown at all are left off; the band page says so.
func (w Wall) Sheets() []*Sheet {
	w = w.keeping()
	w.fitting = roomForAll{}
	if w.Fitting != nil {
		w.fitting = w.Fitting()
	}
	var out []*Sheet
	codes := w.codes()
	for parts := w.parts(); len(parts) > 0; {
		sheets, used := w.joined(parts, codes, len(out))
		out, parts = append(out, sheets...), parts[used:]
	}
	w.tellBoth(out)
	w.tellAbsent(out)
	return out
}

// partSheets is the sheets of one part, numbered on from the sheets before it, and
// whether all of them fit; none where they would not be fewer than a number. A part that
// was cut before begins with that cut.
func (w Wall) partSheets(part sheetPart, codes map[string]string, before, fewerThan int) (out []*Sheet, fit bool) {
	n := w.mostRows()
	if c, ok := w.kept.cuts[part.key]; ok {
		if c.before == before {
			return c.sheets, c.fit
		}
		n = c.rows
	}
	for ; ; n-- {
		parts := split(part.plans, n)
		if len(parts) >= fewerThan {
			return nil, false
		}
		out, fit = w.drafts(part, parts, codes, before, n > fewestRows)
		for i := 0; fit && i < len(out); i++ {
			w.setCode(out[i])
			fit = w.fitting.Fits(out[i]) == nil
		}
		if fit || n <= fewestRows {
			for i, s := range out {
				if s.Code == "" {
					w.setCode(s)
				}
				w.addVersions(s, parts[i], codes, before+i+1, part, len(parts[i]) < len(part.plans))
			}
			w.kept.cuts[part.key] = cut{n, before, out, fit}
			return out, fit
		}
		for n > fewestRows && len(split(part.plans, n-1)) == len(parts) {
			n-- // the same sheets again
		}
	}
}

// drafts is the sheets of the rows of a part, without their codes; none, where they are to
// fit, if one of them is too much. The last have the tenderest crops and the most to tell.
func (w Wall) drafts(part sheetPart, rows [][]plan.CropPlan, codes map[string]string, before int, toFit bool) ([]*Sheet, bool) {
	out := make([]*Sheet, len(rows))
	for i := len(rows) - 1; i >= 0; i-- {
		s := w.sheet(rows[i], codes)
		number := before + i + 1
		s.Path = SheetPath(w.Climate.Band.ID, number)
		w.nameSheet(s, number, part, len(rows[i]) < len(part.plans))
		if toFit && w.fitting.TooMuch(s) {
			return nil, false
		}
		out[i] = s
	}
	return out, true
}

// setCode gives a sheet that is otherwise complete its code.
func (w Wall) setCode(s *Sheet) {
	s.Code = w.code(s)
	s.CodeText = w.Book.T("sheet.code", "code", s.Code)
}

type sheetPart struct {
	key   string // two with a + between where parts share their sheets
	plans []plan.CropPlan
}

// parts is newParts. Its lists must not be changed.
func (w Wall) parts() []sheetPart {
	if w.kept == nil {
		return w.newParts()
	}
	if w.kept.parts == nil {
		w.kept.parts = w.newParts()
	}
	return w.kept.parts
}

// newParts is the crops of the sheets, sorted by what they stand.
func (w Wall) newParts() []sheetPart {
	parts := []sheetPart{{key: "hardy"}, {key: "tender"}, {key: "herbs"}, {key: "flowers"}}
	for _, p := range w.Plans {
		if !w.shown(p) {
			continue
		}
		k := 0
		switch {
		case p.Crop.Group == "flower":
			k = 3
		case p.Crop.Group == "herb" || p.Crop.Group == "fruit":
			k = 2
		case p.Group >= 'C':
			k = 1
		}
		parts[k].plans = append(parts[k].plans, p)
	}
	return slices.DeleteFunc(parts, func(p sheetPart) bool { return len(p.plans) == 0 })
}

// grown says whether a crop has a start that exists in the band, open or covered.
func grown(p plan.CropPlan) bool {
	for i := range p.Layers {
		if grownUnder(&p.Layers[i]) {
			return true
		}
	}
	return false
}

// grownUnder says the same of one set of layers.
func grownUnder(l *plan.LayerPlan) bool {
	for i := range l.Careful {
		if win := &l.Careful[i]; (win.Action == plan.SowOutside || win.Action == plan.SetOut) && startable(win) {
			return true
		}
	}
	return false
}

// startable: there is a first day; the last one may be unknown.
func startable(w *plan.Window) bool {
	return (w.From.State == plan.Dated || w.From.State == plan.Open) && w.To.State != plan.Never
}

// split cuts a list into the fewest parts of at most n, as even as can be.
func split(p []plan.CropPlan, n int) [][]plan.CropPlan {
	k := (len(p) + n - 1) / n
	var out [][]plan.CropPlan
	for i := range k {
		out = append(out, p[i*len(p)/k:(i+1)*len(p)/k])
	}
	return out
}

// codes numbers the crops of each group, A1, A2 ..., over all sheets of the band,
// so that a code means one crop on every sheet and report.
func (w Wall) codes() map[string]string {
	if w.kept != nil && w.kept.codes != nil {
		return w.kept.codes
	}
	n := map[byte]int{}
	out := map[string]string{}
	for _, part := range w.parts() {
		for _, p := range part.plans {
			n[p.Group]++
			out[p.Crop.ID] = string(p.Group) + strconv.Itoa(n[p.Group])
		}
	}
	if w.kept != nil {
		w.kept.codes = out
	}
	return out
}

func (w Wall) sheet(plans []plan.CropPlan, codes map[string]string) *Sheet {
	s := w.blank()
	used := map[string]bool{}
	s.Rows = make([]SheetRow, 0, len(plans))
	for i := range plans {
		p := &plans[i]
		r, covers := w.rowOf(p)
		for _, id := range covers {
			used[id] = true
		}
		r.Code = codes[p.Crop.ID]
		r.GroupEnd = i+1 < len(plans) && plans[i+1].Group != p.Group
		s.Rows = append(s.Rows, r)
	}
	for i := range w.Tables.Covers {
		if cv := &w.Tables.Covers[i]; used[cv.ID] {
			s.CoverKeyTitle = w.Book.T("sheet.cover_key")
			s.CoverKey = append(s.CoverKey, w.coverKey(cv.ID)...)
		}
	}
	if w.pair != nil {
		w.sayBoth(s, plans)
		return s
	}
	s.Foot = w.footLines(w.footFor(plans))
	return s
}

// coverKey explains the line of a cover: in two languages with a line for each, since two
// names would be too wide for one.
func (w Wall) coverKey(id string) []KeyEntry {
	if w.pair != nil {
		return append(w.pair.first.coverKey(id), w.pair.second.coverKey(id)...)
	}
	cv := w.cover(id)
	if cv == nil {
		return nil
	}
	return []KeyEntry{{Style: cv.Kind.String(), Letter: cv.Letter, Text: cv.Name}}
}

// newBlank is a sheet of the band without rows and what follows from them.
func (w Wall) newBlank() *Sheet {
	b, g, c := w.Book, w.Tables.Guide, w.Climate
	low, _ := c.Band.Low.Get()
	high, _ := c.Band.High.Get()
	pos, _ := c.Band.Position.Get()
	where := b.HeightRange(low, high) + " · " + b.T("position."+pos.String())
	if win := c.Winter(); win.Known {
		where += " · " + b.T("sheet.zone", "zone", win.Zone)
	} else if declared, ok := c.Band.DeclaredZone.Get(); ok {
		where += " · " + b.T("sheet.zone", "zone", b.T("zone.declared", "zone", declared))
	}
	s := &Sheet{
		Lang: b.Language(), Band: c.Band.Name, Where: where,
		Dated:        isoDate(g.EditionDate),
		Edition:      b.T("sheet.edition", "guide", g.Title, "edition", strconv.Itoa(g.Edition)),
		Lead:         w.lead(),
		Months:       w.months(),
		Days:         quantity.SlotsPerYear,
		KeyTitle:     b.T("sheet.key"),
		OwnDates:     b.T("sheet.own_dates"),
		HeadCode:     b.T("sheet.head.code"),
		HeadCrop:     b.T("sheet.head.crop"),
		HeadCalendar: b.T("sheet.head.calendar"),
		HeadSentence: b.T("sheet.head.sentence"),
	}
	for _, e := range []record.Event{record.Last, record.First} {
		if a := c.NightDate(e, quantity.Careful, 0, 0); a.State == band.Dated {
			s.Marks = append(s.Marks, SheetMark{At: w.day(a.Slot), Label: b.T(w.markKey()+e.String(), "date", b.DateShort(w.date(a.Slot)))})
		}
	}
	s.Warning = strings.TrimSpace(w.begunLine() + " " + w.warning())
	for k, key := range []string{"inside", "outside", "set_out", "growing", "harvest"} {
		s.Key = append(s.Key, KeyEntry{Kind: BarKind(k), Letter: letters[k], Text: b.T("sheet.key." + key)})
	}
	return s
}

// tellAbsent adds to the feet of sheets which crops of the band stand on none: those that
// have a season in a house only, and those that have none. Each list stands on the last
// sheet whose foot has room for it; the band's page has them in any case.
func (w Wall) tellAbsent(sheets []*Sheet) {
	noSeason, _ := w.absent()
	for _, x := range []struct {
		key   string
		crops []string
	}{{"calendar.not_here", noSeason}, {"calendar.house.foot", w.houseNames()}} {
		if len(x.crops) == 0 {
			continue
		}
		for i := len(sheets) - 1; i >= 0; i-- {
			more := *sheets[i]
			more.Foot = append([]string{w.Book.T(x.key) + " " + namesOf(x.crops)}, more.Foot...)
			if w.fitsMore(&more) {
				sheets[i] = &more
				break
			}
		}
	}
}

// fitsMore says whether a sheet fits that says more than before, and gives it its code if so.
func (w Wall) fitsMore(s *Sheet) bool {
	if w.fitting.TooMuch(s) {
		return false
	}
	w.setCode(s)
	return w.fitting.Fits(s) == nil
}

// isoDate is a day as YYYY-MM-DD, "" for the zero Day (no edition date given).
func isoDate(d quantity.Day) string {
	if d == 0 {
		return ""
	}
	return d.ISO()
}

// letters stand at the bars: inside, outside, set out, growing (none), harvest.
var letters = [...]string{"I", "O", "S", "", "H"}

// lead is what the dates promise.
func (w Wall) lead() []string {
	lead := []string{w.Book.T("sheet.lead.careful")}
	if line := w.leadHalf(); line != "" {
		lead = append(lead, line)
	}
	return append(lead, w.leadEstimates()...)
}

// leadEstimates is leadEstimate for the freezes of half the years, which the lead names.
func (w Wall) leadEstimates() []string {
	return w.leadEstimate(w.Climate.NightDate(record.Last, quantity.Half, 0, 0), w.Climate.NightDate(record.First, quantity.Half, 0, 0))
}

// leadHalf says when half the years freeze, how sure that is and what height does to it;
// "" where nobody knows.
func (w Wall) leadHalf() string {
	b, c := w.Book, w.Climate
	last, first := c.NightDate(record.Last, quantity.Half, 0, 0), c.NightDate(record.First, quantity.Half, 0, 0)
	var line string
	if last.State == band.Dated && first.State == band.Dated {
		line = b.T("sheet.lead.half", "last", b.Date(w.date(last.Slot)), "first", b.Date(w.date(first.Slot)))
		if last.PlusMinus > 0 {
			give := max(last.PlusMinus, first.PlusMinus)
			careful := max(c.NightDate(record.Last, quantity.Careful, 0, 0).PlusMinus, c.NightDate(record.First, quantity.Careful, 0, 0).PlusMinus)
			if allTyped(c.Region) && careful > give {
				line += " " + b.T("sheet.lead.give.careful", "give", words.Sentence(b.PlusMinus(give)), "careful", b.Days(careful))
			} else {
				line += " " + b.T("sheet.lead.give", "give", words.Sentence(b.PlusMinus(give)))
			}
		}
		if d := c.DaysPerHundredMetres(record.Last); d >= 0.5 {
			line += " " + b.T("sheet.lead.height", "days", b.Days(int(d+0.5)))
		}
	} else if last.State == band.AnyMonth || first.State == band.AnyMonth {
		line = b.T("sheet.lead.any")
	}
	return line
}

// foot is the lines under the keys.
func (w Wall) foot(of footOf) []string {
	b, g := w.Book, w.Tables.Guide
	foot := []string{w.footTonight(of), b.T("sheet.foot.groups")}
	if of.film {
		foot = append(foot, b.T("sheet.foot.film"))
	}
	if of.warm {
		foot = append(foot, b.T("sheet.foot.warm"))
	}
	about := w.footRecords()
	if g.UseUntil != "" {
		about += " · " + b.T("sheet.foot.until", "date", g.UseUntil)
	}
	about += " · " + g.Publisher
	if g.Address != "" {
		about += " · " + g.Address
	}
	foot = append(foot, about)
	if g.Statement != "" {
		foot = append(foot, g.Statement)
	}
	return append(foot, b.T("sheet.foot.caution"))
}

// codeAlphabet has no 0, O, 1 or I, which look alike on a shed wall.
const codeAlphabet = "ABCDEFGHJKLMNPQRSTUVWXYZ23456789"

// codeOf is four characters made from everything on a sheet or leaf: two that
// differ in a letter or a day carry different codes (but for 1 chance in a million).
func codeOf(s any) string { return codeFrom(written(s)) }

// written is a sheet, a leaf or a row as codes are made from it.
func written(s any) []byte {
	data, err := json.Marshal(s)
	if err != nil {
		panic(fmt.Sprintf("page: a sheet is plain data and cannot fail to be written: %v", err))
	}
	return data
}

func codeFrom(data []byte) string {
	sum := sha256.Sum256(data)
	code := make([]byte, 4)
	for i := range code {
		code[i] = codeAlphabet[sum[i]%32]
	}
	return string(code)
}

// FrameOf is what stands around a sheet on its web page.
func FrameOf(s *Sheet, b *words.Book, site *Site) SheetFrame {
	bandPage := BandPath(bandOfSheet(s.Path))
	f := SheetFrame{Hint: b.T("sheet.hint"), WordsTitle: b.T("sheet.in_words"), Site: site}
	f.Links = append(f.Links, link(b.T("sheet.link.band", "band", s.Band), HTML(bandPage)))
	if !s.NoPDF {
		f.Links = append(f.Links, link(b.T("sheet.link.letter"), SheetPDF(s.Path, "letter")), link(b.T("sheet.link.a4"), SheetPDF(s.Path, "a4")))
	}
	return f
}

// bandOfSheet is the band's id in a sheet's path, bands/ID/sheet.
func bandOfSheet(path string) string {
	_, rest, _ := strings.Cut(path, "/")
	id, _, _ := strings.Cut(rest, "/")
	return id
}
