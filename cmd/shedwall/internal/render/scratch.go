package render

import "sync"

// scratches are where texts are put together before their length is known.
var scratches = sync.Pool{New: func() any { b := make([]byte, 0, 1<<12); return &b }}

// written is what write appends, as a text of its own.
func written(write func(b []byte) []byte) string {
	b := scratches.Get().(*[]byte)
	*b = write((*b)[:0])
	s := string(*b)
	scratches.Put(b)
	return s
}
