// Package check holds the rules that need more than one cell: bands against each
// other, crops against their classes, kill limits against damage limits. It says
// what is wrong with a guide and mends nothing; reading cells is done before, and
// what a plan makes of the figures comes after.
package check

import (
	"fmt"
	"math"
	"slices"
	"strconv"

	"shedwall/cmd/shedwall/internal/catalog"
	"shedwall/cmd/shedwall/internal/diag"
	"shedwall/cmd/shedwall/internal/figure"
)

// Tables is everything that the tables of a guide contradict each other in. The
// tables are not changed.
func Tables(t *catalog.Tables) diag.List {
	c := &checker{tables: t}
	c.guide()
	c.stations()
	c.bands()
	c.places()
	c.germination()
	c.classes()
	c.crops()
	c.covers()
	c.layers()
	c.structures()
	c.hazards()
	c.schedule()
	c.choices()
	return c.list
}

type checker struct {
	tables *catalog.Tables
	list   diag.List
}

func (c *checker) fault(at diag.Position, id, what, expected, cure string) {
	c.list.Add(diag.Fault{At: at, ID: id, What: what, Expected: expected, Cure: cure})
}

func (c *checker) warn(at diag.Position, id, what, expected, cure string) {
	c.list.Add(diag.Fault{At: at, ID: id, Severity: diag.Warning, What: what, Expected: expected, Cure: cure})
}

func (c *checker) note(at diag.Position, id, what, cure string) {
	c.list.Add(diag.Fault{At: at, ID: id, Severity: diag.Notice, What: what, Cure: cure})
}

// value is a figure as a plain number, whatever its quantity.
type value struct {
	heading string // canonical, for messages where the table lacks the column
	number  float64
	known   bool
	owner   figure.Owner
	source  string
	at      diag.Position
}

func of[T ~float64 | ~int](heading string, f figure.Of[T]) value {
	v, known := f.Get()
	return value{heading: heading, number: float64(v), known: known, owner: f.Owner, source: f.Source, at: f.Cell}
}

func ofBool(heading string, f figure.Of[bool]) value {
	return value{heading: heading, known: f.Known(), owner: f.Owner, source: f.Source, at: f.Cell}
}

// String is the number with its heading: "grown_kill_c 4".
func (v value) String() string { return v.heading + " " + spell(v.number) }

func spell(n float64) string {
	return strconv.FormatFloat(math.Round(100*n)/100, 'f', -1, 64)
}

// where names the place of a figure that a message compares with.
func where(v value, here diag.Position) string {
	if v.at.File == here.File && v.at.Line == here.Line {
		return fmt.Sprintf("%s in cell %s", v, v.at.Cell)
	}
	return fmt.Sprintf("%s in %s", v, v.at)
}

// nearer is the one of two contradicting figures to complain about: the
// publisher's own where the other is built in, else the one further on.
func nearer(a, b value) (here, there value) {
	if a.owner == figure.Own && b.owner != figure.Own || a.owner == b.owner && a.at.Compare(b.at) > 0 {
		return a, b
	}
	return b, a
}

// rising reports figures that do not rise in the order given. Unknown ones are
// passed over.
func (c *checker) rising(id, why string, vs ...value) {
	var last value
	for _, v := range vs {
		if !v.known {
			continue
		}
		if last.known && v.number < last.number-tolerance {
			here, there := nearer(last, v)
			c.fault(here.at, id, fmt.Sprintf("%s contradicts %s", here, where(there, here.at)), why, "look which of the two is right")
		}
		last = v
	}
}

// tolerance forgives what is lost when equal figures in C and F are converted.
const tolerance = 1e-6

// cited reports known figures without a source: a fault in built-in tables, one
// warning a row in the publisher's.
func (c *checker) cited(vs []value) {
	var warned diag.Position
	for _, v := range vs {
		switch {
		case !v.known || v.source != "":
		case v.owner != figure.Own:
			c.fault(v.at, "source-missing", fmt.Sprintf("%s has no source", v.heading), "the id of a source for every figure", "fill in the column source")
		case warned.File != v.at.File || warned.Line != v.at.Line:
			warned = v.at
			c.warn(v.at, "source-missing", fmt.Sprintf("%s has no source; it is printed as the publisher's own", v.heading), "", "fill in the column source of this row")
		}
	}
}

// near is a cure that proposes the nearest known name, else the given one.
func near(name string, known []string, otherwise string) string {
	if n := diag.Nearest(name, known); n != "" {
		return fmt.Sprintf("did you mean %q?", n)
	}
	return otherwise
}

func idsOf[T any](rows []T, id func(*T) string) []string {
	var ids []string
	for i := range rows {
		ids = append(ids, id(&rows[i]))
	}
	return ids
}

func (c *checker) coverIDs() []string {
	return idsOf(c.tables.Covers, func(v *catalog.Cover) string { return v.ID })
}

// known says whether an id is among ids.
func known(id string, ids []string) bool { return slices.Contains(ids, id) }
