package publish

import (
	"bytes"
	"io/fs"
	"os"
	"path"
	"path/filepath"
	"slices"
	"strings"
	"testing"
	"time"

	"shedwall/cmd/shedwall/internal/diag"
)

const root = "../../../.."

// smallDemo is the demo guide with two of its bands and a few of its crops, in a folder of
// its own: every kind of page in both languages, at a tenth of the work.
func smallDemo(t *testing.T) string {
	t.Helper()
	dir := t.TempDir()
	bands := []string{"thessock_slopes", "sumpney_hollow"}
	crops := []string{"tomato", "kale", "pea", "potato", "statice", "garlic", "lettuce_leaf", "bean_lima", "corn_sweet", "cucumber"}
	for _, top := range []string{"data", "content"} {
		err := fs.WalkDir(os.DirFS(root), top, func(p string, d fs.DirEntry, err error) error {
			if err != nil || d.IsDir() || path.Ext(p) == ".go" {
				return err
			}
			if strings.HasPrefix(p, "data/builtin/") || strings.Contains(p, "/bands/") && !slices.Contains(bands, strings.TrimSuffix(path.Base(p), ".md")) {
				return nil
			}
			data, err := os.ReadFile(filepath.Join(root, p))
			if err != nil {
				return err
			}
			text := string(data)
			switch path.Base(p) {
			case "bands.csv", "sheets.csv", "reports.csv":
				text = linesOf(text, func(line string) bool {
					return slices.ContainsFunc(bands, func(id string) bool { return strings.Contains(line, id+",") })
				})
			case "2.csv": // the edition printed before
				text = linesOf(text, func(line string) bool {
					f := strings.Split(line, ",")
					return len(f) < 3 || f[0] != "date" && f[0] != "figure" || slices.Contains(bands, f[1]) && slices.Contains(crops, f[2])
				})
			case "places.csv":
				text = "place,elevation_m,position\nLanterrow,770,slope\nSumpney,920,hollow\n"
			case "words.csv":
				text = linesOf(text, func(line string) bool {
					id, isBand := strings.CutPrefix(line, "band.")
					id, _, _ = strings.Cut(id, ".")
					return !isBand || slices.Contains(bands, id)
				})
			}
			put(t, filepath.Join(dir, p), text)
			return nil
		})
		if err != nil {
			t.Fatal(err)
		}
	}
	builtin, err := os.ReadFile(filepath.Join(root, "data/builtin/crops.csv"))
	if err != nil {
		t.Fatal(err)
	}
	own := "crop,use,young_damage_c,note\n"
	for line := range strings.Lines(string(builtin)) {
		id, _, _ := strings.Cut(line, ",")
		switch {
		case id == "crop":
		case slices.Contains(crops, id):
			own += id + ",,,\n"
		default:
			own += id + ",no,,\n"
		}
	}
	put(t, filepath.Join(dir, "data/crops.csv"), own)
	return dir
}

// linesOf keeps the first line of a table and some others.
func linesOf(text string, keep func(line string) bool) string {
	var out strings.Builder
	for line := range strings.Lines(text) {
		if out.Len() == 0 || keep(line) {
			out.WriteString(line)
		}
	}
	return out.String()
}

func openDemo(dir string) *Live { return OpenLive(os.DirFS(dir), os.DirFS(root)) }

func edit(t *testing.T, file, old, with string) {
	t.Helper()
	data, err := os.ReadFile(file)
	if err != nil {
		t.Fatal(err)
	}
	if !strings.Contains(string(data), old) {
		t.Fatalf("%s does not hold %q", file, old)
	}
	put(t, file, strings.Replace(string(data), old, with, 1))
}

func told(s State) string {
	var b strings.Builder
	for _, f := range s.Faults {
		b.WriteString(f.String() + "\n")
	}
	return b.String()
}

