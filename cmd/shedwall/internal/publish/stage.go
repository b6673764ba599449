package publish

import (
	"bytes"
	"crypto/sha256"
	"errors"
	"fmt"
	"io/fs"
	"maps"
	"os"
	"path"
	"path/filepath"
	"slices"
	"strings"
	"sync"
)

// manifestName is the dot-file of a published folder that lists what was written, with
// the SHA-256 of each file.
const manifestName = ".shedwall"

// unfinishedName is the dot-file by which a stage is known until it is whole.
const unfinishedName = ".shedwall-unfinished"

// writeFile is os.WriteFile; tests put a full disk in its place.
var writeFile = os.WriteFile

// linkFile is os.Link; tests put a file system without links in its place.
var linkFile = os.Link

// stage is a site being written beside the old one. Nothing of the old site is touched
// before commit. Files may be written by several goroutines.
type stage struct {
	out, dir string
	lock     *lock

	mu     sync.Mutex
	from   []byte            // what each file was made from; nil = not known
	files  map[string]string // SHA-256 of what was written, hexadecimal, by path
	quick  map[string]string // its quick sum
	made   map[string]bool   // folders
	folded map[string]string // paths by their lower-case letters
}

// openStage makes an empty sibling folder of out, after mending what a publish that was
// killed left there. It refuses an out that holds files nobody here wrote, since a swap
// would take them away, and one that another publish is writing to.
func openStage(out string) (*stage, error) {
	out, err := outFolder(out)
	if err != nil {
		return nil, err
	}
	parent := filepath.Dir(out)
	if err := os.MkdirAll(parent, 0o755); err != nil {
		return nil, fmt.Errorf("%s, the folder for the site, cannot be made: %w", out, err)
	}
	l, err := takeLock(beside(out, "lock"), out)
	if err != nil {
		return nil, err
	}
	s, err := newStage(out)
	if err != nil {
		return nil, errors.Join(err, l.free())
	}
	s.lock = l
	return s, nil
}

func newStage(out string) (*stage, error) {
	if err := mend(out); err != nil {
		return nil, err
	}
	if err := ours(out); err != nil {
		return nil, err
	}
	dir, err := os.MkdirTemp(filepath.Dir(out), filepath.Base(beside(out, "next-")))
	if err != nil {
		return nil, err
	}
	if err := errors.Join(os.Chmod(dir, 0o755), writeFile(filepath.Join(dir, unfinishedName), nil, 0o644)); err != nil {
		return nil, errors.Join(err, os.RemoveAll(dir))
	}
	return &stage{out: out, dir: dir, files: map[string]string{}, quick: map[string]string{}, made: map[string]bool{".": true}, folded: map[string]string{}}, nil
}

// beside is a hidden sibling of the output folder.
func beside(out, what string) string {
	return filepath.Join(filepath.Dir(out), "."+filepath.Base(out)+"."+what)
}

// write adds one file, named by its path from the top of the site.
func (s *stage) write(name string, data []byte) error { return s.writeSummed(name, sum(data), data) }

// writeSummed is write for data whose SHA-256 is known.
func (s *stage) writeSummed(name, sum string, data []byte) error {
	file, err := s.place(name, sum, quickOf(data).String())
	if err != nil {
		return err
	}
	return writeFile(file, data, 0o644)
}

// adopt adds a file of the site before that was found untouched: by a second name for the
// same file where the system can, which spares writing it again. Nobody writes into a
// published file, so that the two names never come to differ.
func (s *stage) adopt(name, sum, quick, from string) error {
	file, err := s.place(name, sum, quick)
	if err != nil {
		return err
	}
	if linkFile(from, file) == nil {
		return nil
	}
	data, err := os.ReadFile(from)
	if err != nil {
		return err
	}
	if quickOf(data).String() != quick {
		return fmt.Errorf("%s was changed while the site was made; publish again", from)
	}
	return writeFile(file, data, 0o644)
}

// place books a path and makes its folder. The path must be one that every system can
// hold, apart from all others even where letters' case does not count.
func (s *stage) place(name, sum, quick string) (file string, err error) {
	if err := portable(name); err != nil {
		return "", err
	}
	s.mu.Lock()
	defer s.mu.Unlock()
	folded := strings.ToLower(name)
	if other, taken := s.folded[folded]; taken {
		if other == name {
			return "", fmt.Errorf("%s is written twice", name)
		}
		return "", fmt.Errorf("%s and %s are one file where the case of letters does not count", other, name)
	}
	file = filepath.Join(s.dir, filepath.FromSlash(name))
	if dir := path.Dir(name); !s.made[dir] {
		if err := os.MkdirAll(filepath.Dir(file), 0o755); err != nil {
			return "", err
		}
		s.made[dir] = true
	}
	s.folded[folded], s.files[name], s.quick[name] = name, sum, quick
	return file, nil
}

