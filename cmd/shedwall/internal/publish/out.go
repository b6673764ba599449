package publish

import (
	"errors"
	"fmt"
	"io/fs"
	"os"
	"path/filepath"
	"slices"
	"strings"
	"unicode"
)

// OutError refuses a folder for the site as it was given: another must be named, and to try
// again is of no use.
type OutError struct{ error }

func refuse(format string, args ...any) error {
	return OutError{fmt.Errorf(format, args...)}
}

// outFolder is the whole path of an output folder. It refuses what could point
// elsewhere than it reads: a link, a step upwards, a name that some system keeps for
// itself.
func outFolder(out string) (string, error) {
	for _, step := range strings.FieldsFunc(out, func(r rune) bool { return r == '/' || r == filepath.Separator }) {
		if step == ".." {
			return "", refuse("%s steps upwards with ..; give the folder's whole path as --out", out)
		}
	}
	whole, err := filepath.Abs(out)
	if err != nil {
		return "", err
	}
	if filepath.Dir(whole) == whole {
		return "", refuse("%s is the top of everything; give a folder of its own as --out", out)
	}
	if err := portableName(filepath.Base(whole)); err != nil {
		return "", refuse("--out: %w", err)
	}
	info, err := os.Lstat(whole)
	switch {
	case errors.Is(err, fs.ErrNotExist):
		return whole, nil
	case err != nil:
		return "", err
	case info.Mode()&fs.ModeSymlink != 0:
		return "", refuse("%s is a link to another place; give the place itself as --out", whole)
	case !info.IsDir():
		return "", refuse("%s is a file, not a folder", whole)
	}
	return whole, nil
}

// ours says whether everything visible in an output folder is in its manifest. A
// folder that is absent, empty or holds only dot-files is ours to use.
func ours(out string) error {
	known, err := readManifest(out)
	if err != nil {
		return err
	}
	return filepath.WalkDir(out, func(p string, d fs.DirEntry, err error) error {
		if errors.Is(err, fs.ErrNotExist) && p == out {
			return nil
		}
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
		if d.Type()&fs.ModeSymlink != 0 {
			return refuse("%s holds the link %s, which this program did not make; move it away or give another --out", out, rel)
		}
		if _, written := known[rel]; !written && !d.IsDir() {
			return refuse("%s holds %s, which this program did not write; move it away or give another --out", out, rel)
		}
		return nil
	})
}

// portable refuses a path that some system cannot hold.
func portable(name string) error {
	if !fs.ValidPath(name) || name == "." {
		return fmt.Errorf("%q is no path within the site", name)
	}
	for part := range strings.SplitSeq(name, "/") {
		if err := portableName(part); err != nil {
			return fmt.Errorf("%s: %w", name, err)
		}
	}
	return nil
}

// reserved are names that Windows keeps for devices, with any extension.
var reserved = []string{"con", "prn", "aux", "nul", "com1", "com2", "com3", "com4", "com5", "com6", "com7", "com8", "com9",
	"lpt1", "lpt2", "lpt3", "lpt4", "lpt5", "lpt6", "lpt7", "lpt8", "lpt9"}

// portableName refuses a name of a file or folder that some system cannot hold.
func portableName(name string) error {
	stem, _, _ := strings.Cut(name, ".")
	switch {
	case slices.Contains(reserved, strings.ToLower(strings.TrimSpace(stem))):
		return fmt.Errorf("%q is a name that Windows keeps for itself; choose another", name)
	case strings.HasSuffix(name, ".") || strings.HasSuffix(name, " "):
		return fmt.Errorf("%q ends with a dot or a blank, which Windows drops; choose another", name)
	case strings.ContainsAny(name, `<>:"|?*\`) || strings.ContainsFunc(name, unicode.IsControl):
		return fmt.Errorf("%q holds a sign that no name of a file may hold on Windows; choose another", name)
	}
	return nil
}
