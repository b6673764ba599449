// Package table turns one CSV file into rows of cells that know their place.
//
// People edit these files in spreadsheets and answer for every number in them,
// so nothing may be guessed in silence: what has one meaning is read, and told
// where it is unusual; what has two meanings is refused with both shown. Every
// fault names file, line and column as an editor counts them, the spreadsheet
// cell and the heading, and all faults of a file are found in one reading.
//
// The package maps headings to struct fields with gocsv and uses it for nothing
// else: gocsv alone makes a blank 0, a missing column 0 and 1,250 into 1.25.
// What the figures mean (degrees, metres) is decided by the caller.
package table

import (
	"fmt"

	"shedwall/cmd/shedwall/internal/diag"
	"shedwall/cmd/shedwall/internal/figure"
)

// Limits of one table. They are far above any table that a person keeps by hand
// and keep a wrong file from filling the memory.
const (
	MaxBytes    = 20 << 20
	MaxColumns  = 200
	MaxRowBytes = 100_000
	maxFaults   = 1000 // of one table; then one fault says that there are more
)

// Spec says how a table is to be read, beyond what the row struct says.
type Spec struct {
	Owner figure.Owner // whose figures these are

	// Open accepts headings beyond those of the struct, a language code for
	// instance. Their cells are put into the row's More field.
	Open func(heading string) bool

	// Formulas lets texts stand that a spreadsheet would run. It is for tables that
	// others fill in; whoever writes their texts on must guard them.
	Formulas bool

	// MustHaveRows makes a table without rows a fault, else it is a warning.
	MustHaveRows bool
}

// Extra is a cell under a heading that Spec.Open accepted.
type Extra struct {
	Heading string
	Cell    Cell
}

// More holds the extra cells of a row in the order of the columns. A row struct
// may have one field of this type, tagged csv:"-".
type More []Extra

// Read reads a CSV file into rows of type T. T is a struct whose fields are
// Cells, each tagged with the headings it may stand under:
//
//	Crop  Cell `csv:"crop" table:"key"`                  // identifies the row
//	Young Cell `csv:"young_kill_c,young_kill_f" table:"number"`
//
// The first heading is the canonical one. Words of the table tag, joined by
// commas: key (an id that says which row it is; the column must be there), name
// (the same, but free text), number, required (the column must be there).
// Headings are matched without regard to case, and with spaces or hyphens for
// underscores.
//
// Faults are added to faults, also those that cells find later when they are
// asked for a number, an id or a word. Rows that cannot be trusted (too long,
// broken quotes) are left out; notes and totals are told and left out. A file
// that cannot be read as a table gives no rows and at least one fault.
//
// It panics when T is not such a struct: that is a mistake of the program.
func Read[T any](file string, data []byte, spec Spec, faults *diag.List) []T {
	s := &sheet{file: file, owner: spec.Owner, faults: faults, form: formOf[T]()}
	text, ok := s.decode(data)
	if !ok {
		return nil
	}
	if !s.scan(text, spec.Open) {
		return nil
	}
	s.leaveOutNotes()
	if len(s.rows) == 0 && s.refused {
		return nil
	}
	if len(s.rows) == 0 {
		sev := diag.Warning
		if spec.MustHaveRows {
			sev = diag.Error
		}
		s.fault(diag.Fault{
			At: s.header.position(), ID: "table-no-rows", Severity: sev,
			What: "the table has headings but no rows", Expected: "at least one row under the headings",
			Cure: "add rows, or delete the file if it is not needed",
		})
		return nil
	}
	s.weighDecimals()
	s.weighTexts(!spec.Formulas)
	return bind[T](s)
}

// sheet is one file while and after it is read. Cells keep a pointer to it.
type sheet struct {
	file   string
	owner  figure.Owner
	faults *diag.List
	told   int // faults added so far

	refused bool // rows were left out with a fault

	form   *form
	header header
	rows   []row

	comma    rune
	decimals decimals
}

// fault adds a fault at a place of this sheet. After maxFaults one last fault
// says that the rest is not listed.
func (s *sheet) fault(f diag.Fault) {
	f.At.File = s.file
	s.told++
	switch {
	case s.told <= maxFaults:
		s.faults.Add(f)
	case s.told == maxFaults+1:
		s.faults.Add(diag.Fault{
			At: f.At, ID: "faults-too-many",
			What:     fmt.Sprintf("more than %d things to say about this table", maxFaults),
			Expected: "a table with a few mistakes at most",
			Cure:     "mend the faults above and check again; if nearly every row is named, the file is probably not this table",
		})
	}
}

// columnName is a spreadsheet's name of a column: 0 is A, 26 is AA.
func columnName(i int) string {
	var name []byte
	for i++; i > 0; i = (i - 1) / 26 {
		name = append([]byte{byte('A' + (i-1)%26)}, name...)
	}
	return string(name)
}
