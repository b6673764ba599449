// Package diag holds what the program has to say about a guide: where something
// is, what is wrong with it, what was expected and how to mend it. Faults are
// collected, sorted and shown all at once; nobody should have to run a check ten
// times to find ten mistakes.
package diag

import (
	"cmp"
	"fmt"
	"slices"
	"strings"
)

// Position is a place in a file of the guide. Line and Column start at 1 as
// editors count them (Column counts characters); 0 means the whole file or line.
// Cell and Heading are filled for tables: a publisher looks at a spreadsheet.
type Position struct {
	File    string
	Line    int
	Column  int
	Cell    string // spreadsheet name, "E14"
	Heading string // column heading, "kill_c"
}

// String is file:line:column, with the cell and heading where known.
func (p Position) String() string {
	var b strings.Builder
	b.WriteString(p.File)
	if p.Line > 0 {
		fmt.Fprintf(&b, ":%d", p.Line)
		if p.Column > 0 {
			fmt.Fprintf(&b, ":%d", p.Column)
		}
	}
	if p.Cell != "" {
		b.WriteString(", cell " + p.Cell)
		if p.Heading != "" {
			b.WriteString(" (" + p.Heading + ")")
		}
	}
	return b.String()
}

// Compare orders positions by file, line and column.
func (p Position) Compare(q Position) int {
	return cmp.Or(cmp.Compare(p.File, q.File), cmp.Compare(p.Line, q.Line), cmp.Compare(p.Column, q.Column))
}

// Severity tells a fault, which stops a publish, from a notice, which does not.
type Severity uint8

// Errors cannot be silenced; warnings can, by id; notices say what was accepted.
const (
	Error Severity = iota
	Warning
	Notice
)

func (s Severity) String() string { return [...]string{"fault", "warning", "note"}[s] }

// Fault is one thing to say about one place.
type Fault struct {
	At       Position
	ID       string // permanent, e.g. "number-unreadable"; explained by Explain
	Severity Severity
	What     string // what is there: `"-9,5" is not a number`
	Expected string // what was expected: "a number of degrees such as -9.5"
	Cure     string // what to do
}

// String is one line: position, severity, what, expected, cure, id.
func (f Fault) String() string {
	var b strings.Builder
	b.WriteString(f.At.String())
	b.WriteString(": ")
	if f.Severity != Error {
		b.WriteString(f.Severity.String() + ": ")
	}
	b.WriteString(f.What)
	if f.Expected != "" {
		b.WriteString("; expected " + f.Expected)
	}
	if f.Cure != "" {
		b.WriteString("; " + f.Cure)
	}
	b.WriteString(" [" + f.ID + "]")
	return b.String()
}

// List collects faults. The zero List is ready to use; it is not safe for
// concurrent use: gather per goroutine, then Add the lists together.
type List struct{ faults []Fault }

// Add appends faults.
func (l *List) Add(f ...Fault) { l.faults = append(l.faults, f...) }

// Merge appends all faults of another list.
func (l *List) Merge(o List) { l.faults = append(l.faults, o.faults...) }

// Sorted is every fault by file, line, column, then severity and id; exact
// repeats are said once.
func (l *List) Sorted() []Fault {
	out := slices.Clone(l.faults)
	slices.SortStableFunc(out, func(a, b Fault) int {
		return cmp.Or(a.At.Compare(b.At), cmp.Compare(a.Severity, b.Severity), cmp.Compare(a.ID, b.ID), cmp.Compare(a.What, b.What))
	})
	return slices.Compact(out)
}

// HasErrors says whether anything stops a publish.
func (l *List) HasErrors() bool {
	return slices.ContainsFunc(l.faults, func(f Fault) bool { return f.Severity == Error })
}

// Len is the number of faults, of all severities, repeats included.
func (l *List) Len() int { return len(l.faults) }

// Silence takes out the warnings of the given ids. Errors stay, whatever is asked.
func (l *List) Silence(ids []string) {
	l.faults = slices.DeleteFunc(l.faults, func(f Fault) bool {
		return f.Severity != Error && slices.Contains(ids, f.ID)
	})
}
