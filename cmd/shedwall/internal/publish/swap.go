package publish

import (
	"bufio"
	"errors"
	"fmt"
	"io/fs"
	"os"
	"path"
	"path/filepath"
	"slices"
	"strings"
)

// manifestName is the dot-file in a published folder that lists what was written.
const manifestName = ".shedwall"

// stage is a site being written beside the old one. Nothing of the old site is
// touched before commit.
type stage struct {
	out, dir string
	files    []string
	made     map[string]bool
}

// openStage makes an empty sibling folder of out. It refuses an out that holds
// files nobody here wrote, since a swap would take them away.
func openStage(out string) (*stage, error) {
	out, err := filepath.Abs(out)
	if err != nil {
		return nil, err
	}
	if err := ours(out); err != nil {
		return nil, err
	}
	parent := filepath.Dir(out)
	if err := os.MkdirAll(parent, 0o755); err != nil {
		return nil, err
	}
	dir, err := os.MkdirTemp(parent, "."+filepath.Base(out)+".next-")
	if err != nil {
		return nil, err
	}
	if err := os.Chmod(dir, 0o755); err != nil {
		return nil, errors.Join(err, os.RemoveAll(dir))
	}
	return &stage{out: out, dir: dir, made: map[string]bool{".": true}}, nil
}

// ours says whether everything visible in an output folder is in its manifest. A
// folder that is absent, empty or holds only dot-files is ours to use.
func ours(out string) error {
	info, err := os.Lstat(out)
	switch {
	case errors.Is(err, fs.ErrNotExist):
		return nil
	case err != nil:
		return err
	case info.Mode()&fs.ModeSymlink != 0:
		return fmt.Errorf("%s is a link to another place; give the place itself as --out", out)
	case !info.IsDir():
		return fmt.Errorf("%s is a file, not a folder", out)
	}
	known := map[string]bool{}
	if f, err := os.Open(filepath.Join(out, manifestName)); err == nil {
		lines := bufio.NewScanner(f)
		for lines.Scan() {
			known[lines.Text()] = true
		}
		if err := errors.Join(lines.Err(), f.Close()); err != nil {
			return err
		}
	}
	return filepath.WalkDir(out, func(p string, d fs.DirEntry, err error) error {
		if err != nil || p == out {
			return err
		}
		rel, err := filepath.Rel(out, p)
		if err != nil {
			return err
		}
		rel = filepath.ToSlash(rel)
		if !strings.Contains(rel, "/") && strings.HasPrefix(rel, ".") {
			if d.IsDir() {
				return filepath.SkipDir
			}
			return nil
		}
		if !d.IsDir() && !known[rel] {
			return fmt.Errorf("%s holds %s, which this program did not write; move it away or give another --out", out, rel)
		}
		return nil
	})
}

// write adds one file, named by its path from the top of the site.
func (s *stage) write(name string, data []byte) error {
	if !fs.ValidPath(name) {
		return fmt.Errorf("%q is no path within the site", name)
	}
	if dir := path.Dir(name); !s.made[dir] {
		if err := os.MkdirAll(filepath.Join(s.dir, filepath.FromSlash(dir)), 0o755); err != nil {
			return err
		}
		s.made[dir] = true
	}
	s.files = append(s.files, name)
	return os.WriteFile(filepath.Join(s.dir, filepath.FromSlash(name)), data, 0o644)
}

// commit puts the new site in the place of the old one: dot-files at the top are
// carried over, the old folder is renamed away, the new one renamed in, and only
// then is the old one removed. Where the second rename fails the first is undone.
func (s *stage) commit() error {
	slices.Sort(s.files)
	list := strings.Join(s.files, "\n") + "\n"
	if err := os.WriteFile(filepath.Join(s.dir, manifestName), []byte(list), 0o644); err != nil {
		return err
	}
	entries, err := os.ReadDir(s.out)
	if errors.Is(err, fs.ErrNotExist) {
		return os.Rename(s.dir, s.out)
	}
	if err != nil {
		return err
	}
	for _, e := range entries {
		if strings.HasPrefix(e.Name(), ".") && e.Name() != manifestName {
			if err := copyTree(filepath.Join(s.out, e.Name()), filepath.Join(s.dir, e.Name())); err != nil {
				return err
			}
		}
	}
	old := s.dir + ".old"
	if err := os.Rename(s.out, old); err != nil {
		return err
	}
	if err := os.Rename(s.dir, s.out); err != nil {
		return errors.Join(err, os.Rename(old, s.out))
	}
	return os.RemoveAll(old)
}

// drop removes an unfinished stage.
func (s *stage) drop() error { return os.RemoveAll(s.dir) }

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
		if err := os.Mkdir(to, info.Mode().Perm()); err != nil {
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
		return nil
	}
	data, err := os.ReadFile(from)
	if err != nil {
		return err
	}
	return os.WriteFile(to, data, info.Mode().Perm())
}
