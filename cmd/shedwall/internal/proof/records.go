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

// ReferenceFile is a file of published figures, from the folder reference beside the records.
// Where it is absent the test skips, or fails where SHEDWALL_REQUIRE names "reference": the
// records may be there without it.
func ReferenceFile(t testing.TB, name string) string {
	t.Helper()
	file := filepath.Join(RecordsDir(t), "..", "reference", name)
	if _, err := os.Stat(file); err != nil {
		Absent(t, "reference", "no published figures: "+err.Error())
	}
	Ran(t, "reference")
	return file
}
