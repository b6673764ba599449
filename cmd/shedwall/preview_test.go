//go:build unix

package main

import (
	"bufio"
	"io/fs"
	"maps"
	"net"
	"net/http"
	"os"
	"os/exec"
	"path/filepath"
	"strings"
	"syscall"
	"testing"
	"time"
)

// A port at which something listens ends the preview at once, with a reason and code 3.
func TestPreviewPortTaken(t *testing.T) {
	l, err := net.Listen("tcp", "127.0.0.1:0")
	if err != nil {
		t.Fatal(err)
	}
	defer l.Close()
	var said strings.Builder
	if code := run([]string{"preview", "--guide", t.TempDir(), "--listen", l.Addr().String()}, &said, &said); code != exitIO || !strings.Contains(said.String(), l.Addr().String()+": another program listens there") {
		t.Errorf("code %d: %s", code, said.String())
	}
}

// entries is every file and folder below a folder with its mode, size and time.
func entries(t *testing.T, dir string) map[string]string {
	t.Helper()
	out := map[string]string{}
	err := filepath.WalkDir(dir, func(p string, d fs.DirEntry, err error) error {
		if err != nil {
			return err
		}
		info, err := d.Info()
		if err == nil {
			out[p] = info.Mode().String() + info.ModTime().String()
			if !d.IsDir() {
				var data []byte
				data, err = os.ReadFile(p)
				out[p] += string(data)
			}
		}
		return err
	})
	if err != nil {
		t.Fatal(err)
	}
	return out
}

// Interrupted while a page is being made, or left to wait, the program ends by itself with
// code 0. The guide is as it was, an old site in it too, and nothing is left beside it or
// in the folder for temporary files.
func TestPreviewInterrupted(t *testing.T) {
	for _, signal := range []os.Signal{syscall.SIGTERM, os.Interrupt} {
		parent, temp := t.TempDir(), t.TempDir()
		dir := filepath.Join(parent, "guide")
		tinyGuide(t, dir, 1)
		if err := os.MkdirAll(filepath.Join(dir, "public"), 0o755); err != nil {
			t.Fatal(err)
		}
		if err := os.WriteFile(filepath.Join(dir, "public", "index.html"), []byte("old"), 0o644); err != nil {
			t.Fatal(err)
		}
		before := entries(t, parent)
		cmd := exec.Command("shedwall", "preview", "--guide", dir, "--listen", "127.0.0.1:0")
		cmd.Env = append(os.Environ(), "TMPDIR="+temp)
		said, err := cmd.StderrPipe()
		if err != nil {
			t.Fatal(err)
		}
		if err := cmd.Start(); err != nil {
			t.Fatal(err)
		}
		lines := bufio.NewScanner(said)
		lines.Scan()
		at := strings.TrimPrefix(strings.TrimSuffix(lines.Text(), " (Ctrl-C ends it)"), "preview at ")
		go func() {
			for lines.Scan() {
			}
		}()
		asked := make(chan struct{})
		go func() {
			defer close(asked)
			if r, err := http.Get(at + "guide.html"); err == nil {
				r.Body.Close()
			}
		}()
		time.Sleep(150 * time.Millisecond) // it is being read and planned now
		if err := cmd.Process.Signal(signal); err != nil {
			t.Fatal(err)
		}
		ended := time.AfterFunc(time.Minute, func() { _ = cmd.Process.Kill() })
		err = cmd.Wait()
		if !ended.Stop() || err != nil {
			t.Errorf("%v: %v, at %q", signal, err, at)
		}
		<-asked
		if after := entries(t, parent); !maps.Equal(before, after) {
			t.Errorf("%v: the guide or its folder is not as it was", signal)
		}
		if left := names(t, temp); left != "" {
			t.Errorf("%v: left in the folder for temporary files: %s", signal, left)
		}
	}
}