// Every file of a published site is the same when it is asked for one by one, in any
// order, and no other file is there.
func TestLiveAsPublished(t *testing.T) {
	dir, out := smallDemo(t), filepath.Join(t.TempDir(), "site")
	before := tree(t, dir)
	g, err := Load(os.DirFS(dir), os.DirFS(root))
	if err != nil || g.Faults.HasErrors() {
		t.Fatal(err, g.Faults.Sorted())
	}
	if _, err := g.Publish(out, nil); err != nil {
		t.Fatal(err)
	}
	site := tree(t, out)
	l := openDemo(dir)
	names := make([]string, 0, len(site))
	for name := range site {
		names = append(names, name)
	}
	slices.Sort(names)
	slices.Reverse(names) // not in the order in which publish makes them
	for _, name := range names {
		got := l.File(name)
		switch {
		case strings.HasPrefix(name, "."):
			if got.Found {
				t.Errorf("%s is no file of the site", name)
			}
		case !got.Found || !got.Good || got.Old:
			t.Errorf("%s: found %v, good %v, old %v\n%s", name, got.Found, got.Good, got.Old, told(got.State))
		case string(got.Data) != site[name]:
			t.Errorf("%s: not the bytes that publish writes", name)
		}
	}
	for _, name := range []string{"", ".", "index", "bands/thessock_slopes", "bands/nowhere/index.html", "crops/tomato-2.html", "es", "es/es/index.html", "sheet.html", "inputs", "inputs/data/builtin/crops.csv", "bands/thessock_slopes/sheet.md", "style.css.html", "guide.pdf"} {
		if l.File(name).Found {
			t.Errorf("%q is found", name)
		}
	}
	if after := tree(t, dir); !equalTrees(before, after) {
		t.Error("the guide folder changed")
	}
}

func equalTrees(a, b map[string]string) bool {
	if len(a) != len(b) {
		return false
	}
	for name, text := range a {
		if other, ok := b[name]; !ok || other != text {
			return false
		}
	}
	return true
}

// kinds is a file of each kind of page.
var kinds = []string{
	"index.html", "find.html", "quality.html", "sources.html", "crops/index.html", "words.html", "growers.html", "handover.html", "how.html", "moved.html", "guide.md",
	"covers/tunnel.html", "covers/film_house.md", "crops/tomato.html", "crops/kale.md", "es/crops/tomato.html", "es/covers/fabric.html", "es/index.html",
	"bands/thessock_slopes/index.html", "es/bands/thessock_slopes/index.html", "bands/sumpney_hollow/tonight.html", "bands/thessock_slopes/worksheet.html", "bands/thessock_slopes/tasks.html",
	"bands/thessock_slopes/sheet.html", "es/bands/sumpney_hollow/sheet.html", "bands/thessock_slopes/sheet-both.html", "bands/thessock_slopes/sheet-a4.pdf", "bands/thessock_slopes/calendar.csv", "bands/sumpney_hollow/calendar.ics",
	"style.css", "images/sheet.png", "inputs/checksums.txt", "inputs/data/crops.csv",
}

