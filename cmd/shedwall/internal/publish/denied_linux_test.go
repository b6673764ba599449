package publish

import (
	"bytes"
	"errors"
	"fmt"
	"io/fs"
	"os"
	"os/exec"
	"path/filepath"
	"runtime"
	"strings"
	"syscall"
	"testing"
)

// asNobody lets the rest of the test reach files as a user without rights of their own,
// where it runs as root, to whom nothing is denied. What is below dir then belongs to that
// user.
func asNobody(t *testing.T, dir string) {
	t.Helper()
	if os.Geteuid() != 0 {
		return
	}
	const nobody = 65534
	err := filepath.WalkDir(dir, func(p string, d fs.DirEntry, err error) error {
		return errors.Join(err, os.Lchown(p, nobody, nobody))
	})
	if err != nil {
		t.Fatal(err)
	}
	for up := filepath.Dir(dir); up != os.TempDir() && up != filepath.Dir(up); up = filepath.Dir(up) {
		if err := os.Chmod(up, 0o755); err != nil {
			t.Fatal(err)
		}
	}
	runtime.LockOSThread() // the rights are the thread's
	if err := errors.Join(syscall.Setfsgid(nobody), syscall.Setfsuid(nobody)); err != nil {
		t.Fatal(err)
	}
	t.Cleanup(func() {
		if err := errors.Join(syscall.Setfsuid(0), syscall.Setfsgid(0)); err != nil {
			t.Fatal(err)
		}
		runtime.UnlockOSThread()
	})
}

// Folders that may not be written to: the site that is there stays whole or is replaced
// whole, and what cannot be done is told with the place.
func TestDenied(t *testing.T) {
	type place struct{ parent, out string }
	for name, c := range map[string]struct {
		deny func(p place) error
		told string // "" = the publish goes well
	}{
		"the folder above": {func(p place) error { return os.Chmod(p.parent, 0o555) }, "permission denied"},
		"the site's own folder and those in it": {func(p place) error {
			return errors.Join(os.Chmod(filepath.Join(p.out, "bands", "a"), 0o555), os.Chmod(filepath.Join(p.out, "bands"), 0o555), os.Chmod(p.out, 0o555))
		}, ""},
		"a folder in the site that may not be read": {func(p place) error { return os.Chmod(filepath.Join(p.out, "bands"), 0) }, "permission denied"},
		"a page that may not be read":               {func(p place) error { return os.Chmod(filepath.Join(p.out, "index.html"), 0) }, ""},
		"a dot-file that may not be read": {func(p place) error {
			return errors.Join(os.WriteFile(filepath.Join(p.out, ".htaccess"), []byte("mine"), 0), os.Chmod(filepath.Join(p.out, ".htaccess"), 0))
		}, "permission denied"},
	} {
		t.Run(name, func(t *testing.T) {
			parent := t.TempDir()
			out := filepath.Join(parent, "public")
			write(t, out, map[string]string{"index.html": "one", "bands/a/index.html": "a"})
			asNobody(t, parent)
			t.Cleanup(func() { // so that the test's folder can be removed
				for _, p := range []string{parent, out, filepath.Join(out, "bands"), filepath.Join(out, "bands", "a")} {
					_ = os.Chmod(p, 0o755)
				}
			})
			if err := c.deny(place{parent, out}); err != nil {
				t.Fatal(err)
			}
			s, err := openStage(out)
			if err == nil {
				if err = s.write("index.html", []byte("two")); err == nil {
					err = s.commit()
				}
				if err != nil {
					err = errors.Join(err, s.drop())
				}
			}
			if (c.told == "") != (err == nil) || err != nil && !strings.Contains(err.Error(), c.told) {
				t.Errorf("told %v, want %q", err, c.told)
			}
			for _, p := range []string{parent, out, filepath.Join(out, "bands"), filepath.Join(out, "index.html"), filepath.Join(out, ".htaccess")} {
				_ = os.Chmod(p, 0o755)
			}
			if err := wholeSite(out); err != nil {
				t.Error(err)
			}
			want := "one"
			if c.told == "" {
				want = "two"
			}
			if got := tree(t, out)["index.html"]; got != want {
				t.Errorf("the site is number %s, want %s", got, want)
			}
			if beside := mustRead(t, parent); len(beside) != 1 {
				t.Errorf("beside the site: %v", beside)
			}
		})
	}
}

// An old site that somebody else owns can be replaced but not removed. That is told, the
// new site is in place, and a publish after the leftover was taken away goes well.
func TestOldSiteOfSomebodyElse(t *testing.T) {
	if os.Geteuid() != 0 {
		t.Skip("only root can give a folder away")
	}
	parent := t.TempDir()
	out := filepath.Join(parent, "public")
	write(t, out, map[string]string{"index.html": "one", "bands/a/index.html": "a"})
	bands := filepath.Join(out, "bands")
	asNobody(t, parent)
	back := func(uid int, do func() error) { // as root for a moment
		if err := errors.Join(syscall.Setfsuid(0), do(), syscall.Setfsuid(uid)); err != nil {
			t.Fatal(err)
		}
	}
	back(65534, func() error { return os.Chown(bands, 0, 0) })
	s, err := openStage(out)
	if err != nil {
		t.Fatal(err)
	}
	if err := s.write("index.html", []byte("two")); err != nil {
		t.Fatal(err)
	}
	err = s.commit()
	if err == nil || !strings.Contains(err.Error(), "the new site is in place") {
		t.Errorf("told %v", err)
	}
	if err := s.lock.free(); err != nil {
		t.Error(err)
	}
	if err := wholeSite(out); err != nil || tree(t, out)["index.html"] != "two" {
		t.Errorf("%v, %v", err, tree(t, out))
	}
	if _, err := openStage(out); err == nil || !strings.Contains(err.Error(), ".public.next-") {
		t.Errorf("the next publish was told %v, want the folder that is in its way", err)
	}
	back(65534, func() error {
		old, err := filepath.Glob(filepath.Join(parent, ".public.next-*"))
		return errors.Join(err, os.RemoveAll(old[0]))
	})
	write(t, out, map[string]string{"index.html": "three"})
}

