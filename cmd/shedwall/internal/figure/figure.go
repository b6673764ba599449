// Package figure holds one value of a table together with what makes it
// trustworthy: whether it is known at all, the cell it stands in and the source
// behind it. A blank is not zero: a value can only be had by asking whether it
// is there.
package figure

import "shedwall/cmd/shedwall/internal/diag"

// Cell is a figure's place in its table, under a name that rooms without messages
// of their own can use.
type Cell = diag.Position

// State says whether a figure is there.
type State uint8

// Blank is a cell left empty (keep what a deeper table says), Unknown a cell
// that says nobody knows (remove what a deeper table says), Known a value.
const (
	Blank State = iota
	Unknown
	Known
)

// Owner says whose figure it is.
type Owner uint8

// BuiltIn comes with the program, Own from the publisher's folder, ByClass is
// the figure of the crop's class because the crop has none of its own: it must
// never make a date earlier.
const (
	BuiltIn Owner = iota
	Own
	ByClass
)

// Of is a figure of type T. The zero Of is Blank.
type Of[T any] struct {
	value     T
	State     State
	Owner     Owner
	Qualifier string // "<", ">", "about" or "" as written in the cell
	Mark      string // footnote mark behind the value, "*", "†", "(1)" or ""
	Cell      diag.Position
	Source    string // id of a row of sources.csv, "" if not stated
}

// Is makes a known figure.
func Is[T any](v T, cell diag.Position, source string) Of[T] {
	return Of[T]{value: v, State: Known, Cell: cell, Source: source}
}

// NotKnown makes a figure that is declared unknown.
func NotKnown[T any](cell diag.Position) Of[T] { return Of[T]{State: Unknown, Cell: cell} }

// Get is the value and whether it is known. The value of a figure that is not
// known is the zero of T and means nothing.
func (f Of[T]) Get() (T, bool) { return f.value, f.State == Known }

// Known says whether there is a value.
func (f Of[T]) Known() bool { return f.State == Known }

// Over lays f, the nearer table's figure, over deeper: a blank keeps the deeper
// figure, a value or a declared unknown replaces it.
func (f Of[T]) Over(deeper Of[T]) Of[T] {
	if f.State == Blank {
		return deeper
	}
	return f
}

// With is the same figure with another value, for conversions that keep place
// and source. A figure that is not known stays so.
func With[T, U any](f Of[T], convert func(T) U) Of[U] {
	g := Of[U]{State: f.State, Owner: f.Owner, Qualifier: f.Qualifier, Mark: f.Mark, Cell: f.Cell, Source: f.Source}
	if f.State == Known {
		g.value = convert(f.value)
	}
	return g
}
