package catalog

import (
	"cmp"
	"slices"
	"sort"
	"strings"

	"shedwall/cmd/shedwall/internal/figure"
	"shedwall/cmd/shedwall/internal/quantity"
)

// Edition is a file data/editions/N.csv: what edition N printed on its sheets and
// calendars, with the figures behind it. Every list is sorted: see Sort.
type Edition struct {
	Number int
	Date   string // of the edition, YYYY-MM-DD
	File   string // where it was read from; "" = made just now

	Guide    []EditionFigure // of the whole guide: the program's version, the years, the warming
	Stations []EditionPart
	Bands    []EditionPart
	Plans    []EditionPlan
	Sheets   []EditionSheet
	Rows     []EditionRow
}

// EditionFigure is one figure behind dates: its name (a column heading, or "record"), its
// value as text with its unit, and the cell it stood in, as "data/crops.csv:E14".
type EditionFigure struct{ Name, Value, Cell string }

// EditionPart is a station or a band with its figures.
type EditionPart struct {
	ID, Name string
	Figures  []EditionFigure
}

// EditionPlan is the figures behind the dates of a crop under a set of covers. Band is ""
// where they are the same in every band, as they are for all but structures, whose gains
// are worked out for each.
type EditionPlan struct {
	Crop, Layers, Band string
	Figures            []EditionFigure
}

// EditionSheet is a printed page with its code. Path is its address without extension; Rows
// are the codes of the crops whose dates it prints, nil for a page that is no calendar.
type EditionSheet struct {
	Band, Path, Name, Code string
	Rows                   []string
}

// Prints says whether a sheet prints a row: one of its band that it has, at the odds of
// sheets, which is 1 year in 10.
func (s EditionSheet) Prints(r *EditionRow) bool {
	return r != nil && r.Percent == 10 && r.Band == s.Band && r.Code != "" && slices.Contains(s.Rows, r.Code)
}

// EditionKey names one date of a guide in every edition: an action of a crop in a band,
// under covers ("" = open ground), at odds in percent.
type EditionKey struct {
	Band, Crop, Layers string
	Percent            int
	Action             string
}

// Compare orders keys by band, crop, covers, odds and action.
func (k EditionKey) Compare(o EditionKey) int { return k.compare(&o) }

// compare is Compare of keys where they lie: an edition has some ten thousand, and looks at no
// more of them than tells them apart.
func (k *EditionKey) compare(o *EditionKey) int {
	if c := strings.Compare(k.Band, o.Band); c != 0 {
		return c
	}
	if c := strings.Compare(k.Crop, o.Crop); c != 0 {
		return c
	}
	if c := strings.Compare(k.Layers, o.Layers); c != 0 {
		return c
	}
	if c := cmp.Compare(k.Percent, o.Percent); c != 0 {
		return c
	}
	return strings.Compare(k.Action, o.Action)
}

// EditionRow is one window as printed. Sheet and Code say where: the sheet's code and the
// crop's row on it ("B4"), "" where no sheet has the crop. Name is the crop's name.
// Sequence counts how often the window has moved since editions are kept.
type EditionRow struct {
	EditionKey
	From, To    EditionBound
	Sheet, Code string
	Name        string
	Sequence    int
}

// EditionBound is one end of a window. Date holds in the state Dated only; Gate is what
// held it there, or what leaves no date.
type EditionBound struct {
	State EditionState
	Date  quantity.MonthDay
	Gate  string
}

// EditionState says what stands where a date could be.
type EditionState string

// The states, as they are written in the file.
const (
	EditionDated    EditionState = "dated"
	EditionOpen     EditionState = "open"
	EditionNever    EditionState = "never"
	EditionNotKnown EditionState = "not-known"
)

// CellName is a cell as editions write it: "data/crops.csv:E14"; a place without a cell is
// named by its line, one without a line by its file, no place by "".
func CellName(c figure.Cell) string {
	switch {
	case c.File == "":
		return ""
	case c.Cell != "":
		return c.File + ":" + c.Cell
	}
	return figure.Cell{File: c.File, Line: c.Line}.String()
}

// Sort puts every list into the order in which files hold it.
func (e *Edition) Sort() {
	part := func(a, b EditionPart) int { return cmp.Compare(a.ID, b.ID) }
	slices.SortStableFunc(e.Stations, part)
	slices.SortStableFunc(e.Bands, part)
	slices.SortStableFunc(e.Plans, EditionPlan.compare)
	slices.SortStableFunc(e.Sheets, func(a, b EditionSheet) int { return cmp.Or(cmp.Compare(a.Band, b.Band), cmp.Compare(a.Path, b.Path)) })
	e.sortRows()
}

