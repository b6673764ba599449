package edition

import (
	"slices"
	"strings"
	"sync"

	"shedwall/cmd/shedwall/internal/band"
	"shedwall/cmd/shedwall/internal/catalog"
	"shedwall/cmd/shedwall/internal/cover"
	"shedwall/cmd/shedwall/internal/plan"
	"shedwall/cmd/shedwall/internal/quantity"
)

// Ledger gathers an edition while its bands are planned. Bands may be added by several
// goroutines at once and in any order: the edition is the same.
type Ledger struct {
	tables *catalog.Tables
	region *band.Region
	book   cover.Book
	seeds  map[string]string // germination id -> what its table says, for short
	before *catalog.Edition

	mu     sync.Mutex
	e      catalog.Edition                    // without rows
	rows   [][]catalog.EditionRow             // by band
	shared map[string][]catalog.EditionFigure // figures by their text, kept once
	plans  map[planKey]map[string][]catalog.EditionFigure

	everywhere map[planKey]textedFigures // that are the same in every band

	told  sync.Once
	moved *Moved
}

type planKey struct{ crop, layers string }

// Printed is where a band's sheets have a crop: the code of the sheet and the crop's row on it.
type Printed struct{ Sheet, Code string }

// NewLedger begins the ledger of a guide's present edition. Version is the program's; before
// is the edition that sequences go on from, nil = none.
func NewLedger(t *catalog.Tables, region *band.Region, version string, before *catalog.Edition) *Ledger {
	l := &Ledger{tables: t, region: region, book: cover.NewBook(t), seeds: seedTables(t), before: before,
		shared: map[string][]catalog.EditionFigure{}, plans: map[planKey]map[string][]catalog.EditionFigure{}, everywhere: map[planKey]textedFigures{}}
	g := &t.Guide
	l.e.Number = g.Edition
	l.e.Date = isoDate(g.EditionDate)
	l.e.Guide = guideFigures(g, version)
	for i := range t.Stations {
		s := &t.Stations[i]
		l.e.Stations = append(l.e.Stations, catalog.EditionPart{ID: s.ID, Name: nameOr(s.Name, s.ID), Figures: l.stationFigures(s)})
	}
	return l
}

func nameOr(name, id string) string {
	if name == "" {
		return id
	}
	return name
}

// Band adds what is printed of a band: of every crop the dates in open ground and under
// the covers that its sheet plans with. chosen gives those covers ("" = none), printed
// where the crop stands.
func (l *Ledger) Band(row *catalog.Band, plans []plan.CropPlan, chosen func(*plan.CropPlan) string, printed map[string]Printed, sheets []catalog.EditionSheet) {
	part := catalog.EditionPart{ID: row.ID, Name: nameOr(row.Name, row.ID), Figures: bandFigures(row)}
	rows := make([]catalog.EditionRow, 0, rowsOfCrop*len(plans))
	figures := make(map[planKey]textedFigures, 2*len(plans))
	for _, p := range byCrop(plans) {
		covers, before := chosen(p), l.before.RowsOf(row.ID, p.Crop.ID)
		for j := range p.Layers {
			lp := &p.Layers[j]
			if lp.Layers != "" && lp.Layers != covers {
				continue
			}
			rows = l.addRows(rows, row.ID, p, lp, printed[p.Crop.ID], before)
			figures[planKey{p.Crop.ID, lp.Layers}] = l.figuresOf(p.Crop, lp)
		}
	}
	l.mu.Lock()
	defer l.mu.Unlock()
	l.e.Bands = append(l.e.Bands, part)
	l.rows = append(l.rows, rows)
	l.e.Sheets = append(l.e.Sheets, sheets...)
	for k, f := range figures {
		if l.plans[k] == nil {
			l.plans[k] = map[string][]catalog.EditionFigure{}
		}
		if l.shared[f.text] == nil {
			l.shared[f.text] = f.figures
		}
		l.plans[k][row.ID] = l.shared[f.text]
	}
}

// byCrop is plans in the order in which editions have their crops.
func byCrop(plans []plan.CropPlan) []*plan.CropPlan {
	out := make([]*plan.CropPlan, len(plans))
	for i := range plans {
		out[i] = &plans[i]
	}
	slices.SortStableFunc(out, func(a, b *plan.CropPlan) int { return strings.Compare(a.Crop.ID, b.Crop.ID) })
	return out
}

// textedFigures are figures with their text.
type textedFigures struct {
	figures []catalog.EditionFigure
	text    string
}

// figuresOf is planFigures, worked out once where they are the same in every band.
func (l *Ledger) figuresOf(c *catalog.Crop, lp *plan.LayerPlan) textedFigures {
	texted := func() textedFigures {
		f := l.planFigures(c, lp)
		return textedFigures{f, textOf(f)}
	}
	if l.ofBand(lp.Layers) {
		return texted()
	}
	key := planKey{c.ID, lp.Layers}
	l.mu.Lock()
	f, ok := l.everywhere[key]
	l.mu.Unlock()
	if ok {
		return f
	}
	f = texted()
	l.mu.Lock()
	defer l.mu.Unlock()
	l.everywhere[key] = f
	return f
}

// Sheets adds printed pages in a further language.
func (l *Ledger) Sheets(sheets []catalog.EditionSheet) {
	l.mu.Lock()
	defer l.mu.Unlock()
	l.e.Sheets = append(l.e.Sheets, sheets...)
}

