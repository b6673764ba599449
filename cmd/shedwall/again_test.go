package main

import (
	"errors"
	"maps"
	"os"
	"path/filepath"
	"slices"
	"strings"
	"testing"

	"shedwall/cmd/shedwall/internal/publish"
	"shedwall/content"
	"shedwall/data"
	"shedwall/templates"
)

// guideOnDisk is scriptGuide in a folder of its own.
func guideOnDisk(t *testing.T) string {
	t.Helper()
	dir := t.TempDir()
	for name, text := range scriptGuide {
		putText(t, filepath.Join(dir, "data", name), text)
	}
	return dir
}

func putText(t *testing.T, file, text string) {
	t.Helper()
	if err := os.MkdirAll(filepath.Dir(file), 0o755); err != nil {
		t.Fatal(err)
	}
	if err := os.WriteFile(file, []byte(text), 0o644); err != nil {
		t.Fatal(err)
	}
}

// publishTo publishes a guide and gives what was published, and how many of its files were
// taken over from the site that stood there.
func publishTo(t *testing.T, guide, out string, only ...string) (files map[string]string, kept int) {
	t.Helper()
	g, err := publish.Load(os.DirFS(guide), folders{"data": data.FS, "content": content.FS, "templates": templates.FS})
	if err != nil {
		t.Fatal(err)
	}
	if g.Faults.HasErrors() {
		t.Fatal(g.Faults.Sorted())
	}
	sum, err := g.Publish(out, only)
	if err != nil {
		t.Fatal(err)
	}
	files = map[string]string{}
	err = filepath.WalkDir(out, func(p string, d os.DirEntry, err error) error {
		if err != nil || d.IsDir() {
			return err
		}
		text, err := os.ReadFile(p)
		name, _ := filepath.Rel(out, p)
		files[filepath.ToSlash(name)] = string(text)
		return err
	})
	if err != nil {
		t.Fatal(err)
	}
	return files, sum.Kept
}

