package intake

import (
	"fmt"
	"strings"

	"shedwall/cmd/shedwall/internal/diag"
	"shedwall/cmd/shedwall/internal/figure"
	"shedwall/cmd/shedwall/internal/table"
)

// layout says how rows of type T are told apart and joined.
type layout[T any] struct {
	name   string                                    // of the table, without .csv
	key    func(row *T) table.Cell                   // the cell that identifies a row
	id     func(row *T, known []string) string       // its id, "" with a fault where there is none
	source func(row *T) table.Cell                   // nil where figures have no source
	use    func(row *T) table.Cell                   // nil where rows cannot be dropped
	open   func(heading string) bool                 // further headings
	drop   func(id string, row *T, at diag.Position) // told about a dropped row; may be nil
	own    bool                                      // there need be no built-in table
	all    bool                                      // rows without a good id are kept too, with none, so that their other cells are looked at
	ahead  func() []T                                // the built-in rows, where they are being read already
}

// ahead begins to read the built-in rows of a large table, beside what its caller does next.
// Their faults join the others when done is called.
func ahead[T any](l *loader, lay layout[T]) (_ layout[T], done func()) {
	var own diag.List
	beside := *l
	beside.faults = &own
	rows := make(chan []T, 1)
	go func() { rows <- readBuiltIn(&beside, lay) }()
	early := lay
	early.ahead = func() []T { return <-rows }
	return early, func() { l.faults.Merge(own) }
}

// readBuiltIn is the rows of the program's own table.
func readBuiltIn[T any](l *loader, lay layout[T]) []T {
	n := required
	if lay.own {
		n = optional
	}
	return read[T](l, lay.name, figure.BuiltIn, n, table.Spec{Open: lay.open})
}

// joined is a row after the publisher's cells were laid over the built-in ones.
type joined[T any] struct {
	id  string
	row T
	own bool // the row is only in the publisher's table
}

// overlay reads a table twice, built-in and the publisher's, and joins the rows
// cell by cell.
func overlay[T any](l *loader, lay layout[T]) []joined[T] {
	if lay.ahead == nil {
		lay.ahead = func() []T { return readBuiltIn(l, lay) }
	}
	out := identify(l, lay, lay.ahead(), nil)
	index := map[string]int{}
	known := make([]string, len(out))
	for i, j := range out {
		index[j.id], known[i] = i, j.id
		cite(l, lay, j.id, &out[i].row, figure.BuiltIn)
	}
	l.builtin[lay.name] = known
	for _, j := range identify(l, lay, read[T](l, lay.name, figure.Own, optional, table.Spec{Open: lay.open}), known) {
		cite(l, lay, j.id, &j.row, figure.Own)
		if i, there := index[j.id]; there {
			out[i].row = table.Over(j.row, out[i].row)
			continue
		}
		j.own = true
		index[j.id] = len(out)
		out = append(out, j)
	}
	kept := out[:0]
	for _, j := range out {
		l.except(lay.name, j.id, &j.row, figure.Own)
		l.remember(lay.name, j.id, &j.row)
		l.rememberText(lay.name, j.id, &j.row)
		if lay.use != nil {
			if use, said := lay.use(&j.row).YesNo().Get(); said && !use {
				if lay.drop != nil {
					lay.drop(j.id, &j.row, lay.use(&j.row).At())
				}
				continue
			}
		}
		kept = append(kept, j)
	}
	return kept
}

// identify gives each row its id and leaves out rows without one and rows whose
// id stands above already, with a fault; a layout that wants all keeps them without an id.
func identify[T any](l *loader, lay layout[T], rows []T, known []string) []joined[T] {
	var out []joined[T]
	seen := map[string]int{}
	for i := range rows {
		id := lay.id(&rows[i], known)
		if first, twice := seen[id]; twice && id != "" {
			repeated(lay.key(&rows[i]), lay.key(&rows[first]).At())
			id = ""
		}
		if id == "" && !lay.all {
			continue
		}
		seen[id] = i
		out = append(out, joined[T]{id: id, row: rows[i]})
	}
	return out
}

// repeated reports a row that stands twice in one table.
func repeated(c table.Cell, first diag.Position) {
	c.Fault("id-repeated", fmt.Sprintf("%q stands on line %d already", c.Text(), first.Line), "each row once",
		"delete one of the two rows, or put their cells together; only the first was read")
}

// newRow says whether a row that is only in the publisher's table can be used. A
// row with nothing but its id is a remark; one without the cells that a new row
// needs is a fault: most often its id is a mistyped built-in one.
func (l *loader) newRow(name string, key table.Cell, row any, needs ...table.Cell) bool {
	filled := 0
	table.Each(row, func(c *table.Cell) {
		if !c.Blank() {
			filled++
		}
	})
	if filled == 1 {
		key.Note("row-note", fmt.Sprintf("%q is no built-in row and has nothing beside it: not imported", key.Text()))
		return false
	}
	var missing []string
	for _, c := range needs {
		if c.Text() == "" {
			missing = append(missing, c.Heading())
		}
	}
	if len(missing) == 0 {
		return true
	}
	cure := "fill them in"
	if near := diag.Nearest(strings.ToLower(key.Text()), l.builtin[name]); near != "" {
		cure = fmt.Sprintf("did you mean %q? else fill them in", near)
	}
	key.Fault("row-incomplete", fmt.Sprintf("%q is not among the built-in %s and lacks %s", key.Text(), name, strings.Join(missing, ", ")),
		"a row that a new one can be made from", cure)
	return false
}
