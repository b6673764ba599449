package publish

import (
	"errors"
	"os"
	"path/filepath"
	"strings"
	"testing"
)

// byRenames makes swaps go as on a system that cannot exchange folders; at is asked
// before every rename, and an error of it stands for a program that was killed there.
func byRenames(t *testing.T, at func(n int) error) {
	t.Helper()
	n := 0
	exchange = func(a, b string) error { return errors.ErrUnsupported }
	rename = func(from, to string) error {
		n++
		if err := at(n); err != nil {
			return err
		}
		return os.Rename(from, to)
	}
	t.Cleanup(func() { exchange, rename = exchangeFolders, os.Rename })
}

// Where folders cannot be exchanged two renames do it, and nothing is left beside.
func TestSwapByRenames(t *testing.T) {
	parent := t.TempDir()
	out := filepath.Join(parent, "public")
	write(t, out, map[string]string{"index.html": "one"})
	byRenames(t, func(int) error { return nil })
	write(t, out, map[string]string{"index.html": "two"})
	if got := tree(t, parent); got["public/index.html"] != "two" || len(got) != 2 { // and the manifest
		t.Errorf("%v", got)
	}
}

// A rename that fails is undone: the old site stays. One that dies between the two
// renames, nothing undone, leaves a journal by which the next publish puts a whole site
// in place before it does anything else.
func TestSwapBrokenOff(t *testing.T) {
	for _, c := range []struct {
		name string
		fail func(n int) error
		want string
	}{
		{"first rename fails", func(n int) error { return failAt(n == 1) }, "one"},
		{"second fails and is undone", func(n int) error { return failAt(n == 2) }, "one"},
		{"killed between the two", func(n int) error { return failAt(n >= 2) }, "two"},
	} {
		parent := t.TempDir()
		out := filepath.Join(parent, "public")
		exchange, rename = exchangeFolders, os.Rename
		write(t, out, map[string]string{"index.html": "one"})
		s, err := openStage(out)
		if err != nil {
			t.Fatal(err)
		}
		if err := s.write("index.html", []byte("two")); err != nil {
			t.Fatal(err)
		}
		byRenames(t, c.fail)
		if err := s.commit(); err == nil {
			t.Errorf("%s: nothing told", c.name)
		}
		if err := s.lock.free(); err != nil { // a killed program holds none
			t.Fatal(err)
		}
		rename = os.Rename
		if err := mend(out); err != nil {
			t.Fatalf("%s: %v", c.name, err)
		}
		got := tree(t, parent)
		if got["public/index.html"] != c.want || len(got) != 2 {
			t.Errorf("%s: %v, want %s", c.name, got, c.want)
		}
	}
}

func failAt(now bool) error {
	if now {
		return errors.New("no more power")
	}
	return nil
}

// A disk that is full while files or the manifest are written leaves the old site.
func TestDiskFull(t *testing.T) {
	parent := t.TempDir()
	out := filepath.Join(parent, "public")
	write(t, out, map[string]string{"index.html": "one"})
	defer func() { writeFile = os.WriteFile }()
	for _, room := range []int{1, 2} { // of the unfinished mark, the page, the manifest
		left := room
		writeFile = func(name string, data []byte, mode os.FileMode) error {
			if left--; left < 0 {
				return errors.New("no space left")
			}
			return os.WriteFile(name, data, mode)
		}
		s, err := openStage(out)
		if err != nil {
			t.Fatal(err)
		}
		if err = s.write("index.html", []byte("two")); err == nil {
			err = s.commit()
		}
		if err == nil || !strings.Contains(err.Error(), "no space") {
			t.Errorf("room for %d files: %v", room, err)
		}
		if err := s.drop(); err != nil {
			t.Error(err)
		}
		if got := tree(t, parent); got["public/index.html"] != "one" || len(got) != 2 {
			t.Errorf("room for %d files: %v", room, got)
		}
	}
}

// Two publishes at once: the second is told who is writing, and the first goes on.
func TestTwoAtOnce(t *testing.T) {
	out := filepath.Join(t.TempDir(), "public")
	s, err := openStage(out)
	if err != nil {
		t.Fatal(err)
	}
	if _, err := openStage(out); err == nil || !strings.Contains(err.Error(), "another publish (process") {
		t.Errorf("the second was told %v", err)
	}
	if err := s.write("index.html", []byte("one")); err != nil {
		t.Fatal(err)
	}
	if err := s.commit(); err != nil {
		t.Fatal(err)
	}
	write(t, out, map[string]string{"index.html": "two"})
}

// Places that a publish must not write to are refused with the reason.
func TestPlacesRefused(t *testing.T) {
	parent := t.TempDir()
	if err := os.Symlink(parent, filepath.Join(parent, "link")); err != nil {
		t.Skip("no links here: ", err)
	}
	for out, why := range map[string]string{
		filepath.Join(parent, "link"): "link", parent + "/a/../b": "upwards", "/": "top of everything", filepath.Join(parent, "con"): "Windows",
	} {
		if _, err := openStage(out); err == nil || !strings.Contains(err.Error(), why) {
			t.Errorf("%s: %v", out, err)
		}
	}
	s, err := openStage(filepath.Join(parent, "public"))
	if err != nil {
		t.Fatal(err)
	}
	defer s.drop()
	if err := s.write("crops/kale.html", nil); err != nil {
		t.Fatal(err)
	}
	for name, why := range map[string]string{"../x.html": "no path", "crops/Kale.html": "case of letters", "aux.html": "Windows", "crops/kale.html": "twice"} {
		if err := s.write(name, nil); err == nil || !strings.Contains(err.Error(), why) {
			t.Errorf("%s: %v", name, err)
		}
	}
}
