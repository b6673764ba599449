package prose

import (
	"bytes"
	"cmp"
	"errors"
	"fmt"
	"io"
	"io/fs"
	"maps"
	"path"
	"slices"
	"strconv"
	"strings"

	"shedwall/cmd/shedwall/internal/diag"
)

// Library is every text of a guide: the publisher's own over the defaults.
type Library struct {
	docs   map[string]*Doc
	spoken map[string]map[string]*Doc // language -> id -> text, from folders named like es
	images map[string]fs.FS           // path in the content folder -> where it lies
}

// inherited are the texts that speak of no region: how to read a sheet, the rules of
// safety, and the folders of crops and covers. All other defaults are the demo's own
// words and never enter another publisher's guide. What may be inherited is named, not
// what may not, so that a new text of the demo stays with the demo.
var inherited = map[string]bool{"how": true, "safety": true, "crops": true, "covers": true}

func local(id string) bool {
	top, _, _ := strings.Cut(id, "/")
	return !inherited[top]
}

// ReadFolder reads every Markdown file of a content folder. own and defaults are
// the content folders themselves; own is nil for a guide made of the defaults
// alone. A text of the publisher's own replaces the default of the same id.
//
// The error is a folder that cannot be read; everything about the texts goes to
// faults.
func ReadFolder(own, defaults fs.FS, faults *diag.List) (*Library, error) {
	l := &Library{docs: map[string]*Doc{}, spoken: map[string]map[string]*Doc{}, images: map[string]fs.FS{}}
	if defaults != nil {
		skip := func(id string) bool { return own != nil && local(id) }
		if err := l.read(defaults, own == nil, skip, faults); err != nil {
			return nil, err
		}
	}
	if own != nil {
		if err := l.read(own, true, func(string) bool { return false }, faults); err != nil {
			return nil, err
		}
	}
	l.checkImages(faults)
	return l, nil
}

func (l *Library) read(folder fs.FS, own bool, skip func(id string) bool, faults *diag.List) error {
	seen := map[string]string{}
	err := fs.WalkDir(folder, ".", func(p string, e fs.DirEntry, err error) error {
		if err != nil {
			if p == "." && errors.Is(err, fs.ErrNotExist) {
				return nil
			}
			return err
		}
		if p != "." && strings.HasPrefix(e.Name(), ".") {
			if e.IsDir() {
				return fs.SkipDir
			}
			return nil
		}
		if e.IsDir() || !e.Type().IsRegular() {
			return nil
		}
		return l.readFile(folder, p, own, skip, seen, faults)
	})
	if err != nil {
		return fmt.Errorf("content folder: %w", err)
	}
	return nil
}

func (l *Library) readFile(folder fs.FS, p string, own bool, skip func(string) bool, seen map[string]string, faults *diag.List) error {
	file := "content/" + p
	fault := func(severity diag.Severity, id, what, want, cure string) {
		faults.Add(diag.Fault{At: diag.Position{File: file}, ID: id, Severity: severity, What: what, Expected: want, Cure: cure})
	}
	ext := strings.ToLower(path.Ext(p))
	switch {
	case pictureKinds[ext]:
		l.images[p] = folder
		return nil
	case ext == ".go":
		return nil // the file that embeds the defaults
	case ext != ".md":
		fault(diag.Warning, "prose-file", "the file is not read", "Markdown files that end in .md, and pictures", "save the text as plain text with the ending .md, or move the file elsewhere")
		return nil
	}
	dir, name := path.Split(strings.TrimSuffix(p, path.Ext(p)))
	order, name := splitOrder(name)
	id := dir + name
	if strings.Trim(id, "abcdefghijklmnopqrstuvwxyz0123456789_-/") != "" || name == "" {
		fault(diag.Error, "prose-file", fmt.Sprintf("the name %q cannot become an address", p), "small letters a-z, figures, - and _", "rename the file")
		return nil
	}
	lang, id := languageFolder(id)
	if skip(id) {
		return nil
	}
	if first, dup := seen[lang+"/"+id]; dup {
		fault(diag.Error, "prose-file", fmt.Sprintf("the file has the same name as %s, once the number is taken off", first), "one file for each text", "rename or remove one of them")
		return nil
	}
	seen[lang+"/"+id] = file
	src, err := readLimited(folder, p)
	if err != nil {
		return err
	}
	d := parseIn(lang, id, file, src, faults)
	d.Order, d.Own = order, own
	if lang == "" {
		l.docs[id] = d
	} else {
		l.add(lang, d)
	}
	return nil
}

