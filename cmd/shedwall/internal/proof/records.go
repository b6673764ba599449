package proof

import (
	"os"
	"path/filepath"
	"testing"
)

// RecordsDir is the folder of real weather records and published normals, with its
// folders daily and normals: the one that SHEDWALL_RECORDS names, else
// ../shared/records beside the project. Where there is none the test skips, or fails
// where SHEDWALL_REQUIRE names "records". The records belong to their publishers and
// are never part of the project.
func RecordsDir(t testing.TB) string {
	t.Helper()
	dir := os.Getenv("SHEDWALL_RECORDS")
	if dir == "" {
		dir = filepath.Join(Root(t), "..", "shared", "records")
	}
	if info, err := os.Stat(filepath.Join(dir, "daily")); err != nil || !info.IsDir() {
		Absent(t, "records", "no real weather records in "+dir+" (SHEDWALL_RECORDS names their folder)")
	}
	Ran(t, "records")
	return dir
}