// commit puts the new site in the place of the old one, whole, with the dot-files at
// the top of the old one; only then is the old one removed.
func (s *stage) commit() error {
	old := make(chan error, 1)
	go func() { old <- ours(s.out) }() // somebody may have put a file there meanwhile
	if err := errors.Join(s.finish(), <-old); err != nil {
		return err
	}
	if err := swap(s.out, s.dir); err != nil {
		return err
	}
	return s.lock.free()
}

// finish adds the manifest and the old dot-files: the stage is a whole site then.
func (s *stage) finish() error {
	var list bytes.Buffer
	for _, name := range slices.Sorted(maps.Keys(s.files)) {
		for _, x := range []string{s.files[name], "  ", name, "\n"} {
			list.WriteString(x)
		}
	}
	if err := writeFile(filepath.Join(s.dir, manifestName), list.Bytes(), 0o644); err != nil {
		return err
	}
	if s.from != nil {
		if err := writeFile(filepath.Join(s.dir, madeName), s.from, 0o644); err != nil {
			return err
		}
	}
	entries, err := os.ReadDir(s.out)
	if err != nil && !errors.Is(err, fs.ErrNotExist) {
		return err
	}
	for _, e := range entries {
		if name := e.Name(); strings.HasPrefix(name, ".") && name != manifestName && name != unfinishedName && name != madeName {
			if err := copyTree(filepath.Join(s.out, name), filepath.Join(s.dir, name)); err != nil {
				return err
			}
		}
	}
	return os.Remove(filepath.Join(s.dir, unfinishedName))
}

// drop removes a stage that is not wanted any more.
func (s *stage) drop() error { return errors.Join(removeSite(s.dir), s.lock.free()) }

// readManifest is the files of a published folder, each with its SHA-256 where that is
// known; nothing where there is no manifest.
// Lines are as sha256sum writes them; those of earlier manifests are a path alone.
func readManifest(dir string) (map[string]string, error) {
	data, err := os.ReadFile(filepath.Join(dir, manifestName))
	if errors.Is(err, fs.ErrNotExist) {
		return nil, nil
	}
	if err != nil {
		return nil, err
	}
	files := map[string]string{}
	for line := range strings.Lines(string(data)) {
		line = strings.TrimRight(line, "\r\n")
		if sum, name, ok := strings.Cut(line, "  "); ok && len(sum) == 2*sha256.Size {
			files[name] = sum
		} else {
			files[line] = ""
		}
	}
	return files, nil
}

// removeSite removes a stage or a replaced site. What tells that it is one goes last, so
// that what is left after a kill is known and removed by the next publish.
func removeSite(dir string) error {
	_ = os.Chmod(dir, 0o755) // the publisher may have taken the right to write away
	entries, err := os.ReadDir(dir)
	if err != nil {
		return removeTree(dir)
	}
	for _, e := range entries {
		if name := e.Name(); name != manifestName && name != unfinishedName {
			if err := removeTree(filepath.Join(dir, name)); err != nil {
				return err
			}
		}
	}
	return removeTree(dir)
}

// removeTree removes a folder with everything in it, folders that may not be written
// to among them.
func removeTree(dir string) error {
	if err := os.RemoveAll(dir); err == nil {
		return nil
	}
	_ = filepath.WalkDir(dir, func(p string, d fs.DirEntry, err error) error {
		if d != nil && d.IsDir() {
			_ = os.Chmod(p, 0o755)
		}
		return nil
	})
	return os.RemoveAll(dir)
}

// copyTree copies a file or folder with its modes; links are copied as links.
func copyTree(from, to string) error {
	info, err := os.Lstat(from)
	if err != nil {
		return err
	}
	switch {
	case info.Mode()&fs.ModeSymlink != 0:
		target, err := os.Readlink(from)
		if err != nil {
			return err
		}
		return os.Symlink(target, to)
	case info.IsDir():
		if err := os.Mkdir(to, 0o755); err != nil {
			return err
		}
		entries, err := os.ReadDir(from)
		if err != nil {
			return err
		}
		for _, e := range entries {
			if err := copyTree(filepath.Join(from, e.Name()), filepath.Join(to, e.Name())); err != nil {
				return err
			}
		}
		return os.Chmod(to, info.Mode().Perm())
	case !info.Mode().IsRegular():
		return fmt.Errorf("%s is neither file, folder nor link, and cannot be kept; move it away", from)
	}
	data, err := os.ReadFile(from)
	if err != nil {
		return err
	}
	return writeFile(to, data, info.Mode().Perm())
}
