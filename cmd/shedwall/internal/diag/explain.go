package diag

import (
	"maps"
	"slices"
)

// Explanation says what a fault id means, for someone who meets it once a year.
type Explanation struct {
	ID    string
	Title string // one line
	Why   string // why it matters to a gardener or a publisher
	Wrong string // a row that draws this fault
	Right string // the same row mended
}

var explanations = map[string]Explanation{}

// explain registers explanations while the package starts; an id given twice is our own bug.
func explain(es ...Explanation) bool {
	for _, e := range es {
		if _, dup := explanations[e.ID]; dup {
			panic("diag: fault id explained twice: " + e.ID)
		}
		explanations[e.ID] = e
	}
	return true
}

// Explain is the explanation of a fault id, and whether there is one.
func Explain(id string) (Explanation, bool) {
	e, ok := explanations[id]
	return e, ok
}

// IDs is every explained id, sorted.
func IDs() []string { return slices.Sorted(maps.Keys(explanations)) }
