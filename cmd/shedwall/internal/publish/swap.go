package publish

import (
	"encoding/json"
	"errors"
	"fmt"
	"io/fs"
	"os"
	"path/filepath"
	"strings"
)

// exchange swaps two folders in one step; errors.ErrUnsupported where the system, or
// the disk, has no such step. Tests put that in its place.
var exchange = exchangeFolders

// rename is os.Rename; tests make it fail.
var rename = os.Rename

// swap puts the whole site in next in the place of out and removes the old one. Where
// the system can exchange two folders there is no moment without a site. Elsewhere the
// old one is renamed away and the new one renamed in: a journal, written first, tells
// mend how to go on after a kill in between.
func swap(out, next string) error {
	if _, err := os.Lstat(out); errors.Is(err, fs.ErrNotExist) {
		return rename(next, out)
	}
	switch err := exchange(next, out); {
	case err == nil:
		return removeOld(next)
	case !errors.Is(err, errors.ErrUnsupported):
		return err
	}
	old := next + ".old"
	if err := writeJournal(out, journal{Next: filepath.Base(next), Old: filepath.Base(old)}); err != nil {
		return err
	}
	if err := rename(out, old); err != nil {
		return errors.Join(err, os.Remove(beside(out, "swap")))
	}
	if err := rename(next, out); err != nil {
		if back := rename(old, out); back != nil {
			return errors.Join(err, back) // the journal stays: the next start tries again
		}
		return errors.Join(err, os.Remove(beside(out, "swap")))
	}
	if err := os.Remove(beside(out, "swap")); err != nil {
		return err
	}
	return removeOld(old)
}

// removeOld removes the old site once the new one is in place.
func removeOld(dir string) error {
	if err := removeSite(dir); err != nil {
		return fmt.Errorf("the new site is in place, but the old one could not be removed: %w", err)
	}
	return nil
}

// journal names the two folders of a swap by renames, siblings of the output.
type journal struct{ Next, Old string }

func writeJournal(out string, j journal) error {
	text, err := json.Marshal(j)
	if err != nil {
		return err
	}
	name := beside(out, "swap")
	if err := writeSynced(name+".part", text); err != nil {
		return err
	}
	return os.Rename(name+".part", name)
}

// writeSynced writes a file that is on the disk when it returns, or leaves none.
func writeSynced(name string, data []byte) error {
	f, err := os.Create(name)
	if err != nil {
		return err
	}
	_, err = f.Write(data)
	if err := errors.Join(err, f.Sync(), f.Close()); err != nil {
		return errors.Join(err, os.Remove(name))
	}
	return nil
}

// mend puts right what a publish that was killed left beside out: it finishes or undoes
// a swap by its journal, and removes unfinished and replaced sites. The caller holds the
// lock, so that none of them is in use.
func mend(out string) error {
	if err := mendSwap(out); err != nil {
		return err
	}
	parent := filepath.Dir(out)
	entries, err := os.ReadDir(parent)
	if err != nil {
		return err
	}
	for _, e := range entries {
		dir := filepath.Join(parent, e.Name())
		if e.IsDir() && strings.HasPrefix(dir, beside(out, "next-")) && (has(dir, unfinishedName) || has(dir, manifestName) || isEmpty(dir)) {
			if err := removeSite(dir); err != nil {
				return err
			}
		}
	}
	if has(parent, filepath.Base(beside(out, "swap.part"))) {
		return os.Remove(beside(out, "swap.part"))
	}
	return nil
}

func mendSwap(out string) error {
	name := beside(out, "swap")
	text, err := os.ReadFile(name)
	if errors.Is(err, fs.ErrNotExist) {
		return nil
	}
	if err != nil {
		return err
	}
	var j journal
	if err := json.Unmarshal(text, &j); err != nil || filepath.Base(j.Next) != j.Next || filepath.Base(j.Old) != j.Old {
		return fmt.Errorf("%s does not tell where the site is; look for it beside the file, then remove the file", name)
	}
	parent := filepath.Dir(out)
	if !has(parent, filepath.Base(out)) {
		from := j.Next // the old site had been put aside: finish
		if !has(parent, j.Next) {
			from = j.Old
		}
		if err := os.Rename(filepath.Join(parent, from), out); err != nil {
			return err
		}
	}
	// What is left of the two is removed with other leftovers.
	return os.Remove(name)
}

// has says whether a folder holds an entry.
func has(dir, name string) bool {
	_, err := os.Lstat(filepath.Join(dir, name))
	return err == nil
}

func isEmpty(dir string) bool {
	entries, err := os.ReadDir(dir)
	return err == nil && len(entries) == 0
}
