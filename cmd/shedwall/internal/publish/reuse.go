package publish

import (
	"bufio"
	"bytes"
	"errors"
	"fmt"
	"io/fs"
	"maps"
	"os"
	"path"
	"path/filepath"
	"slices"
	"strings"
)

// madeName is the dot-file of a published folder that says what each file was made from,
// so that the next publish need not make it again.
const madeName = ".shedwall-made"

// ancestry is what is known of how a site was made. The seal stands for everything that
// went in: the program itself, every file of the guide and what was asked for. A file's
// keys stand for what went into that one, its quick sum for what came of it.
type ancestry struct {
	seal  string
	sum   Summary           // without ink
	keys  map[string]keys   // by file; none for files that are made each time
	quick map[string]string // by file
}

// keys are fingerprints of what a file was made from. By source is known before its page is
// made, and may change without the page; "" = none but the seal.
type keys struct{ model, source string }

// write is the ancestry as it stands in a published folder.
func (a ancestry) write() []byte {
	var b bytes.Buffer
	fmt.Fprintf(&b, "seal %s %d %d %d %d\n", a.seal, a.sum.Bands, a.sum.Pages, a.sum.Sheets, a.sum.Files)
	for _, name := range slices.Sorted(maps.Keys(a.quick)) {
		k := a.keys[name]
		for _, x := range []string{a.quick[name], " ", orDash(k.model), " ", orDash(k.source), "  ", name, "\n"} {
			b.WriteString(x)
		}
	}
	return b.Bytes()
}

// orDash is a word, or a dash where there is none.
func orDash(word string) string {
	if word == "" {
		return "-"
	}
	return word
}

// readAncestry reads what write wrote. A folder without it, or with one that cannot be
// read, has none: then everything is made anew.
func readAncestry(dir string) (a ancestry) {
	a.keys, a.quick = map[string]keys{}, map[string]string{}
	data, err := os.ReadFile(filepath.Join(dir, madeName))
	if err != nil {
		return a
	}
	lines := bufio.NewScanner(bytes.NewReader(data))
	for first := true; lines.Scan(); first = false {
		if first {
			if n, err := fmt.Sscanf(lines.Text(), "seal %s %d %d %d %d", &a.seal, &a.sum.Bands, &a.sum.Pages, &a.sum.Sheets, &a.sum.Files); err != nil || n != 5 {
				return ancestry{}
			}
			continue
		}
		of, name, _ := strings.Cut(lines.Text(), "  ")
		if words := strings.Fields(of); len(words) == 3 {
			a.quick[name] = words[0]
			a.keys[name] = keys{strings.TrimPrefix(words[1], "-"), strings.TrimPrefix(words[2], "-")}
		}
	}
	return a
}

// sources is one checksum for each of the guide folder's parts that can change a page.
type sources struct {
	data, content, templates string
	butCrops                 string // data without the guide's own table of crops
}

// cropsTable is the guide's own table of crops.
const cropsTable = "data/crops.csv"

// readSources reads every file of a guide folder but Go files, which lie beside the demo's
// tables and are the program's. A file that cannot be read, or a folder that is not there,
// counts by that.
func readSources(guide fs.FS) sources {
	s := sources{content: sumOf(guide, "content", ""), templates: sumOf(guide, "templates", ""), butCrops: sumOf(guide, "data", cropsTable)}
	s.data = s.butCrops + sumOf(guide, cropsTable, "")
	return s
}

// sumOf is a quick sum of all files under top but one: of their paths and their own sums.
func sumOf(guide fs.FS, top, but string) string {
	var list bytes.Buffer
	err := fs.WalkDir(guide, top, func(p string, d fs.DirEntry, err error) error {
		if err == nil && (d.IsDir() || path.Ext(p) == ".go" || p == but) {
			return nil
		}
		var q quick
		if err == nil {
			q, err = quickIn(guide, p)
		}
		if errors.Is(err, fs.ErrNotExist) {
			err = fs.ErrNotExist // in the same words, whatever holds the files
		}
		fmt.Fprintf(&list, "%q %s %v\n", p, q, err)
		return nil
	})
	fmt.Fprint(&list, err)
	return quickOf(list.Bytes()).String()
}

