package publish

import (
	"bytes"
	"crypto/sha256"
	"errors"
	"fmt"
	"io"
	"io/fs"
	"os"
	"sync"
	"time"
)

// mark is a fingerprint by which something that was read or worked out is known again; ""
// is that of nothing.
type mark string

// young is how long the time of a file's last change is not trusted: within it a second
// change may bear the same time. FAT keeps times to 2 seconds, which is the coarsest of
// the file systems in use; others keep them to milliseconds.
const young = 2 * time.Second

// heldBytes is the most of a folder that is held in memory; what is beyond is read again.
const heldBytes = 128 << 20

// watched is a folder of which every file, list and absence that anybody asked for is
// remembered, so that refresh can tell what changed since. All who ask between two calls
// of refresh see one state of each file.
type watched struct {
	fsys fs.FS

	mu    sync.Mutex
	seen  map[string]*sight
	held  int  // bytes in all sights
	moved bool // a file that was read again was not what it had been
}

// sight is what was seen under one name.
type sight struct {
	info   fs.FileInfo // nil = there is nothing
	err    error       // of info
	looked time.Time   // before anything of it was read

	kind, content, list mark // of what it is, its bytes, its entries; zero = nobody asked

	data             []byte
	held             bool // data is there
	readErr, listErr error
	entries          []fs.DirEntry
}

func watch(fsys fs.FS) *watched { return &watched{fsys: fsys, seen: map[string]*sight{}} }

// refresh looks at everything anew that was asked for, and says whether any of it is not
// what it was. A file whose size, time and place on the disk are the same is not read
// again, unless it changed so lately that its time may hide a second change.
func (w *watched) refresh() (changed bool) {
	w.mu.Lock()
	defer w.mu.Unlock()
	changed, w.moved = w.moved, false
	for name, s := range w.seen {
		looked := time.Now()
		info, err := fs.Stat(w.fsys, name)
		if s.settled() && sameInfo(s.info, info, s.err, err) {
			continue
		}
		old := *s
		s.info, s.err, s.looked = info, err, looked
		s.kind = kindOf(info, err)
		if s.content != "" {
			w.read(name, s)
		}
		if s.list != "" {
			w.readDir(name, s)
		}
		changed = changed || s.kind != old.kind || s.content != old.content || s.list != old.list
	}
	return changed
}

// settled says that the time of the last change lies far enough back to be trusted.
func (s *sight) settled() bool {
	return s.info == nil || s.looked.Sub(s.info.ModTime()) > young
}

func sameInfo(a, b fs.FileInfo, aErr, bErr error) bool {
	if a == nil || b == nil {
		return a == nil && b == nil && errors.Is(aErr, fs.ErrNotExist) && errors.Is(bErr, fs.ErrNotExist)
	}
	return os.SameFile(a, b) && a.Size() == b.Size() && a.ModTime().Equal(b.ModTime()) && a.Mode() == b.Mode()
}

// kindOf is what a name stands for: nothing, a folder, a file, something else.
func kindOf(info fs.FileInfo, err error) mark {
	switch {
	case errors.Is(err, fs.ErrNotExist):
		return "nothing"
	case err != nil:
		return mark("error " + err.Error())
	}
	return mark("mode " + info.Mode().String())
}

// at is the sight of a name; w.mu is held, as for all that follow.
func (w *watched) at(name string) *sight {
	s := w.seen[name]
	if s == nil {
		s = &sight{looked: time.Now()}
		s.info, s.err = fs.Stat(w.fsys, name)
		s.kind = kindOf(s.info, s.err)
		w.seen[name] = s
	}
	return s
}

// read reads a file's bytes and keeps them where there is room.
func (w *watched) read(name string, s *sight) []byte {
	w.held -= len(s.data)
	s.data, s.held = nil, false
	data, err := fs.ReadFile(w.fsys, name)
	s.readErr = err
	h := sha256.New()
	if err != nil {
		fmt.Fprintf(h, "error %v", err)
		s.content = mark(h.Sum(nil))
		return nil
	}
	fmt.Fprint(h, "bytes ")
	h.Write(data)
	s.content = mark(h.Sum(nil))
	if w.held+len(data) <= heldBytes {
		s.data, s.held = data, true
		w.held += len(data)
	}
	return data
}

func (w *watched) readDir(name string, s *sight) {
	s.entries, s.listErr = fs.ReadDir(w.fsys, name)
	h := sha256.New()
	if s.listErr != nil {
		fmt.Fprintf(h, "error %v", s.listErr)
	}
	for _, e := range s.entries {
		fmt.Fprintf(h, "%q %v\n", e.Name(), e.Type())
	}
	s.list = mark(h.Sum(nil))
}

// question is one that a step asked a folder about a name: one of the letters below with
// the name behind it.
type question string

