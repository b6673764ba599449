package edition

import (
	"cmp"
	"slices"
	"strings"

	"shedwall/cmd/shedwall/internal/catalog"
	"shedwall/cmd/shedwall/internal/quantity"
)

// CauseKind says what changed between two editions.
type CauseKind string

// The kinds of cause. Unexplained: no figure that editions keep is different, so the
// reckoning itself is.
const (
	ByFigure    CauseKind = "figure"  // a cell of a crop, cover or germination table
	ByRecord    CauseKind = "record"  // a station's readings or the years used of them
	ByStation   CauseKind = "station" // a cell of a station
	ByBand      CauseKind = "band"    // a cell of the band
	ByGuide     CauseKind = "guide"   // a setting
	ByProgram   CauseKind = "program" // its version
	ByCovers    CauseKind = "covers"  // the sheet plans with other covers
	ByCrop      CauseKind = "crop"    // the crop is new, or no longer in the guide
	ByNewBand   CauseKind = "new-band"
	Unexplained CauseKind = "reckoning"
)

// Cause is one thing that is different. Of is the id it belongs to (crop, station, band),
// Name what people call it; Was and Now are "" where there was, or is, none. Cell is
// where it stands now, or stood.
type Cause struct {
	Kind             CauseKind
	Of, Name, Figure string
	Was, Now, Cell   string
}

// Change is one window that is not what it was. Was is nil where it is new, Now where it
// is gone. Days are how many days later (earlier: below zero) each end has come; they
// count where both have a date.
type Change struct {
	Key              catalog.EditionKey
	Was, Now         *catalog.EditionRow
	FromDays, ToDays int
	Causes           []int // into Moved.Causes, ascending
}

// Moved is what became of an edition.
type Moved struct {
	Before, Now *catalog.Edition
	Changes     []Change // in the order of the keys
	Causes      []Cause  // sorted; each has moved at least one date
	Sheets      []SheetState
	Kept        int // windows that are as they were
}

// SheetState is what became of a page printed with the edition before. Folder is that of
// its language, "" for the guide's own.
type SheetState struct {
	Sheet   catalog.EditionSheet
	Folder  string
	Same    bool   // its code is on one of today's pages: nothing on it changed
	Right   bool   // every careful date on it still holds, though today's page has another code
	NowCode string // of today's page in its place; "" = there is none
	Moved   int    // careful dates on it that moved or went
}

// Compare tells what moved from one edition to another. Both must be sorted.
func Compare(before, now *catalog.Edition) *Moved {
	m := &Moved{Before: before, Now: now}
	c := comparison{before: before, now: now, plans: map[planKey3][]Cause{}, parts: map[string][]Cause{}}
	c.common()
	known := map[Cause]int{}
	var all []Cause
	var of [][]Cause
	i, j := 0, 0
	for i < len(before.Rows) || j < len(now.Rows) {
		var ch Change
		order := -1 // which comes first
		if i == len(before.Rows) {
			order = 1
		} else if j < len(now.Rows) {
			order = before.Rows[i].Compare(now.Rows[j].EditionKey)
		}
		switch {
		case order < 0:
			ch = Change{Key: before.Rows[i].EditionKey, Was: &before.Rows[i]}
			i++
		case order > 0:
			ch = Change{Key: now.Rows[j].EditionKey, Now: &now.Rows[j]}
			j++
		default:
			ch = Change{Key: now.Rows[j].EditionKey, Was: &before.Rows[i], Now: &now.Rows[j]}
			i, j = i+1, j+1
		}
		if ch.nothing() {
			m.Kept++
			continue
		}
		ch.FromDays, ch.ToDays = ch.days()
		causes := c.causes(ch)
		for _, x := range causes {
			if _, ok := known[x]; !ok {
				known[x] = 0
				all = append(all, x)
			}
		}
		m.Changes = append(m.Changes, ch)
		of = append(of, causes)
	}
	slices.SortFunc(all, compareCauses)
	for n, x := range all {
		known[x] = n
	}
	m.Causes = all
	for n, causes := range of {
		for _, x := range causes {
			m.Changes[n].Causes = append(m.Changes[n].Causes, known[x])
		}
		slices.Sort(m.Changes[n].Causes)
	}
	m.sheets()
	return m
}

// nothing: no difference that a gardener would see. A window that did not and does not
// exist is none, whatever leaves it out.
func (c Change) nothing() bool {
	switch {
	case c.Was == nil:
		return !exists(c.Now)
	case c.Now == nil:
		return !exists(c.Was)
	}
	return SameDates(c.Was, c.Now) || !exists(c.Was) && !exists(c.Now)
}

