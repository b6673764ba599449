package render

import (
	"strings"
	"sync"
)

// viewStore is the memory of one page's views. A table of a hundred crops is thousands of
// small lists: they are cut from a few large ones, which the next page takes over. A view
// therefore ends with the store it lies in; words stay good for ever.
type viewStore struct {
	inlines slab[viewInline]
	texts   slab[[]viewInline]
	cells   slab[viewCell]
	rows    slab[viewRow]
	blocks  slab[viewBlock]
	items   slab[viewItem]
	facts   slab[viewFact]
	words   wordStore
}

var viewStores = sync.Pool{New: func() any { return new(viewStore) }}

// openStore is an empty store. close hands it back.
func openStore() *viewStore { return viewStores.Get().(*viewStore) }

// close empties the store, so that it keeps no page alive, for the next page. Nothing that
// was cut from it may be used afterwards.
func (s *viewStore) close() {
	s.inlines.clear()
	s.texts.clear()
	s.cells.clear()
	s.rows.clear()
	s.blocks.clear()
	s.items.clear()
	s.facts.clear()
	viewStores.Put(s)
}

// slab is one large list that small ones are cut from. Where it is too short it is left to
// those that have their parts of it, and a longer one begins.
type slab[T any] struct {
	all  []T
	used int
}

// take is a list of n empty things. Whoever appends to it leaves the slab.
func (s *slab[T]) take(n int) []T {
	if n > len(s.all)-s.used {
		s.all, s.used = make([]T, max(n, 2*len(s.all), 64)), 0
	}
	from := s.used
	s.used += n
	return s.all[from:s.used:s.used]
}

func (s *slab[T]) clear() {
	clear(s.all[:s.used])
	s.used = 0
}

// wordStore writes short texts one behind the other.
type wordStore struct{ b strings.Builder }

// begin makes room for a text of at most n bytes and is where it begins.
func (w *wordStore) begin(n int) int {
	if n > w.b.Cap()-w.b.Len() {
		w.b = strings.Builder{}
		w.b.Grow(max(n, 1<<12))
	}
	return w.b.Len()
}

// since is the text written since begin.
func (w *wordStore) since(begin int) string { return w.b.String()[begin:] }