// A file stands where a folder is needed.
func TestFileInTheWay(t *testing.T) {
	parent := t.TempDir()
	put(t, filepath.Join(parent, "file"), "mine")
	for _, out := range []string{filepath.Join(parent, "file", "public"), filepath.Join(parent, "file", "a", "public")} {
		if _, err := openStage(out); !errors.Is(err, syscall.ENOTDIR) {
			t.Errorf("%s: %v", out, err)
		}
	}
	if got := tree(t, parent); len(got) != 1 || got["file"] != "mine" {
		t.Errorf("%v", got)
	}
}

// TestSmallDiskChild is what TestSmallDisk runs apart from the system's other disks.
func TestSmallDiskChild(t *testing.T) {
	parent := os.Getenv("SHEDWALL_SMALL_DISK")
	if parent == "" {
		return
	}
	mount := func(flags uintptr) error {
		return syscall.Mount("none", parent, "tmpfs", flags, "size=256k,mode=755")
	}
	if err := mount(0); err != nil {
		fmt.Println("no disk:", err)
		return
	}
	out := filepath.Join(parent, "public")
	write(t, out, map[string]string{"index.html": "one"})
	before := tree(t, parent)
	same := func(when string) {
		t.Helper()
		if err := wholeSite(out); err != nil {
			t.Errorf("%s: %v", when, err)
		}
		if got := tree(t, parent); fmt.Sprint(got) != fmt.Sprint(before) {
			t.Errorf("%s: %v", when, got)
		}
	}
	for _, pages := range []int{1, 2, 8} { // 200, 400 and 1,600 kB of 256
		s, err := openStage(out)
		if err != nil {
			t.Fatal(err)
		}
		for k := range pages {
			if err == nil {
				err = s.write(fmt.Sprintf("page%d.html", k), bytes.Repeat([]byte{'x'}, 200<<10))
			}
		}
		if pages == 1 { // what is too large is the rest of a full disk, at the manifest
			filler := filepath.Join(parent, "filler")
			for size := 64 << 10; size > 0; size /= 2 {
				f, err := os.OpenFile(filler, os.O_APPEND|os.O_CREATE|os.O_WRONLY, 0o644)
				if err != nil {
					break
				}
				_, _ = f.Write(make([]byte, size))
				f.Close()
			}
			err = s.commit()
			_ = os.Remove(filler)
		}
		if !errors.Is(err, syscall.ENOSPC) {
			t.Errorf("%d pages: %v", pages, err)
		}
		if err := s.drop(); err != nil {
			t.Error(err)
		}
		same(fmt.Sprint(pages, " pages"))
	}
	if err := mount(syscall.MS_REMOUNT | syscall.MS_RDONLY); err != nil {
		t.Fatal(err)
	}
	if _, err := openStage(out); !errors.Is(err, syscall.EROFS) {
		t.Errorf("a disk that can only be read: %v", err)
	}
	same("a disk that can only be read")
	fmt.Println("disk filled")
}

// A disk of 256 kB that really is full, and one that can only be read: the old site stays.
// The disk is mounted in a child's own view of the system, for which no rights are needed
// on most machines; where that is forbidden TestDiskFull stands alone.
func TestSmallDisk(t *testing.T) {
	cmd := exec.Command(os.Args[0], "-test.run=^TestSmallDiskChild$")
	cmd.Env = append(os.Environ(), "SHEDWALL_SMALL_DISK="+t.TempDir())
	cmd.SysProcAttr = &syscall.SysProcAttr{
		Cloneflags:  syscall.CLONE_NEWUSER | syscall.CLONE_NEWNS,
		UidMappings: []syscall.SysProcIDMap{{ContainerID: 0, HostID: os.Geteuid(), Size: 1}},
		GidMappings: []syscall.SysProcIDMap{{ContainerID: 0, HostID: os.Getegid(), Size: 1}},
	}
	out, err := cmd.CombinedOutput()
	switch {
	case errors.Is(err, syscall.EPERM) || errors.Is(err, syscall.EACCES) || errors.Is(err, syscall.ENOSPC) || strings.Contains(string(out), "no disk:"):
		t.Skipf("no disk of its own may be mounted here (%v %s); a full disk is tested with an injected error alone", err, out)
	case err != nil:
		t.Errorf("%v\n%s", err, out)
	case !strings.Contains(string(out), "disk filled"):
		t.Errorf("the child did not come to its end:\n%s", out)
	}
}
