package intake

import (
	"fmt"
	"maps"
	"slices"
	"strings"

	"shedwall/cmd/shedwall/internal/catalog"
	"shedwall/cmd/shedwall/internal/diag"
	"shedwall/cmd/shedwall/internal/figure"
	"shedwall/cmd/shedwall/internal/table"
)

type sourceRow struct {
	Source       table.Cell `csv:"source" table:"key"`
	Kind         table.Cell `csv:"kind"`
	Organisation table.Cell `csv:"organisation"`
	Title        table.Cell `csv:"title"`
	Year         table.Cell `csv:"year"`
	Address      table.Cell `csv:"address"`
	Read         table.Cell `csv:"read"`
}

var sourceKinds = []string{"extension", "handbook", "fao", "paper", "records", "grower", "trade", "practice", "memory", "own"}

func (l *loader) readSources(t *catalog.Tables) {
	for _, j := range overlay(l, layout[sourceRow]{
		name: "sources",
		key:  func(r *sourceRow) table.Cell { return r.Source },
		id:   func(r *sourceRow, known []string) string { return r.Source.KeyID(known) },
	}) {
		r := j.row
		if j.own {
			mustHave(r.Kind, "one of "+strings.Join(sourceKinds, ", "))
			mustHave(r.Title, "the title of the source")
		}
		l.sources[j.id] = true
		t.Sources = append(t.Sources, catalog.Source{
			ID: j.id, Kind: r.Kind.Word(sourceKinds...), Organisation: r.Organisation.Text(), Title: r.Title.Text(), Year: r.Year.Text(),
			Address: webAddress(r.Address), Read: r.Read.Text(), Cell: r.Source.At(),
		})
	}
	l.sourceIDs = slices.Sorted(maps.Keys(l.sources))
}

// mustHave reports a cell that a new row cannot do without.
func mustHave(c table.Cell, what string) {
	if c.Text() == "" {
		c.Missing(what)
	}
}

// webAddress is an address that a page may link to, "" with a fault for any
// other: javascript: and file: would be run or opened by the reader.
func webAddress(c table.Cell) string {
	a := c.Text()
	if a == "" || strings.HasPrefix(a, "https://") || strings.HasPrefix(a, "http://") {
		return a
	}
	c.Fault("address-unsafe", fmt.Sprintf("%q is not a web address", a), "an address that starts with https:// or http://", "write the whole address, or leave the cell empty")
	return ""
}

// citeRow gives the figures of a row their source: the row's, or that of an
// exception in the same owner's exceptions.csv.
func (l *loader) citeRow(name, id string, row any, source table.Cell, owner figure.Owner) {
	s := source.ID(l.sourceIDs)
	if s != "" {
		l.mustKnowSource(source, s)
	}
	table.Each(row, func(c *table.Cell) { *c = c.From(s) })
	l.except(name, id, row, owner)
}

func cite[T any](l *loader, lay layout[T], id string, row *T, owner figure.Owner) {
	if lay.source != nil {
		l.citeRow(lay.name, id, row, lay.source(row), owner)
	}
}

func (l *loader) mustKnowSource(c table.Cell, id string) {
	if l.sources[id] {
		return
	}
	cure := "add the source to sources.csv"
	if near := diag.Nearest(id, l.sourceIDs); near != "" {
		cure = fmt.Sprintf("did you mean %q? else %s", near, cure)
	}
	c.Fault("source-unknown", fmt.Sprintf("%q is not in sources.csv", id), "the id of a source", cure)
}

// exceptionRow is a row of exceptions.csv: the source of a single cell.
type exceptionRow struct {
	Table  table.Cell `csv:"table" table:"name"`
	Row    table.Cell `csv:"row" table:"required"`
	Column table.Cell `csv:"column" table:"required"`
	Source table.Cell `csv:"source" table:"required"`
	Note   table.Cell `csv:"note"`
}

type exception struct {
	row    exceptionRow
	name   [3]string // table, row, heading
	source string
	used   bool
}

// readExceptions reads both owners' exceptions: a built-in exception is about a
// built-in cell, one of the publisher's about whichever cell stands in the end.
func (l *loader) readExceptions() {
	for _, owner := range []figure.Owner{figure.BuiltIn, figure.Own} {
		for _, r := range read[exceptionRow](l, "exceptions", owner, optional, table.Spec{}) {
			name := [3]string{
				strings.TrimSuffix(strings.ToLower(r.Table.Require("a table's name, such as crops")), ".csv"),
				strings.Join(r.Row.IDs("+", nil), "+"),
				strings.ToLower(r.Column.Require("a heading of that table")),
			}
			mustHave(r.Row, "the id of a row of that table")
			mustHave(r.Source, "the id of a source")
			e := &exception{row: r, name: name, source: r.Source.ID(l.sourceIDs)}
			if e.source == "" || name[0] == "" || name[1] == "" || name[2] == "" {
				continue
			}
			l.mustKnowSource(r.Source, e.source)
			if first, twice := l.exceptions[owner][name]; twice {
				r.Row.Fault("id-repeated", fmt.Sprintf("this cell has an exception on line %d already", first.row.Row.At().Line), "one exception a cell", "delete one of the two rows")
				continue
			}
			l.exceptions[owner][name] = e
			l.inOrder = append(l.inOrder, e)
		}
	}
}

// except puts the sources of an owner's exceptions into a row.
func (l *loader) except(name, id string, row any, owner figure.Owner) {
	all := l.exceptions[owner]
	if len(all) == 0 {
		return
	}
	table.Each(row, func(c *table.Cell) {
		for _, h := range c.Headings() {
			if e := all[[3]string{name, id, h}]; e != nil {
				*c = c.From(e.source)
				e.used = true
			}
		}
	})
}

// remember keeps what exceptions may name.
func (l *loader) remember(name, id string, row any) {
	s := l.shapes[name]
	if s == nil {
		s = &shape{rows: map[string]bool{}}
		l.shapes[name] = s
		table.Each(row, func(c *table.Cell) { s.headings = append(s.headings, c.Headings()...) })
	}
	s.rows[id] = true
}

// unusedExceptions reports exceptions that name no cell of any table.
func (l *loader) unusedExceptions() {
	for _, e := range l.inOrder {
		s := l.shapes[e.name[0]]
		switch {
		case e.used:
		case s == nil:
			noSuch(e.row.Table, e.name[0], "table with figures", slices.Sorted(maps.Keys(l.shapes)))
		case !s.rows[e.name[1]]:
			noSuch(e.row.Row, e.name[1], "row of "+e.name[0]+".csv", slices.Sorted(maps.Keys(s.rows)))
		case !slices.Contains(s.headings, e.name[2]):
			noSuch(e.row.Column, e.name[2], "column of "+e.name[0]+".csv", s.headings)
		}
	}
}

// noSuch reports a name that is nowhere, with the nearest that is.
func noSuch(c table.Cell, name, what string, known []string) {
	cure := "look at the name there, or delete this row"
	if near := diag.Nearest(name, known); near != "" {
		cure = fmt.Sprintf("did you mean %q?", near)
	}
	c.Fault("exception-unknown", fmt.Sprintf("there is no %s named %q", what, name), "the name of a "+what, cure)
}
