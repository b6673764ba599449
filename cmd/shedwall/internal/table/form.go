package table

import (
	"fmt"
	"reflect"
	"slices"
	"strings"

	"github.com/gocarina/gocsv"
)

// form is what a row struct says about its table.
type form struct {
	fields []field // in the order of the struct
	more   []int   // index of the More field, nil if there is none
	byKey  map[string]int
	byBase map[string]int // headings without their unit
	key    int            // the field that identifies a row, -1 if none does
}

// field is one Cell field of the row struct.
type field struct {
	index    int      // in the struct
	keys     []string // headings, the canonical one first
	number   bool
	required bool
	name     bool // identifies the row, as free text
}

var (
	cellType = reflect.TypeFor[Cell]()
	moreType = reflect.TypeFor[More]()
)

func formOf[T any]() *form {
	t := reflect.TypeFor[T]()
	f := &form{byKey: map[string]int{}, byBase: map[string]int{}, key: -1}
	for i := range t.NumField() {
		sf := t.Field(i)
		if sf.Type == moreType {
			f.more = sf.Index
			continue
		}
		keys := strings.Split(sf.Tag.Get("csv"), ",")
		if sf.Type != cellType || keys[0] == "" {
			panic(fmt.Sprintf("table: field %s of %s is not a tagged Cell", sf.Name, t))
		}
		fd := field{index: i, keys: keys}
		for word := range strings.SplitSeq(sf.Tag.Get("table"), ",") {
			switch word {
			case "":
			case "number":
				fd.number = true
			case "required":
				fd.required = true
			case "key", "name":
				fd.required, fd.name = true, word == "name"
				f.key = len(f.fields)
			default:
				panic(fmt.Sprintf("table: field %s of %s has the unknown word %q in its table tag", sf.Name, t, word))
			}
		}
		for _, k := range keys {
			f.byKey[k] = len(f.fields)
			if base, unit := splitUnit(k); fd.number && unit != NoUnit {
				f.byBase[base] = len(f.fields)
			}
		}
		f.fields = append(f.fields, fd)
	}
	return f
}

// find is the field that a folded heading stands for, -1 if it is unknown; needs
// says that the heading is known but for its unit.
func (f *form) find(heading string) (n int, needs bool) {
	if n, ok := f.byKey[heading]; ok {
		return n, false
	}
	if n, ok := f.byBase[heading]; ok {
		return n, true
	}
	return -1, false
}

// headings is every known heading.
func (f *form) headings() []string {
	var all []string
	for _, fd := range f.fields {
		all = append(all, fd.keys...)
	}
	return all
}

// canonical is the first heading of each field, at most n of them.
func (f *form) canonical(n int) []string {
	var names []string
	for _, fd := range f.fields[:min(n, len(f.fields))] {
		names = append(names, fd.keys[0])
	}
	if n < len(f.fields) {
		names = append(names, "…")
	}
	return names
}

// GetCSVRows gives gocsv the rows under canonical headings. Columns that are not
// read have an empty heading, which no field has.
func (s *sheet) GetCSVRows() ([][]string, error) {
	heads := make([]string, len(s.header.columns))
	for i, c := range s.header.columns {
		if c.field >= 0 {
			heads[i] = s.form.fields[c.field].keys[0]
		}
	}
	out := make([][]string, 0, len(s.rows)+1)
	out = append(out, heads)
	for _, r := range s.rows {
		out = append(out, r.texts[:min(len(r.texts), len(heads))])
	}
	return out, nil
}

// UnmarshalCSV is called by gocsv with the text of the cell.
func (c *Cell) UnmarshalCSV(text string) error {
	c.text = text
	return nil
}

// bind lets gocsv fill the row structs and then tells each cell its place.
func bind[T any](s *sheet) []T {
	s.checkBlankHeadings()
	s.checkUnits()
	var out []T
	if err := gocsv.UnmarshalDecoder(s, &out); err != nil {
		// Cells take any text, so nothing in the file can lead here.
		panic("table: gocsv could not fill the row struct: " + err.Error())
	}
	columns := make([]int, len(s.form.fields)) // field -> column
	for n := range columns {
		columns[n] = slices.IndexFunc(s.header.columns, func(c column) bool { return c.field == n })
	}
	for i := range out {
		v := reflect.ValueOf(&out[i]).Elem()
		for n, fd := range s.form.fields {
			c := v.Field(fd.index).Addr().Interface().(*Cell)
			c.sheet, c.row, c.column, c.field = s, int32(i), int16(columns[n]), int16(n)
		}
		if s.form.more != nil {
			var more More
			for n, c := range s.header.columns {
				if c.field == extra {
					more = append(more, Extra{c.extra, Cell{text: s.rows[i].text(n), sheet: s, row: int32(i), column: int16(n), field: extra}})
				}
			}
			v.FieldByIndex(s.form.more).Set(reflect.ValueOf(more))
		}
	}
	return out
}

// Each calls f for every cell of a row, in the order of the struct, the extra
// cells last. row points to a row struct.
func Each(row any, f func(*Cell)) {
	v := reflect.ValueOf(row).Elem()
	for i := range v.NumField() {
		if c, ok := v.Field(i).Addr().Interface().(*Cell); ok {
			f(c)
		}
	}
	for i := range v.NumField() {
		if m, ok := v.Field(i).Interface().(More); ok {
			for n := range m {
				f(&m[n].Cell)
			}
		}
	}
}

// Over lays the cells of a nearer row over those of a deeper one: a blank cell
// and an absent column keep the deeper cell, anything else replaces it.
func Over[T any](nearer, deeper T) T {
	out := deeper
	n, d := reflect.ValueOf(&nearer).Elem(), reflect.ValueOf(&out).Elem()
	for i := range n.NumField() {
		switch c := n.Field(i).Interface().(type) {
		case Cell:
			if !c.Blank() {
				d.Field(i).Set(n.Field(i))
			}
		case More:
			d.Field(i).Set(reflect.ValueOf(overMore(c, d.Field(i).Interface().(More))))
		}
	}
	return out
}

func overMore(nearer, deeper More) More {
	out := slices.Clone(deeper)
	for _, e := range nearer {
		if e.Cell.Phrase() == "" {
			continue
		}
		if i := slices.IndexFunc(out, func(o Extra) bool { return o.Heading == e.Heading }); i >= 0 {
			out[i] = e
		} else {
			out = append(out, e)
		}
	}
	return out
}