// Whatever is changed between two publishes, the second gives what a first one would: no
// page is ever kept that should be another.
func TestPublishAgain(t *testing.T) {
	changes := []struct {
		name   string
		change func(t *testing.T, guide, out string)
		only   []string
		share  float64 // of the files that must be taken over, at least

		sameGuide bool // what was changed is the published folder
	}{
		{"nothing", func(*testing.T, string, string) {}, nil, 0.98, true},
		{"a crop's limit", func(t *testing.T, guide, _ string) {
			putText(t, filepath.Join(guide, "data/crops.csv"), "crop,chill_c\nbasil,9.5\n")
		}, nil, 0.7, false},
		{"a crop's name, as it was but now the publisher's own", func(t *testing.T, guide, _ string) {
			putText(t, filepath.Join(guide, "data/crops.csv"), "crop,name\nbasil,Basil\n")
		}, nil, 0.7, false},
		{"a crop's note", func(t *testing.T, guide, _ string) {
			putText(t, filepath.Join(guide, "data/crops.csv"), "crop,note\nbasil,Pinch it often.\n")
		}, nil, 0.7, false},
		{"a crop that is left out", func(t *testing.T, guide, _ string) {
			putText(t, filepath.Join(guide, "data/crops.csv"), "crop,use\nbasil,no\n")
		}, nil, 0, false},
		{"a crop of the publisher's own", func(t *testing.T, guide, _ string) {
			putText(t, filepath.Join(guide, "data/crops.csv"), "crop,name,group,class,start,cycle\nsorrel_own,Red sorrel,herb,hardy,outside,perennial\n")
		}, nil, 0, false},
		{"a band", func(t *testing.T, guide, _ string) {
			putText(t, filepath.Join(guide, "data/bands.csv"), scriptGuide["bands.csv"]+"top,Alder Top,500,650,ridge,5a\n")
		}, nil, 0, false},
		{"a text", func(t *testing.T, guide, _ string) {
			putText(t, filepath.Join(guide, "content/bands/slopes.md"), "# Slopes\n\nStones keep warm. See [basil](../crops/basil.md).\n")
		}, nil, 0, false},
		{"a text that is linked to", func(t *testing.T, guide, _ string) {
			putText(t, filepath.Join(guide, "content/1-frames.md"), "# How we build frames\n\nOf old windows.\n")
		}, nil, 0, false},
		{"the style", func(t *testing.T, guide, _ string) {
			putText(t, filepath.Join(guide, "templates/style.css"), "body { color: black; }\n")
		}, nil, 0, false},
		{"a template", func(t *testing.T, guide, _ string) {
			putText(t, filepath.Join(guide, "templates/html/sketch.html"), "{{define \"sketch\"}}<svg aria-hidden=\"true\"></svg>{{end}}{{define \"gallery\"}}{{end}}\n")
		}, nil, 0, false},
		{"a word", func(t *testing.T, guide, _ string) {
			putText(t, filepath.Join(guide, "data/words.csv"), "key,en,review_en\nnav.find,Where is my garden,reviewed\n")
		}, nil, 0, false},
		{"the edition", func(t *testing.T, guide, _ string) {
			putText(t, filepath.Join(guide, "data/guide.csv"), strings.Replace(scriptGuide["guide.csv"], "edition,1", "edition,2", 1))
		}, nil, 0, false},
		{"a published page", func(t *testing.T, _, out string) {
			putText(t, filepath.Join(out, "crops/basil.html"), "somebody wrote here")
		}, nil, 0, true},
		{"a letter of a published page, its length and time as before", func(t *testing.T, _, out string) {
			name := filepath.Join(out, "crops/basil.html")
			data, err := os.ReadFile(name)
			if err != nil {
				t.Fatal(err)
			}
			info, err := os.Stat(name)
			if err != nil {
				t.Fatal(err)
			}
			data[len(data)/2] ^= 1
			if err := errors.Join(os.WriteFile(name, data, 0o644), os.Chtimes(name, info.ModTime(), info.ModTime())); err != nil {
				t.Fatal(err)
			}
		}, nil, 0, true},
		{"a page that is gone", func(t *testing.T, _, out string) {
			if err := os.Remove(filepath.Join(out, "find.html")); err != nil {
				t.Fatal(err)
			}
		}, nil, 0, true},
		{"what is known of how it was made", func(t *testing.T, _, out string) {
			putText(t, filepath.Join(out, ".shedwall-made"), "seal of a broken line\n")
		}, nil, 0, true},
		{"one band of two", func(t *testing.T, guide, _ string) {
			putText(t, filepath.Join(guide, "data/bands.csv"), scriptGuide["bands.csv"]+"top,Alder Top,500,650,ridge,5a\n")
		}, []string{"top"}, 0, false},
	}
	first := t.TempDir()
	asFirst, _ := publishTo(t, guideOnDisk(t), filepath.Join(first, "site"))
	for _, c := range changes {
		t.Run(c.name, func(t *testing.T) {
			guide, top := guideOnDisk(t), t.TempDir()
			out := filepath.Join(top, "site")
			if err := os.CopyFS(top, os.DirFS(first)); err != nil {
				t.Fatal(err)
			}
			c.change(t, guide, out)
			again, kept := publishTo(t, guide, out, c.only...)
			anew := asFirst
			if !c.sameGuide {
				var none int
				if anew, none = publishTo(t, guide, filepath.Join(top, "new"), c.only...); none != 0 {
					t.Errorf("a first publish took over %d files", none)
				}
			}
			if least := int(c.share * float64(len(anew))); kept < least {
				t.Errorf("%d of %d files were taken over, want at least %d", kept, len(anew), least)
			}
			for _, name := range slices.Sorted(maps.Keys(anew)) {
				if again[name] != anew[name] {
					t.Errorf("%s is not what a first publish makes", name)
				}
			}
			for name := range again {
				if _, ok := anew[name]; !ok {
					t.Errorf("%s is left over", name)
				}
			}
		})
	}
}