// Has says whether a band was added.
func (l *Ledger) Has(band string) bool {
	l.mu.Lock()
	defer l.mu.Unlock()
	return slices.ContainsFunc(l.e.Bands, func(p catalog.EditionPart) bool { return p.ID == band })
}

// Edition is the ledger of all bands added, sorted.
func (l *Ledger) Edition() *catalog.Edition {
	l.mu.Lock()
	defer l.mu.Unlock()
	e := l.e
	e.Bands, e.Rows, e.Sheets = slices.Clone(l.e.Bands), slices.Concat(l.rows...), slices.Clone(l.e.Sheets)
	for k, by := range l.plans {
		for band, f := range by {
			p := catalog.EditionPlan{Crop: k.crop, Layers: k.layers, Band: band, Figures: f}
			if sameEverywhere(by) {
				p.Band = ""
			}
			e.Plans = append(e.Plans, p)
			if p.Band == "" {
				break
			}
		}
	}
	e.Sort()
	return &e
}

// Moved is what became of the edition that readers hold: of kept, that of the present
// number, where it was printed and something changed since (keeping: it is being kept
// now), else of the one before; of the first one that was kept nothing may have moved. nil
// where none was kept. It is asked when every band was added, and worked out once for all
// languages.
func (l *Ledger) Moved(previous, kept *catalog.Edition, keeping bool) *Moved {
	l.told.Do(func() {
		now := l.Edition()
		if kept == nil && keeping {
			kept = now
		}
		if kept != nil {
			l.moved = Compare(kept, now)
		}
		if previous != nil && (l.moved == nil || len(l.moved.Changes) == 0) {
			l.moved = Compare(previous, now)
		}
	})
	return l.moved
}

// sameEverywhere says whether the bands share one list of figures.
func sameEverywhere(by map[string][]catalog.EditionFigure) bool {
	var first *catalog.EditionFigure
	for _, f := range by {
		switch {
		case len(f) == 0:
			continue
		case first == nil:
			first = &f[0]
		case first != &f[0]:
			return false
		}
	}
	return true
}

// rowsOfCrop is about how many windows a crop has, in open ground and under its covers.
const rowsOfCrop = 8

// actions is plan.Actions in the order in which editions have them.
var actions = slices.Sorted(slices.Values(plan.Actions))

// addRows adds the windows of a crop under one set of covers, at both odds; before is those of
// the crop in the edition before.
func (l *Ledger) addRows(out []catalog.EditionRow, bandID string, p *plan.CropPlan, lp *plan.LayerPlan, at Printed, before []catalog.EditionRow) []catalog.EditionRow {
	for _, odds := range []quantity.Odds{quantity.Careful, quantity.Half} {
		for _, a := range actions {
			w := lp.Window(odds, a)
			if w == nil {
				continue
			}
			r := catalog.EditionRow{
				EditionKey: KeyOf(bandID, p.Crop.ID, lp.Layers, odds, a),
				From:       l.bound(w.From), To: l.bound(w.To), Sheet: at.Sheet, Code: at.Code, Name: p.Crop.Name,
			}
			r.Sequence = sequence(before, &r)
			out = append(out, r)
		}
	}
	return out
}

// KeyOf is the key of a window of a plan.
func KeyOf(bandID, crop, layers string, odds quantity.Odds, a plan.Action) catalog.EditionKey {
	return catalog.EditionKey{Band: bandID, Crop: crop, Layers: layers, Percent: int(odds*100 + 0.5), Action: string(a)}
}

// sequence counts on from the edition before: one more where the window moved.
func sequence(before []catalog.EditionRow, r *catalog.EditionRow) int {
	was := catalog.FindRow(before, &r.EditionKey)
	switch {
	case was == nil:
		return 0
	case SameDates(was, r):
		return was.Sequence
	}
	return was.Sequence + 1
}

// SameDates says whether two rows of one key say the same to a gardener: the dates, or
// that there are none. What holds a date is not asked.
func SameDates(a, b *catalog.EditionRow) bool {
	return sameBound(a.From, b.From) && sameBound(a.To, b.To)
}

func sameBound(a, b catalog.EditionBound) bool {
	return a.State == b.State && (a.State != catalog.EditionDated || a.Date == b.Date)
}

func (l *Ledger) bound(x plan.Bound) catalog.EditionBound {
	b := catalog.EditionBound{Gate: x.Gate.String()}
	if x.AtLeast {
		return catalog.EditionBound{State: catalog.EditionNotKnown}
	}
	switch x.State {
	case plan.Dated:
		b.State, b.Date = catalog.EditionDated, l.region.Hemisphere.MonthDay(x.Slot)
	case plan.Open:
		b.State, b.Gate = catalog.EditionOpen, ""
	case plan.Never:
		b.State = catalog.EditionNever
	default:
		b.State, b.Gate = catalog.EditionNotKnown, ""
	}
	return b
}

// textOf is a list of figures as one text, as files hold it.
func textOf(f []catalog.EditionFigure) string {
	parts := make([]string, len(f))
	for i, x := range f {
		parts[i] = x.Name + " = " + x.Value
		if x.Cell != "" {
			parts[i] += " @ " + x.Cell
		}
	}
	return strings.Join(parts, "; ")
}