// exists: there is something to do, as far as is known.
func exists(r *catalog.EditionRow) bool {
	ok := func(b catalog.EditionBound) bool {
		return b.State == catalog.EditionDated || b.State == catalog.EditionOpen
	}
	return ok(r.From) && r.To.State != catalog.EditionNever
}

// days is how far both ends moved.
func (c Change) days() (from, to int) {
	if c.Was == nil || c.Now == nil {
		return 0, 0
	}
	return DaysBetween(c.Was.From, c.Now.From), DaysBetween(c.Was.To, c.Now.To)
}

// DaysBetween is how many days later b is than a, by the shorter way round the year;
// 0 where either has no date. 29 February counts as a day, as on every sheet.
func DaysBetween(a, b catalog.EditionBound) int {
	if a.State != catalog.EditionDated || b.State != catalog.EditionDated {
		return 0
	}
	const year = quantity.SlotsPerYear
	n := int(quantity.North.SlotOf(b.Date) - quantity.North.SlotOf(a.Date))
	return (n+year+year/2)%year - year/2
}

// CarefulPercent is the odds of the dates that sheets and calendars print; pages about what
// moved are about these.
const CarefulPercent = 10

// Careful is how many careful dates moved, came or went.
func (m *Moved) Careful() int {
	n := 0
	for i := range m.Changes {
		if m.Changes[i].Key.Percent == CarefulPercent {
			n++
		}
	}
	return n
}

func compareCauses(a, b Cause) int {
	order := func(k CauseKind) int {
		return slices.Index([]CauseKind{ByProgram, ByGuide, ByRecord, ByStation, ByBand, ByNewBand, ByCrop, ByFigure, ByCovers, Unexplained}, k)
	}
	return cmp.Or(cmp.Compare(order(a.Kind), order(b.Kind)), cmp.Compare(a.Of, b.Of), cmp.Compare(a.Figure, b.Figure), cmp.Compare(a.Cell, b.Cell), cmp.Compare(a.Was, b.Was), cmp.Compare(a.Now, b.Now))
}

// sheets says what became of each printed page of the edition before.
func (m *Moved) sheets() {
	codes := map[string]bool{}
	at := map[string]string{}
	for _, s := range m.Now.Sheets {
		codes[s.Code] = true
		at[s.Path] = s.Code
	}
	for _, s := range m.Before.Sheets {
		st := SheetState{Sheet: s, Same: codes[s.Code], NowCode: at[s.Path]}
		if folder, _, _ := strings.Cut(s.Path, "/"); folder != "bands" {
			st.Folder = folder + "/"
		}
		for i := range m.Changes {
			if s.Prints(m.Changes[i].Was) {
				st.Moved++
			}
		}
		st.Right = !st.Same && len(s.Rows) > 0 && st.Moved == 0
		m.Sheets = append(m.Sheets, st)
	}
}

// planKey3 is the figures of a crop under covers in a band.
type planKey3 struct{ band, crop, layers string }

// comparison finds the causes of changes; what many changes share is looked up once.
type comparison struct {
	before, now *catalog.Edition
	all         []Cause // of the program, the settings and the stations
	plans       map[planKey3][]Cause
	parts       map[string][]Cause
}

// common gathers what concerns every date: the program, the settings, the stations.
func (c *comparison) common() {
	for _, d := range differences(c.before.Guide, c.now.Guide) {
		kind := ByGuide
		if d.name == FigureVersion {
			kind = ByProgram
		}
		c.all = append(c.all, d.cause(kind, "", ""))
	}
	for _, p := range pairs(c.before.Stations, c.now.Stations) {
		for _, d := range differences(p.was.Figures, p.now.Figures) {
			kind := ByStation
			if d.name == FigureRecord {
				kind = ByRecord
			}
			c.all = append(c.all, d.cause(kind, p.id(), p.name()))
		}
	}
}

// causes of one change: what changed in its own figures, in the band, in all; where none
// of these did, other covers, a new or a dropped crop; else the reckoning itself.
func (c *comparison) causes(ch Change) []Cause {
	k := ch.Key
	if ch.Was == nil || ch.Now == nil {
		if own := c.appeared(ch); own != nil {
			return own
		}
	}
	var out []Cause
	out = append(out, c.planCauses(k)...)
	out = append(out, c.bandCauses(k.Band)...)
	out = append(out, c.all...)
	if len(out) == 0 {
		out = append(out, Cause{Kind: Unexplained})
	}
	return out
}

