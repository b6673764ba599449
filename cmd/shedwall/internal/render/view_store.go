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

var viewStores = sync.Pool{New: func() any {
	s := &viewStore{}
	s.inlines.each, s.texts.each, s.cells.each = 512, 512, 256
	s.rows.each, s.blocks.each, s.items.each, s.facts.each = 64, 64, 64, 32
	return s
}}

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

// slab is a few large lists that small ones are cut from.
type slab[T any] struct {
	each     int // the length of a list, but for what is longer itself
	all      [][]T
	at, used int // lists that are cut up, and so much of the next
}

// take is a list of n empty things. Whoever appends to it leaves the slab.
func (s *slab[T]) take(n int) []T {
	for s.at < len(s.all) && n > len(s.all[s.at])-s.used {
		s.at, s.used = s.at+1, 0
	}
	if s.at == len(s.all) {
		s.all = append(s.all, make([]T, max(n, s.each)))
	}
	from := s.used
	s.used += n
	return s.all[s.at][from:s.used:s.used]
}

func (s *slab[T]) clear() {
	for i := range s.at {
		clear(s.all[i])
	}
	if s.at < len(s.all) {
		clear(s.all[s.at][:s.used])
	}
	s.at, s.used = 0, 0
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