// sortRows moves no row that lies in order. A row is long: where any does not, its place is
// moved about in its stead.
func (e *Edition) sortRows() {
	inOrder := true
	order := make([]*EditionRow, len(e.Rows))
	for i := range e.Rows {
		order[i] = &e.Rows[i]
		inOrder = inOrder && (i == 0 || e.Rows[i-1].compare(&e.Rows[i].EditionKey) <= 0)
	}
	if inOrder {
		return
	}
	slices.SortStableFunc(order, func(a, b *EditionRow) int { return a.compare(&b.EditionKey) })
	sorted := make([]EditionRow, len(order))
	for i, r := range order {
		sorted[i] = *r
	}
	e.Rows = sorted
}

func (p EditionPlan) compare(o EditionPlan) int {
	return cmp.Or(cmp.Compare(p.Crop, o.Crop), cmp.Compare(p.Layers, o.Layers), cmp.Compare(p.Band, o.Band))
}

// Find is the window of a key, and whether the edition has one. The edition must be
// sorted.
func (e *Edition) Find(k EditionKey) (EditionRow, bool) {
	if e == nil {
		return EditionRow{}, false
	}
	if r := FindRow(e.Rows, &k); r != nil {
		return *r, true
	}
	return EditionRow{}, false
}

// FindRow is the window of a key among sorted rows; nil where there is none.
func FindRow(rows []EditionRow, k *EditionKey) *EditionRow {
	i := sort.Search(len(rows), func(i int) bool { return rows[i].compare(k) >= 0 })
	if i == len(rows) || rows[i].EditionKey != *k {
		return nil
	}
	return &rows[i]
}

// RowsOf is the windows of a crop in a band, of every crop for "". The edition must be
// sorted.
func (e *Edition) RowsOf(band, crop string) []EditionRow {
	if e == nil {
		return nil
	}
	compare := func(i int) int {
		if c := strings.Compare(e.Rows[i].Band, band); c != 0 || crop == "" {
			return c
		}
		return strings.Compare(e.Rows[i].Crop, crop)
	}
	from := sort.Search(len(e.Rows), func(i int) bool { return compare(i) >= 0 })
	n := sort.Search(len(e.Rows)-from, func(i int) bool { return compare(from+i) > 0 })
	return e.Rows[from : from+n]
}

// FiguresOf is the figures of a crop under covers in a band. The edition must be sorted.
func (e *Edition) FiguresOf(k EditionKey) []EditionFigure {
	for _, band := range []string{k.Band, ""} {
		p := EditionPlan{Crop: k.Crop, Layers: k.Layers, Band: band}
		if i, ok := slices.BinarySearchFunc(e.Plans, p, EditionPlan.compare); ok {
			return e.Plans[i].Figures
		}
	}
	return nil
}

// PartOf is the figures of a station or band, and whether there is one of that id.
func PartOf(parts []EditionPart, id string) (EditionPart, bool) {
	if i := slices.IndexFunc(parts, func(p EditionPart) bool { return p.ID == id }); i >= 0 {
		return parts[i], true
	}
	return EditionPart{}, false
}

// EditionHeads are the columns of data/editions/N.csv, EditionKinds what its rows are:
// the edition itself, a station, a band, the figures of a crop under covers, a printed
// page, a window.
var (
	EditionHeads = []string{"kind", "band", "crop", "covers", "odds_percent", "action", "from", "from_held_by", "to", "to_held_by", "sheet", "row", "moved", "name", "figures"}
	EditionKinds = []string{"edition", "station", "band", "figures", "sheet", "date"}
)

// EditionCell is a text as it is written into a kept edition: an apostrophe before what a
// spreadsheet would run as a formula, and before a text that begins with such apostrophes.
// Lines end in LF: readers of tables take others for one.
func EditionCell(text string) string {
	text = oneLineEnd(text)
	if formula(strings.TrimLeft(text, "'")) {
		return "'" + text
	}
	return text
}

// EditionText is the text that EditionCell made a cell of.
func EditionText(cell string) string {
	cell = oneLineEnd(cell)
	if text, guarded := strings.CutPrefix(cell, "'"); guarded && formula(strings.TrimLeft(text, "'")) {
		return text
	}
	return cell
}

var lineEnds = strings.NewReplacer("\r\n", "\n", "\r", "\n")

// oneLineEnd is a text with ends of line of one kind; an edition has tens of thousands
// without any, of which none is copied.
func oneLineEnd(text string) string {
	if strings.IndexByte(text, '\r') < 0 {
		return text
	}
	return lineEnds.Replace(text)
}

func formula(s string) bool { return s != "" && strings.ContainsRune("=+-@\t", rune(s[0])) }