// appeared names what a row alone can say of why it is new or gone: its band, its crop or
// its covers are. nil where it cannot.
func (c *comparison) appeared(ch Change) []Cause {
	k := ch.Key
	name := ""
	if ch.Was != nil {
		name = ch.Was.Name
	} else {
		name = ch.Now.Name
	}
	here, gone := c.now, c.before
	if ch.Now == nil {
		here, gone = c.before, c.now
	}
	word := func(isNew bool, x string) (was, now string) {
		if isNew {
			return "", x
		}
		return x, ""
	}
	if _, ok := catalog.PartOf(gone.Bands, k.Band); !ok {
		p, _ := catalog.PartOf(here.Bands, k.Band)
		was, now := word(ch.Now != nil, p.Name)
		return []Cause{{Kind: ByNewBand, Of: k.Band, Name: p.Name, Was: was, Now: now}}
	}
	if gone.FiguresOf(catalog.EditionKey{Crop: k.Crop, Band: k.Band}) == nil {
		was, now := word(ch.Now != nil, name)
		cell := ""
		if f := here.FiguresOf(catalog.EditionKey{Crop: k.Crop, Band: k.Band}); len(f) > 0 {
			cell = figureNamed(f, "start").Cell
		}
		return []Cause{{Kind: ByCrop, Of: k.Crop, Name: name, Was: was, Now: now, Cell: cell}}
	}
	if k.Layers == "" {
		return nil
	}
	was, now := coversOf(c.before, k), coversOf(c.now, k)
	if was == now {
		return nil
	}
	out := c.planCauses(catalog.EditionKey{Band: k.Band, Crop: k.Crop})
	out = append(out, c.coverCauses(was, now, k)...)
	out = append(out, c.bandCauses(k.Band)...)
	out = append(out, c.all...)
	return append([]Cause{{Kind: ByCovers, Of: k.Crop, Name: name, Was: was, Now: now}}, out...)
}

// coverCauses are the figures that changed of the covers a crop was planned with and of
// those it is planned with now. Each edition has the crop under one of them only, so the
// other's figures are taken from any crop under the same cover.
func (c *comparison) coverCauses(was, now string, k catalog.EditionKey) []Cause {
	var out []Cause
	for _, layers := range []string{was, now} {
		for _, f := range c.before.FiguresOf(catalog.EditionKey{Band: k.Band, Crop: k.Crop, Layers: layers}) {
			out = append(out, c.coverCause(f, c.coverFigure(c.now, f.Name, k.Band), f.Name)...)
		}
		for _, g := range c.now.FiguresOf(catalog.EditionKey{Band: k.Band, Crop: k.Crop, Layers: layers}) {
			out = append(out, c.coverCause(c.coverFigure(c.before, g.Name, k.Band), g, g.Name)...)
		}
	}
	slices.SortFunc(out, compareCauses)
	return slices.Compact(out)
}

func (c *comparison) coverCause(was, now catalog.EditionFigure, name string) []Cause {
	_, cover, ok := strings.Cut(name, " of ")
	if !ok || was.Name == "" || now.Name == "" || was.Value == now.Value {
		return nil
	}
	x := difference{name, was, now}.cause(ByFigure, cover, "")
	return []Cause{x}
}

// coverFigure is a figure of a cover ("gain_low_k of tunnel") in a band of an edition; no
// figure where no crop is planned with the cover there.
func (c *comparison) coverFigure(e *catalog.Edition, name, band string) catalog.EditionFigure {
	if !strings.Contains(name, " of ") {
		return catalog.EditionFigure{}
	}
	for i := range e.Plans {
		if p := &e.Plans[i]; p.Band == "" || p.Band == band {
			if f := figureNamed(p.Figures, name); f.Name != "" {
				return f
			}
		}
	}
	return catalog.EditionFigure{}
}

// coversOf is the covers that an edition's sheet plans a crop with; "" = open ground.
func coversOf(e *catalog.Edition, k catalog.EditionKey) string {
	i, _ := slices.BinarySearchFunc(e.Rows, catalog.EditionKey{Band: k.Band, Crop: k.Crop, Layers: "\x00"}, func(r catalog.EditionRow, k catalog.EditionKey) int { return r.Compare(k) })
	if i < len(e.Rows) && e.Rows[i].Band == k.Band && e.Rows[i].Crop == k.Crop {
		return e.Rows[i].Layers
	}
	return ""
}

