package content

import (
	"io/fs"
	"os"
	"path"
	"slices"
	"testing"
)

// names lists every file of a file system but the Go files, sorted.
func names(t *testing.T, fsys fs.FS) []string {
	t.Helper()
	var list []string
	err := fs.WalkDir(fsys, ".", func(name string, d fs.DirEntry, err error) error {
		if err == nil && !d.IsDir() && path.Ext(name) != ".go" {
			list = append(list, name)
		}
		return err
	})
	if err != nil {
		t.Fatal(err)
	}
	slices.Sort(list)
	return list
}

func TestEmbeddedNamesAreThoseOnDisk(t *testing.T) {
	disk, embedded := names(t, os.DirFS(".")), names(t, FS)
	for _, name := range disk {
		if !slices.Contains(embedded, name) {
			t.Errorf("%s is on disk and not embedded: name its folder in embed.go", name)
		}
	}
	for _, name := range embedded {
		if !slices.Contains(disk, name) {
			t.Errorf("%s is embedded and not on disk", name)
		}
	}
	if len(disk) == 0 {
		t.Error("no files found")
	}
}
