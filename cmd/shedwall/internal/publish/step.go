package publish

import (
	"io/fs"

	"shedwall/cmd/shedwall/internal/diag"
)

// step is one step of loading a guide with its last result, which is good as long as what
// it was made from has the same content: the files that it asked for, and from, the mark
// of everything else.
type step[T any] struct {
	done   bool
	asked  asked
	from   mark
	value  T
	faults diag.List
	key    mark // of all that the value was made from
}

// take is the result of a step: the last one where nothing changed that it was made from,
// else a new one. Its faults are added to faults in either case. Without a watched folder,
// steps are for one time: from is not asked, and files is as given.
func (s *step[T]) take(files fs.FS, w *watched, from func() mark, faults *diag.List, work func(files fs.FS, faults *diag.List) T) T {
	if w == nil {
		return work(files, faults)
	}
	now := from()
	if !s.done || s.from != now || !w.still(s.asked) {
		r := &reading{w: w, asked: asked{}}
		if _, ours := files.(*reading); ours {
			files = r
		}
		s.faults = diag.List{}
		s.value = work(files, &s.faults)
		s.done, s.asked, s.from = true, r.told(), now
		s.key = markOf(now, s.asked)
	}
	faults.Merge(s.faults)
	return s.value
}
