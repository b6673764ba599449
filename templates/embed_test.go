package templates

import (
	"io/fs"
	"os"
	"slices"
	"strings"
	"testing"
)

// Every file on the disk must be in the program: a name that the patterns miss
// would work here and be gone for whoever installs it.
func TestEmbeddedIsWhatIsOnDisk(t *testing.T) {
	list := func(f fs.FS) (names []string) {
		err := fs.WalkDir(f, ".", func(p string, e fs.DirEntry, err error) error {
			if err == nil && !e.IsDir() && !strings.HasSuffix(p, ".go") {
				names = append(names, p)
			}
			return err
		})
		if err != nil {
			t.Fatal(err)
		}
		slices.Sort(names)
		return names
	}
	if disk, embedded := list(os.DirFS(".")), list(FS); !slices.Equal(disk, embedded) {
		t.Errorf("on disk %v\nembedded %v", disk, embedded)
	}
}