// readLimited reads no more of a file than it takes to see that it is too long.
func readLimited(folder fs.FS, p string) ([]byte, error) {
	f, err := folder.Open(p)
	if err != nil {
		return nil, err
	}
	defer f.Close()
	var b bytes.Buffer
	if info, err := f.Stat(); err == nil {
		b.Grow(int(min(info.Size(), maxBytes)) + bytes.MinRead)
	}
	_, err = b.ReadFrom(io.LimitReader(f, maxBytes+1))
	return b.Bytes(), err
}

// splitOrder takes the number off the front of a file name: "10-soil" is 10 and "soil".
func splitOrder(name string) (order int, rest string) {
	digits, after, found := strings.Cut(name, "-")
	if !found || digits == "" || after == "" || len(digits) > 4 || strings.Trim(digits, "0123456789") != "" {
		return 0, name
	}
	order, _ = strconv.Atoi(digits)
	return order, after
}

func (l *Library) checkImages(faults *diag.List) {
	for _, d := range l.everyLanguage() {
		d.Targets(func(t Inline) {
			if t.Kind != Image {
				return
			}
			if l.images[t.Target.Doc] != nil {
				l.checkPicture(t.Target, faults)
				return
			}
			// A path begins at the folder of the text that names it.
			way := strings.Repeat("../", strings.Count(d.ID, "/")) + "images/" + path.Base(t.Target.Doc)
			f := diag.Fault{
				At: t.Target.At, ID: "prose-picture", What: fmt.Sprintf("there is no picture %q", t.Target.Doc), Expected: "a file of the content folder",
				Cure: fmt.Sprintf("put the picture into content/images and write %s here: paths begin at the folder of the text", way),
			}
			known := slices.Sorted(maps.Keys(l.images))
			if l.images["images/"+path.Base(t.Target.Doc)] != nil {
				f.Cure = fmt.Sprintf("write %s: paths begin at the folder of the text", way)
			} else if near := diag.Nearest(t.Target.Doc, known); near != "" {
				f.Expected = fmt.Sprintf("perhaps %q", near)
			}
			faults.Add(f)
		})
	}
}

// Doc is the text with an id, or nil.
func (l *Library) Doc(id string) *Doc {
	if l == nil {
		return nil
	}
	return l.docs[id]
}

// All is every text, by folder, order number and id.
func (l *Library) All() []*Doc {
	if l == nil {
		return nil
	}
	out := make([]*Doc, 0, len(l.docs))
	for _, d := range l.docs {
		out = append(out, d)
	}
	slices.SortFunc(out, func(a, b *Doc) int {
		return cmp.Or(cmp.Compare(path.Dir(a.ID), path.Dir(b.ID)), cmp.Compare(a.Order, b.Order), cmp.Compare(a.ID, b.ID))
	})
	return out
}

// Pictures is the path of every picture that a text shows, sorted. Pictures that
// no text shows are not published.
func (l *Library) Pictures() []string {
	var out []string
	for _, d := range l.everyLanguage() {
		d.Targets(func(t Inline) {
			if t.Kind == Image && l.images[t.Target.Doc] != nil {
				out = append(out, t.Target.Doc)
			}
		})
	}
	slices.Sort(out)
	return slices.Compact(out)
}

// OpenPicture opens a picture by its path in the content folder.
func (l *Library) OpenPicture(p string) (fs.File, error) {
	if l == nil || l.images[p] == nil {
		return nil, &fs.PathError{Op: "open", Path: p, Err: fs.ErrNotExist}
	}
	return l.images[p].Open(p)
}
