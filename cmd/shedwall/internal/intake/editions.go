package intake

import (
	"bytes"
	"encoding/csv"
	"errors"
	"fmt"
	"io"
	"io/fs"
	"path"
	"regexp"
	"slices"
	"strconv"
	"strings"

	"shedwall/cmd/shedwall/internal/catalog"
	"shedwall/cmd/shedwall/internal/diag"
	"shedwall/cmd/shedwall/internal/quantity"
)

// EditionsFolder holds a file for each edition that was kept.
const EditionsFolder = "data/editions"

// EditionFile is the file of an edition in a guide folder.
func EditionFile(n int) string { return path.Join(EditionsFolder, strconv.Itoa(n)+".csv") }

var reEditionFile = regexp.MustCompile(`^([1-9][0-9]{0,5})\.csv$`)

// EditionNumbers is the editions that a guide has kept, ascending. Other tables in their
// folder are told.
func EditionNumbers(guide fs.FS, faults *diag.List) []int {
	entries, err := fs.ReadDir(guide, EditionsFolder)
	if err != nil {
		if !errors.Is(err, fs.ErrNotExist) {
			faults.Add(diag.Fault{At: diag.Position{File: EditionsFolder}, ID: "file-unreadable", What: "this folder cannot be read: " + reason(err),
				Expected: "a folder with a file for each edition that was kept", Cure: "look at its name and permissions"})
		}
		return nil
	}
	var out []int
	for _, e := range entries {
		name := e.Name()
		if m := reEditionFile.FindStringSubmatch(name); m != nil && !e.IsDir() {
			out = append(out, atoi(m[1]))
		} else if strings.HasSuffix(strings.ToLower(name), ".csv") && !strings.HasPrefix(name, ".") {
			faults.Add(diag.Fault{At: diag.Position{File: path.Join(EditionsFolder, name)}, ID: "edition-file", Severity: diag.Warning,
				What: "nothing reads this file", Expected: "a name such as 3.csv, the number of the edition", Cure: "rename it, or keep it elsewhere"})
		}
	}
	slices.Sort(out)
	return out
}

// Edition reads what edition n printed; nil where there is no such file or it has faults.
func Edition(guide fs.FS, n int, faults *diag.List) *catalog.Edition {
	l := newLoader(guide, guide, faults)
	file := EditionFile(n)
	data, ok := l.file(guide, file, optional)
	if !ok {
		return nil
	}
	var own diag.List
	r := &editionReader{e: &catalog.Edition{File: file}, faults: &own, in: csv.NewReader(bytes.NewReader(bytes.TrimPrefix(data, []byte("\ufeff"))))}
	r.all()
	if r.e.Number != n && !own.HasErrors() {
		own.Add(diag.Fault{At: diag.Position{File: file, Line: 2}, ID: "edition-other-number", What: fmt.Sprintf("the file says it is edition %d", r.e.Number),
			Expected: fmt.Sprintf("edition %d, as its name says", n), Cure: "give the file its right name"})
	}
	bad := own.HasErrors()
	faults.Merge(own)
	if bad {
		return nil
	}
	r.e.Sort()
	return r.e
}

// editionReader reads a file that the program wrote. It is strict: what it wrote it can read,
// and what was changed since is told.
type editionReader struct {
	e      *catalog.Edition
	faults *diag.List
	in     *csv.Reader
	cells  []string
}

// all reads the headings and every row.
func (r *editionReader) all() {
	r.in.FieldsPerRecord = -1
	r.in.ReuseRecord = true
	head, err := r.in.Read()
	if err != nil || !slices.Equal(head, catalog.EditionHeads) {
		r.faults.Add(diag.Fault{At: diag.Position{File: r.e.File, Line: 1}, ID: "edition-unreadable", What: "these are not the headings of a kept edition",
			Expected: strings.Join(catalog.EditionHeads, ","), Cure: "put back the file as the program wrote it, or delete it"})
		return
	}
	for {
		r.cells, err = r.in.Read()
		if errors.Is(err, io.EOF) {
			break
		}
		if err != nil {
			at := diag.Position{File: r.e.File}
			var p *csv.ParseError
			if errors.As(err, &p) {
				at.Line, at.Column = p.Line, p.Column
				err = p.Err
			}
			r.faults.Add(diag.Fault{At: at, ID: "edition-unreadable", What: "the row cannot be read: " + err.Error(), Expected: "a row as the program wrote it", Cure: "put back the file, or delete it"})
			return
		}
		if len(r.cells) != len(catalog.EditionHeads) {
			r.bad(0, fmt.Sprintf("the row has %d cells", len(r.cells)), fmt.Sprintf("%d", len(catalog.EditionHeads)))
			continue
		}
		r.row()
	}
}