const (
	aboutKind    = 'k' // what stands there
	aboutContent = 'c' // its bytes
	aboutList    = 'l' // its entries
)

func questionOf(about rune, name string) question { return question(string(about) + name) }

// answer is the mark of the answer to a question.
func (w *watched) answer(q question) mark {
	name := string(q[1:])
	w.mu.Lock()
	defer w.mu.Unlock()
	s := w.at(name)
	switch q[0] {
	case aboutContent:
		if s.content == "" {
			w.read(name, s)
		}
		return s.content
	case aboutList:
		if s.list == "" {
			w.readDir(name, s)
		}
		return s.list
	}
	return s.kind
}

// asked is the questions of a step with the marks of their answers.
type asked map[question]mark

// still says whether every question has the answer it had.
func (w *watched) still(a asked) bool {
	for q, was := range a {
		if w.answer(q) != was {
			return false
		}
	}
	return true
}

// reading is a watched folder as a file system that takes down what it is asked. Files
// are whole when they are opened.
type reading struct {
	w *watched

	mu    sync.Mutex
	asked asked // nil = nobody wants to know
}

func (r *reading) note(about rune, name string, m mark) {
	r.mu.Lock()
	defer r.mu.Unlock()
	if r.asked != nil {
		r.asked[questionOf(about, name)] = m
	}
}

// told is what was asked so far; from now on nothing is taken down.
func (r *reading) told() asked {
	r.mu.Lock()
	defer r.mu.Unlock()
	a := r.asked
	r.asked = nil
	return a
}

func valid(op, name string) error {
	if fs.ValidPath(name) {
		return nil
	}
	return &fs.PathError{Op: op, Path: name, Err: fs.ErrInvalid}
}

// Stat is of what was seen at the last refresh.
func (r *reading) Stat(name string) (fs.FileInfo, error) {
	if err := valid("stat", name); err != nil {
		return nil, err
	}
	r.w.mu.Lock()
	s := r.w.at(name)
	info, err, d := s.info, s.err, s.kind
	r.w.mu.Unlock()
	r.note(aboutKind, name, d)
	return info, err
}

// whole is a file's bytes, which nobody may change.
func (r *reading) whole(name string) ([]byte, error) {
	if err := valid("open", name); err != nil {
		return nil, err
	}
	r.w.mu.Lock()
	s := r.w.at(name)
	data := s.data
	if s.content == "" || s.readErr == nil && !s.held {
		was := s.content
		data = r.w.read(name, s)
		r.w.moved = r.w.moved || was != "" && was != s.content
	}
	err, d := s.readErr, s.content
	r.w.mu.Unlock()
	r.note(aboutContent, name, d)
	return data, err
}

// ReadFile is the file as it was seen.
func (r *reading) ReadFile(name string) ([]byte, error) {
	data, err := r.whole(name)
	return bytes.Clone(data), err
}

// ReadDir is the entries of a folder as they were seen.
func (r *reading) ReadDir(name string) ([]fs.DirEntry, error) {
	if err := valid("readdir", name); err != nil {
		return nil, err
	}
	r.w.mu.Lock()
	s := r.w.at(name)
	if s.list == "" {
		r.w.readDir(name, s)
	}
	entries, err, d := s.entries, s.listErr, s.list
	r.w.mu.Unlock()
	r.note(aboutList, name, d)
	return entries, err
}

// Open is a file as it was seen. A folder can be opened and asked for its entries.
func (r *reading) Open(name string) (fs.File, error) {
	info, err := r.Stat(name)
	if err != nil {
		return nil, err
	}
	if info.IsDir() {
		entries, err := r.ReadDir(name)
		return &openFolder{info: info, entries: entries}, err
	}
	data, err := r.whole(name)
	if err != nil {
		return nil, err
	}
	return &openFile{Reader: bytes.NewReader(data), info: info}, nil
}

type openFile struct {
	*bytes.Reader
	info fs.FileInfo
}

func (f *openFile) Stat() (fs.FileInfo, error) { return f.info, nil }
func (f *openFile) Close() error               { return nil }

type openFolder struct {
	info    fs.FileInfo
	entries []fs.DirEntry
}

func (f *openFolder) Stat() (fs.FileInfo, error) { return f.info, nil }
func (f *openFolder) Close() error               { return nil }
func (f *openFolder) Read([]byte) (int, error) {
	return 0, &fs.PathError{Op: "read", Path: f.info.Name(), Err: errors.New("it is a folder")}
}

// ReadDir is as fs.ReadDirFile says.
func (f *openFolder) ReadDir(n int) ([]fs.DirEntry, error) {
	switch {
	case n <= 0:
		n = len(f.entries)
	case len(f.entries) == 0:
		return nil, io.EOF
	}
	n = min(n, len(f.entries))
	out := f.entries[:n]
	f.entries = f.entries[n:]
	return out, nil
}