func (c *comparison) planCauses(k catalog.EditionKey) []Cause {
	key := planKey3{k.Band, k.Crop, k.Layers}
	if out, ok := c.plans[key]; ok {
		return out
	}
	var out []Cause
	was, now := c.before.FiguresOf(k), c.now.FiguresOf(k)
	if was != nil && now != nil {
		for _, d := range differences(was, now) {
			x := d.cause(ByFigure, k.Crop, "")
			if _, cover, ok := strings.Cut(d.name, " of "); ok {
				x.Of = cover
			} else if strings.Contains(x.Cell, "/classes.csv") {
				x.Of = "" // one cell, many crops
			}
			out = append(out, x)
		}
	}
	c.plans[key] = out
	return out
}

func (c *comparison) bandCauses(band string) []Cause {
	if out, ok := c.parts[band]; ok {
		return out
	}
	var out []Cause
	was, a := catalog.PartOf(c.before.Bands, band)
	now, b := catalog.PartOf(c.now.Bands, band)
	if a && b {
		for _, d := range differences(was.Figures, now.Figures) {
			out = append(out, d.cause(ByBand, band, now.Name))
		}
	}
	c.parts[band] = out
	return out
}

// difference is a figure that has another value, or is given in one edition only.
type difference struct {
	name     string
	was, now catalog.EditionFigure
}

func (d difference) cause(kind CauseKind, of, name string) Cause {
	cell := d.now.Cell
	if cell == "" {
		cell = d.was.Cell
	}
	return Cause{Kind: kind, Of: of, Name: name, Figure: d.name, Was: d.was.Value, Now: d.now.Value, Cell: cell}
}

// differences of two lists of figures by name. A figure that stands in another cell with
// the same value is none.
func differences(was, now []catalog.EditionFigure) []difference {
	var out []difference
	for _, f := range was {
		if g := figureNamed(now, f.Name); g.Value != f.Value {
			out = append(out, difference{f.Name, f, g})
		}
	}
	for _, g := range now {
		if figureNamed(was, g.Name).Name == "" {
			out = append(out, difference{g.Name, catalog.EditionFigure{}, g})
		}
	}
	return out
}

func figureNamed(list []catalog.EditionFigure, name string) catalog.EditionFigure {
	if i := slices.IndexFunc(list, func(f catalog.EditionFigure) bool { return f.Name == name }); i >= 0 {
		return list[i]
	}
	return catalog.EditionFigure{}
}

// pair is a station in both editions, or in one.
type pair struct{ was, now catalog.EditionPart }

func (p pair) id() string { return cmp.Or(p.now.ID, p.was.ID) }

func (p pair) name() string { return cmp.Or(p.now.Name, p.was.Name) }

func pairs(before, now []catalog.EditionPart) []pair {
	var out []pair
	for _, w := range before {
		n, _ := catalog.PartOf(now, w.ID)
		out = append(out, pair{w, n})
	}
	for _, n := range now {
		if _, ok := catalog.PartOf(before, n.ID); !ok {
			out = append(out, pair{now: n})
		}
	}
	return out
}

// String is a cause for tables and terminals: "young_damage_c of tomato: was 0 C, now
// 1 C, data/crops.csv:M3".
func (c Cause) String() string {
	what := c.Figure
	of := c.Of
	if c.Name != "" {
		of = c.Name
	}
	switch c.Kind {
	case ByFigure:
		what, _, _ = strings.Cut(what, " of ")
		if c.Of != "" {
			what += " of " + c.Of
		}
	case ByRecord:
		what = "the record of " + of
	case ByStation:
		what += " of the station " + of
	case ByBand:
		what += " of the band " + of
	case ByGuide:
		what = "the setting " + what
	case ByProgram:
		what = "the program's version"
	case ByCovers:
		what = "the covers that sheets plan " + of + " with"
	case ByCrop:
		what = "the crop " + of
	case ByNewBand:
		what = "the band " + of
	case Unexplained:
		return "the reckoning: no figure that editions keep is different"
	}
	was, now := c.Was, c.Now
	nothing := "none"
	if c.Kind == ByCovers {
		nothing = "open ground"
	}
	if was == "" {
		was = nothing
	}
	if now == "" {
		now = nothing
	}
	text := what + ": was " + was + ", now " + now
	if c.Cell != "" {
		text += ", " + c.Cell
	}
	return text
}