// Columns by their place in catalog.EditionHeads.
const (
	edKind = iota
	edBand
	edCrop
	edCovers
	edOdds
	edAction
	edFrom
	edFromBy
	edTo
	edToBy
	edSheet
	edRow
	edMoved
	edName
	edFigures
)

func (r *editionReader) row() {
	for i, cell := range r.cells {
		r.cells[i] = catalog.EditionText(cell)
	}
	c := func(i int) string { return r.cells[i] } // each row has a text of its own
	e := r.e
	switch r.cells[edKind] {
	case "edition":
		e.Number, e.Date, e.Guide = r.number(edRow), c(edFrom), r.figures()
	case "station":
		e.Stations = append(e.Stations, catalog.EditionPart{ID: c(edRow), Name: c(edName), Figures: r.figures()})
	case "band":
		e.Bands = append(e.Bands, catalog.EditionPart{ID: c(edBand), Name: c(edName), Figures: r.figures()})
	case "sheet":
		e.Sheets = append(e.Sheets, catalog.EditionSheet{Band: c(edBand), Path: c(edRow), Name: c(edName), Code: c(edSheet), Rows: rowCodes(c(edFigures))})
	case "figures":
		e.Plans = append(e.Plans, catalog.EditionPlan{Crop: c(edCrop), Layers: c(edCovers), Band: c(edBand), Figures: r.figures()})
	case "date":
		row := catalog.EditionRow{EditionKey: catalog.EditionKey{Band: c(edBand), Crop: c(edCrop), Layers: c(edCovers), Percent: r.number(edOdds), Action: c(edAction)},
			From: r.bound(edFrom, edFromBy), To: r.bound(edTo, edToBy), Sheet: c(edSheet), Code: c(edRow), Name: c(edName)}
		if r.cells[edMoved] != "" {
			row.Sequence = r.number(edMoved)
		}
		e.Rows = append(e.Rows, row)
	default:
		r.bad(edKind, strconv.Quote(r.cells[edKind])+" is no kind of row", strings.Join(catalog.EditionKinds, ", "))
	}
}

func (r *editionReader) number(i int) int {
	n, err := strconv.Atoi(r.cells[i])
	if err != nil || n < 0 {
		r.bad(i, strconv.Quote(r.cells[i])+" is not a whole number", "a number such as 3")
	}
	return n
}

// bound reads a date MM-DD with what holds it, or the state that leaves none.
func (r *editionReader) bound(date, by int) catalog.EditionBound {
	text := r.cells[date]
	if text == "" {
		state, gate, _ := strings.Cut(r.cells[by], " ")
		b := catalog.EditionBound{State: catalog.EditionState(state), Gate: gate}
		if !slices.Contains([]catalog.EditionState{catalog.EditionOpen, catalog.EditionNever, catalog.EditionNotKnown}, b.State) {
			r.bad(by, "there is no date, and "+strconv.Quote(r.cells[by])+" does not say why", "open, never or not-known")
		}
		return b
	}
	b := catalog.EditionBound{State: catalog.EditionDated, Gate: r.cells[by]}
	if len(text) == 5 && text[2] == '-' {
		m, err1 := strconv.Atoi(text[:2])
		d, err2 := strconv.Atoi(text[3:])
		if err1 == nil && err2 == nil && quantity.ValidDate(2024, m, d) {
			b.Date = quantity.MonthDay{Month: m, Day: d}
			return b
		}
	}
	r.bad(date, strconv.Quote(text)+" is not a date", "month and day such as 05-12")
	return b
}

// figures reads "name = value @ cell; ...".
func (r *editionReader) figures() []catalog.EditionFigure {
	text := r.cells[edFigures]
	if text == "" {
		return nil
	}
	var out []catalog.EditionFigure
	for part := range strings.SplitSeq(text, "; ") {
		name, rest, ok := strings.Cut(part, " = ")
		if !ok {
			r.bad(edFigures, strconv.Quote(part)+" is no figure", "name = value @ cell")
			return nil
		}
		value, cell, _ := strings.Cut(rest, " @ ")
		out = append(out, catalog.EditionFigure{Name: name, Value: value, Cell: cell})
	}
	return out
}

// rowCodes are the rows of a sheet; nil where it has none.
func rowCodes(text string) []string {
	if text == "" {
		return nil
	}
	return strings.Fields(text)
}

// bad tells what is wrong with a cell of the present row.
func (r *editionReader) bad(i int, what, expected string) {
	at := diag.Position{File: r.e.File}
	at.Line, at.Column = r.in.FieldPos(min(i, len(r.cells)-1))
	if i < len(catalog.EditionHeads) {
		at.Cell, at.Heading = string(rune('A'+i))+strconv.Itoa(at.Line), catalog.EditionHeads[i]
	}
	r.faults.Add(diag.Fault{At: at, ID: "edition-unreadable", What: what, Expected: expected, Cure: "put back the file as the program wrote it, or delete it"})
}