// After any edit, every kind of page is what a guide opened anew makes of the same folder:
// nothing of an earlier state shows in it. Each edit must change something.
func TestLiveAfterEdits(t *testing.T) {
	dir := smallDemo(t)
	at := func(name string) string { return filepath.Join(dir, filepath.FromSlash(name)) }
	l := openDemo(dir)
	last := map[string][]byte{}
	for _, x := range []struct {
		what string
		do   func()
		asks []string // besides one page in six; others are asked after a later edit
		same []string // pages that the edit must leave alone
	}{
		{"nothing", func() {}, kinds, nil},
		{"a text of a crop", func() { edit(t, at("content/crops/kale.md"), "\n\n", "\n\nSeen at once. ") }, []string{"crops/kale.md", "guide.md", "handover.html"}, []string{"index.html", "bands/thessock_slopes/index.html"}},
		{"a text of a cover", func() { edit(t, at("content/covers/tunnel.md"), "\n\n", "\n\nSeen at once. ") }, []string{"covers/tunnel.html"}, nil},
		{"a text of a band", func() { edit(t, at("content/bands/thessock_slopes.md"), "\n\n", "\n\nSeen at once. ") }, []string{"bands/thessock_slopes/index.html"}, nil},
		{"a crop's row", func() { edit(t, at("data/crops.csv"), "tomato,,,", "tomato,,2.5,tender") }, kinds, nil},
		{"the row again, as long as before", func() { edit(t, at("data/crops.csv"), "tomato,,2.5,", "tomato,,3.5,") }, []string{"crops/tomato.html", "bands/thessock_slopes/sheet-a4.pdf"}, nil},
		{"a text for a crop that had none", func() { put(t, at("content/crops/cucumber.md"), "# Cucumber\n\nA text.\n") }, []string{"bands/thessock_slopes/worksheet.html"}, nil},
		{"a day of a record", func() { edit(t, at("data/records/lanterrow_bench.csv"), "1999-05-", "1998-05-") }, nil, nil},
		{"a station", func() { edit(t, at("data/stations.csv"), ",slope", ",hollow") }, []string{"bands/thessock_slopes/index.html", "crops/tomato.html", "quality.html", "es/bands/sumpney_hollow/sheet.html"}, nil},
		{"a phrase", func() {
			edit(t, at("data/words.csv"), "\n", "\nnav.find,Busque su franja,\ncrop.tomato.name,Jitomate,\n")
		}, []string{"es/crops/tomato.html", "es/index.html"}, nil},
		{"a report", func() { edit(t, at("data/reports.csv"), ",unhurt,", ",harmed,") }, []string{"growers.html"}, nil},
		{"a setting", func() { edit(t, at("data/guide.csv"), "title,", "title,New ") }, []string{"bands/thessock_slopes/sheet.html"}, nil},
		{"a cover", func() { put(t, at("data/covers.csv"), "cover,gain_low_c\ntunnel,0.2\n") }, []string{"covers/tunnel.html", "crops/tomato.html"}, nil},
		{"a template", func() { put(t, at("templates/style.css"), "body { color: red }\n") }, []string{"style.css"}, nil},
		{"a kept edition gone", func() { must(t, os.Remove(at("data/editions/2.csv"))) }, []string{"handover.html", "moved.html"}, nil},
		{"a text gone", func() { must(t, os.Remove(at("content/crops/kale.md"))) }, []string{"crops/kale.md"}, nil},
		{"a band", func() { edit(t, at("data/bands.csv"), "Sumpney Hollow,850", "Sumpney Hollow,860") }, []string{"bands/sumpney_hollow/tonight.html"}, nil},
	} {
		x.do()
		fresh := openDemo(dir)
		if s := fresh.Refresh(); !s.Good {
			t.Fatalf("%s: %s", x.what, told(s))
		}
		changed := false
		for i, name := range kinds {
			if !slices.Contains(x.asks, name) && !slices.Contains(x.same, name) && (i+len(x.what))%6 > 0 {
				continue
			}
			got, want := l.File(name), fresh.File(name)
			if got.Found != want.Found || !bytes.Equal(got.Data, want.Data) {
				t.Errorf("%s: %s is not what the folder says now", x.what, name)
			}
			if got.Old || got.Version != want.Version {
				t.Errorf("%s: %s: old %v, version %s, want %s", x.what, name, got.Old, got.Version, want.Version)
			}
			if slices.Contains(x.same, name) && !bytes.Equal(got.Data, last[name]) {
				t.Errorf("%s: %s is another", x.what, name)
			}
			changed = changed || !bytes.Equal(got.Data, last[name])
			last[name] = got.Data
		}
		if !changed {
			t.Errorf("%s: no page shows it", x.what)
		}
	}
}

func must(t *testing.T, err error) {
	t.Helper()
	if err != nil {
		t.Fatal(err)
	}
}

