package preview

import (
	"io/fs"
	"os"
	"path/filepath"
	"testing"
)

// smallGuide is a guide of two typed dates and one band, in a folder of its own. The
// figures are invented.
func smallGuide(t testing.TB) string {
	t.Helper()
	dir := t.TempDir()
	for name, text := range map[string]string{
		"data/guide.csv": "setting,value\ntitle,Upper Alder\npublisher,Alder Circle\ncontact,post@alder.example\n" +
			"edition,1\nedition_date,2026-02-01\nlanguage,en\n",
		"data/stations.csv": "station,name,latitude,longitude,elevation_m,position,zone\nschool,Alder School,44.21,-38.1,410,slope,5a\n",
		"data/bands.csv":    "band,name,low_m,high_m,position,zone\nslopes,Alder Slopes,350,500,slope,5a\n",
		"data/places.csv":   "place,elevation_m,position\nAlder Corner,430,slope\n",
		"data/freeze.csv":   "station,event,below_c,odds_percent,date\nschool,last,0,50,05-18\nschool,first,0,50,09-28\n",
		"content/index.md":  "# Alder\n\nWelcome to Alder.\n",
		"content/.draft.md": "# Not for readers\n",
		"private.txt":       "nobody's business\n",
	} {
		save(t, filepath.Join(dir, filepath.FromSlash(name)), text)
	}
	return dir
}

func save(t testing.TB, file, text string) {
	t.Helper()
	if err := os.MkdirAll(filepath.Dir(file), 0o755); err != nil {
		t.Fatal(err)
	}
	if err := os.WriteFile(file, []byte(text), 0o644); err != nil {
		t.Fatal(err)
	}
}

// tree is every file and folder below a folder, with its bytes, mode and time.
func tree(t testing.TB, dir string) map[string]string {
	t.Helper()
	out := map[string]string{}
	err := filepath.WalkDir(dir, func(p string, d fs.DirEntry, err error) error {
		if err != nil {
			return err
		}
		info, err := d.Info()
		if err != nil {
			return err
		}
		text := info.Mode().String() + info.ModTime().String()
		if !d.IsDir() {
			data, err := os.ReadFile(p)
			if err != nil {
				return err
			}
			text += string(data)
		}
		out[p] = text
		return nil
	})
	if err != nil {
		t.Fatal(err)
	}
	return out
}