func quickIn(guide fs.FS, name string) (quick, error) {
	f, err := guide.Open(name)
	if err != nil {
		return quick{}, err
	}
	q, err := quickOfAll(f)
	return q, errors.Join(err, f.Close())
}

// sealed is the seal of a publish; "" where there can be none.
func (g *Guide) sealed(only []string) string {
	if program() == "" {
		return ""
	}
	seal, _ := fingerprint(program(), g.sources, g.Booklet, only)
	return seal
}

// keepable is what the site before this one may hand on. Its files are taken only as they
// were written: one that somebody changed since is made anew.
type keepable struct {
	dir  string
	sums map[string]string // SHA-256 by file
	ancestry
}

func readKeepable(dir string) keepable {
	k := keepable{dir: dir, ancestry: readAncestry(dir)}
	sums, err := readManifest(dir)
	if err != nil || len(sums) == 0 {
		return keepable{}
	}
	k.sums = sums
	return k
}

// file is where a file lies on disk.
func (k keepable) file(name string) string { return filepath.Join(k.dir, filepath.FromSlash(name)) }

// untouched says whether a file is there as it was written.
func (k keepable) untouched(name string) bool {
	if k.sums[name] == "" || k.quick[name] == "" {
		return false
	}
	q, err := quickOfFile(k.file(name))
	return err == nil && q.String() == k.quick[name]
}

// whole says whether every file of the site is there as it was written.
func (k keepable) whole() bool {
	w := newWork()
	broken := errors.New("changed")
	for name := range k.sums {
		w.do(func() error {
			if !k.untouched(name) {
				return broken
			}
			return nil
		})
	}
	return w.wait() == nil
}

// once makes files unless the site before this one has them, made from the same things by
// the same program. What make puts must be files, all of them.
func (p *press) once(files []string, make func() error, from ...any) error {
	if p.base == "" {
		return make()
	}
	key, ok := fingerprint(append([]any{p.base, files}, from...)...)
	if !ok {
		return make()
	}
	done, err := p.take(files, func(k keys) bool { return k.model == key })
	if err != nil {
		return err
	}
	if !done {
		if err := make(); err != nil {
			return err
		}
	}
	p.mu.Lock()
	defer p.mu.Unlock()
	for _, f := range files {
		p.keys[f] = keys{key, p.keys[f].source}
	}
	return nil
}

// early takes the files of a page that is not made yet over from the site before this one,
// where they were made from the same things. Where anything is another, the page may still be
// the same: once tells when it is made.
func (p *press) early(files []string, from ...any) (kept bool, err error) {
	if p.base == "" {
		return false, nil
	}
	key, ok := fingerprint(append([]any{p.base, files}, from...)...)
	if !ok {
		return false, nil
	}
	if kept, err = p.take(files, func(k keys) bool { return k.source == key }); err != nil {
		return false, err
	}
	p.mu.Lock()
	defer p.mu.Unlock()
	for _, f := range files {
		k := keys{source: key}
		if kept {
			k.model = p.old.keys[f].model
		}
		p.keys[f] = k
	}
	return kept, nil
}

// take puts files of the site before this one, all or none.
func (p *press) take(files []string, same func(keys) bool) (done bool, err error) {
	for _, f := range files {
		if !same(p.old.keys[f]) || !p.old.untouched(f) {
			return false, nil
		}
	}
	for _, f := range files {
		if err := p.site.adopt(f, p.old.sums[f], p.old.quick[f], p.old.file(f)); err != nil {
			return false, err
		}
	}
	p.mu.Lock()
	defer p.mu.Unlock()
	p.sum.Kept += len(files)
	return true, nil
}
