package publish

import (
	"bufio"
	"bytes"
	"crypto/sha256"
	"encoding/hex"
	"errors"
	"fmt"
	"io"
	"io/fs"
	"os"
	"path"
	"path/filepath"
	"slices"
	"strings"
	"sync"
)

// madeName is the dot-file of a published folder that says what each file was made from,
// so that the next publish need not make it again.
const madeName = ".shedwall-made"

// ancestry is what is known of how a site was made. The seal stands for everything that
// went in: the program itself, every file of the guide and what was asked for. A file's
// key stands for what went into that one.
type ancestry struct {
	seal string
	sum  Summary           // without ink
	keys map[string]string // by file
}

// write is the ancestry as it stands in a published folder.
func (a ancestry) write() []byte {
	var b bytes.Buffer
	fmt.Fprintf(&b, "seal %s %d %d %d %d\n", a.seal, a.sum.Bands, a.sum.Pages, a.sum.Sheets, a.sum.Files)
	names := make([]string, 0, len(a.keys))
	for name := range a.keys {
		names = append(names, name)
	}
	slices.Sort(names)
	for _, name := range names {
		fmt.Fprintf(&b, "%s  %s\n", a.keys[name], name)
	}
	return b.Bytes()
}

// readAncestry reads what write wrote. A folder without it, or with one that cannot be
// read, has none: then everything is made anew.
func readAncestry(dir string) (a ancestry) {
	a.keys = map[string]string{}
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
		if key, name, ok := strings.Cut(lines.Text(), "  "); ok {
			a.keys[name] = key
		}
	}
	return a
}

// program is the SHA-256 of the running program, hexadecimal: another program may make
// other pages of the same guide, whatever its version is called. "" where the system does
// not let a program read itself; then nothing is kept from an earlier publish.
var program = sync.OnceValue(func() string {
	name, err := os.Executable()
	if err != nil {
		return ""
	}
	f, err := os.Open(name)
	if err != nil {
		return ""
	}
	defer f.Close()
	h := sha256.New()
	if _, err := io.Copy(h, f); err != nil {
		return ""
	}
	return hex.EncodeToString(h.Sum(nil))
})

// sources is one checksum for each of the guide folder's parts that can change a page.
type sources struct{ data, content, templates string }

// readSources reads every file of a guide folder but Go files, which lie beside the demo's
// tables and are the program's. A file that cannot be read, or a folder that is not there,
// counts by that.
func readSources(guide fs.FS) (s sources) {
	for top, to := range map[string]*string{"data": &s.data, "content": &s.content, "templates": &s.templates} {
		h := sha256.New()
		err := fs.WalkDir(guide, top, func(p string, d fs.DirEntry, err error) error {
			if err == nil && (d.IsDir() || path.Ext(p) == ".go") {
				return nil
			}
			if err != nil {
				fmt.Fprintf(h, "%q %v\n", p, err)
				return nil
			}
			data, err := fs.ReadFile(guide, p)
			fmt.Fprintf(h, "%q %d %v\n", p, len(data), err)
			h.Write(data)
			return nil
		})
		fmt.Fprint(h, err)
		*to = hex.EncodeToString(h.Sum(nil))
	}
	return s
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

// read is a file as it was written, with ok false where it is not any more.
func (k keepable) read(name string) (data []byte, ok bool) {
	want := k.sums[name]
	if want == "" {
		return nil, false
	}
	data, err := os.ReadFile(k.file(name))
	return data, err == nil && sum(data) == want
}

// whole says whether every file of the site is there as it was written.
func (k keepable) whole() bool {
	w := newWork()
	broken := errors.New("changed")
	for name := range k.sums {
		w.do(func() error {
			if _, ok := k.read(name); !ok {
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
	done, err := p.take(files, key)
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
		p.keys[f] = key
	}
	if done {
		p.sum.Kept += len(files)
	}
	return nil
}

// take puts files of the site before this one, all or none.
func (p *press) take(files []string, key string) (done bool, err error) {
	var data [][]byte
	for _, f := range files {
		if p.old.keys[f] != key {
			return false, nil
		}
		d, ok := p.old.read(f)
		if !ok {
			return false, nil
		}
		data = append(data, d)
	}
	for i, f := range files {
		if err := p.site.adopt(f, p.old.sums[f], p.old.file(f), data[i]); err != nil {
			return false, err
		}
	}
	return true, nil
}
