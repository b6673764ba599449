package publish

import (
	"bytes"
	"errors"
	"fmt"
	"io"
	"io/fs"
	"os"
	"path/filepath"
	"slices"
	"strconv"
	"strings"

	"shedwall/cmd/shedwall/internal/catalog"
	"shedwall/cmd/shedwall/internal/diag"
	"shedwall/cmd/shedwall/internal/edition"
	"shedwall/cmd/shedwall/internal/intake"
	"shedwall/cmd/shedwall/internal/page"
)

// Version is the program's. It is set by hand with a release and by nothing else, so that
// the same source says the same.
const Version = "0.1"

// editions is what a guide has printed before, and where the present one is to be kept.
type editions struct {
	Previous *catalog.Edition // the latest before the present number; nil = none kept
	Kept     *catalog.Edition // of the present number; nil = not kept yet
	Numbers  []int            // of all that were kept

	// KeepIn is the guide folder on disk in which Publish keeps the present edition;
	// "" = it does not.
	KeepIn string
}

// readEditions reads what a guide printed before the edition of a number.
func readEditions(files fs.FS, now int, faults *diag.List) (e editions) {
	e.Numbers = intake.EditionNumbers(files, faults)
	for _, n := range slices.Backward(e.Numbers) {
		switch {
		case n == now:
			e.Kept = intake.Edition(files, n, faults)
		case n < now && e.Previous == nil:
			e.Previous = intake.Edition(files, n, faults)
			return e
		}
	}
	return e
}

// ErrKept ends a publish whose edition was kept before and said something else then. What
// to do about it is in Guide.Faults.
var ErrKept = errors.New("this edition was kept before and is not the same now")

// newLedger is where pages enter what they print; nil where nobody asks.
func (g *Guide) newLedger(t *catalog.Tables) *edition.Ledger {
	if g.Previous == nil && g.Kept == nil && g.KeepIn == "" {
		return nil
	}
	return edition.NewLedger(t, g.Region, Version, g.Previous)
}

// Printed is what the guide prints as it stands, without writing anything.
func (g *Guide) Printed() (*catalog.Edition, error) {
	in := g.input(nil)
	in.Ledger = edition.NewLedger(in.Tables, g.Region, Version, g.Previous)
	all := g.languages()
	var builders []*page.Builder
	for _, v := range g.voices {
		builders = append(builders, page.NewBuilder(v.in(in, all)))
	}
	w := newWork()
	for i := range in.Bands {
		w.do(func() error {
			plans := g.Planner.BandOfMany(in.Bands[i].Climate)
			for _, b := range builders {
				b.Band(i, plans)
			}
			return nil
		})
	}
	if err := w.wait(); err != nil {
		return nil, err
	}
	return in.Ledger.Edition(), nil
}

// EditionOf reads an edition that was kept; nil, with faults or without, where there is none.
func (g *Guide) EditionOf(n int) *catalog.Edition {
	if g.Kept != nil && g.Kept.Number == n {
		return g.Kept
	}
	if g.Previous != nil && g.Previous.Number == n {
		return g.Previous
	}
	return intake.Edition(g.files, n, &g.Faults)
}

// keepEdition writes the ledger into the guide folder. It overwrites nothing: the same
// bytes again are fine, others are a fault. undo takes a file back that was new.
func (g *Guide) keepEdition(l *edition.Ledger) (undo func() error, err error) {
	undo = func() error { return nil }
	if g.KeepIn == "" {
		return undo, nil
	}
	e := l.Edition()
	name := filepath.Join(g.KeepIn, filepath.FromSlash(intake.EditionFile(e.Number)))
	data := edition.Write(e)
	if err := os.MkdirAll(filepath.Dir(name), 0o755); err != nil {
		return undo, err
	}
	entries, err := os.ReadDir(filepath.Dir(name))
	if err != nil {
		return undo, err
	}
	for _, e := range entries {
		if !strings.HasPrefix(e.Name(), ".") || !strings.HasSuffix(e.Name(), partEnd) {
			continue
		}
		// Of a publish that was killed, under whatever number.
		if err := os.Remove(filepath.Join(filepath.Dir(name), e.Name())); err != nil {
			return undo, err
		}
	}
	if _, err := os.Lstat(name); err == nil {
		return undo, g.sameAsKept(name, data, e.Number)
	}
	// Whole or not at all: half a file would be an edition that says something else.
	part := filepath.Join(filepath.Dir(name), "."+strconv.Itoa(e.Number)+partEnd)
	if err := writeSynced(part, data); err != nil {
		return undo, err
	}
	undo = func() error { return os.Remove(name) }
	return undo, rename(part, name)
}

// partEnd ends the name of an edition's file while it is being written; a dot begins it.
const partEnd = ".csv.part"

// sameAsKept refuses an edition that differs from the one kept under its number.
func (g *Guide) sameAsKept(name string, data []byte, n int) error {
	f, err := os.Open(name)
	if err != nil {
		return err
	}
	old, err := io.ReadAll(f)
	if err = errors.Join(err, f.Close()); err != nil {
		return err
	}
	if bytes.Equal(old, data) {
		return nil
	}
	g.Faults.Add(diag.Fault{At: g.Tables.Guide.Cells["edition"], ID: "edition-kept",
		What:     fmt.Sprintf("edition %d was kept before and is not the same now", n),
		Expected: "a new number for what is printed now", Cure: fmt.Sprintf("write edition %d or later here; or, if nothing was printed, delete %s", n+1, intake.EditionFile(n))})
	return ErrKept
}