// A fault keeps the last good pages and says so; a guide that was never good has none.
// Mended, the guide goes on from there.
func TestLiveFaults(t *testing.T) {
	dir := smallDemo(t)
	crops := filepath.Join(dir, "data/crops.csv")
	edit(t, crops, "tomato,,,", "tomato,,two,")
	l := openDemo(dir)
	got := l.File("crops/tomato.html")
	if got.Found || got.Good || got.Any || len(got.Faults) == 0 {
		t.Errorf("never good: %+v", got)
	}
	edit(t, crops, "tomato,,two,", "tomato,,2,")
	good := l.File("crops/tomato.html")
	if !good.Found || !good.Good || good.Old {
		t.Fatalf("mended: %v %s", good.Found, told(good.State))
	}
	edit(t, crops, "tomato,,2,", "tomato,,two,")
	edit(t, filepath.Join(dir, "data/bands.csv"), "thessock_slopes,", "thessock slopes,")
	bad := l.File("crops/tomato.html")
	if !bad.Found || bad.Good || !bad.Old || !bytes.Equal(bad.Data, good.Data) || bad.Version == good.Version {
		t.Error("not the last good page, or not said so")
	}
	wrong := 0
	for _, f := range bad.Faults {
		if f.Severity == diag.Error && f.At.Line > 0 && f.ID != "" && (f.At.File == "data/crops.csv" || f.At.File == "data/bands.csv") {
			wrong++
		}
	}
	if wrong < 2 {
		t.Errorf("not all that is wrong:\n%s", told(bad.State))
	}
	if page, err := l.FaultsPage(bad.State); err != nil || !bytes.Contains(page, []byte("number-unreadable")) {
		t.Errorf("page of faults: %v", err)
	}
	edit(t, crops, "tomato,,two,", "tomato,,2,")
	edit(t, filepath.Join(dir, "data/bands.csv"), "thessock slopes,", "thessock_slopes,")
	if again := l.File("crops/tomato.html"); !again.Good || again.Old || again.Version != good.Version || !bytes.Equal(again.Data, good.Data) {
		t.Error("mended again, it is not as it was")
	}
}

// A template that one kind of page cannot be made with is a fault of that page, whose last
// good state stays; templates that cannot be read are one of the guide.
func TestLiveTemplates(t *testing.T) {
	dir := smallDemo(t)
	l := openDemo(dir)
	good := l.File("find.html")
	own := filepath.Join(dir, "templates/html/page.html")
	frame, err := os.ReadFile(filepath.Join(root, "templates/html/page.html"))
	must(t, err)
	for _, x := range []struct {
		with string
		good bool // the guide as such
	}{{"{{.Tittle}}", true}, {"{{.Title", false}} {
		put(t, own, strings.Replace(string(frame), "{{.Title}}", x.with, 1))
		got := l.File("find.html")
		if !got.Old || got.Good != x.good || !bytes.Equal(got.Data, good.Data) || len(got.Faults) == 0 || got.Faults[0].ID != "page-failed" {
			t.Errorf("%s: old %v, good %v\n%s", x.with, got.Old, got.Good, told(got.State))
		}
	}
	must(t, os.Remove(own))
	if got := l.File("find.html"); got.Old || !bytes.Equal(got.Data, good.Data) {
		t.Error("mended, it is not as it was")
	}
}

// A change that keeps a file's size and time is seen while the time is young; a file that
// nobody touched is not read again.
func TestWatchedYoung(t *testing.T) {
	dir := t.TempDir()
	name := filepath.Join(dir, "a.txt")
	put(t, name, "one")
	info, err := os.Stat(name)
	must(t, err)
	w := watch(os.DirFS(dir))
	r := &reading{w: w}
	if text, _ := r.ReadFile("a.txt"); string(text) != "one" {
		t.Fatal(string(text))
	}
	put(t, name, "two")
	must(t, os.Chtimes(name, info.ModTime(), info.ModTime()))
	if !w.refresh() {
		t.Error("a second change at the same time is not seen")
	}
	if text, _ := r.ReadFile("a.txt"); string(text) != "two" {
		t.Errorf("%s", text)
	}
	old := info.ModTime().Add(-time.Hour)
	must(t, os.Chtimes(name, old, old))
	if w.refresh() {
		t.Error("the same bytes at another time are no change")
	}
	looked := w.seen["a.txt"].looked
	if w.refresh(); !w.seen["a.txt"].looked.Equal(looked) {
		t.Error("read again although nobody touched it")
	}
	must(t, os.Remove(name))
	if !w.refresh() {
		t.Error("a file that went is not seen")
	}
	if _, err := r.Stat("b.txt"); err == nil || w.refresh() {
		t.Error("there is no b.txt yet")
	}
	put(t, filepath.Join(dir, "b.txt"), "new")
	if !w.refresh() {
		t.Error("a file that came is not seen")
	}
}
