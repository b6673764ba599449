package preview

import (
	"context"
	"html"
	"io"
	"io/fs"
	"net/http"
	"os"
	"path/filepath"
	"regexp"
	"strings"
	"sync"
	"testing"
	"time"

	"shedwall/cmd/shedwall/internal/publish"
)

// What a preview puts on a page, and what it takes off.
var (
	ourHead   = regexp.MustCompile(`(?s)<link rel="stylesheet" href="/preview\.css">\n<script src="/preview\.js" data-version="[0-9a-f]{32}" defer></script>\n<noscript><meta http-equiv="refresh" content="5"></noscript>\n`)
	ourStrip  = regexp.MustCompile(`(?s)\n<aside id="preview-strip".*?</aside>\n`)
	ownPolicy = regexp.MustCompile(`<meta http-equiv="Content-Security-Policy" content="([^"]*)">\n`)
)

// Pages are those that publish writes, byte for byte but for the strip, and so is every
// other file; a page's own policy stands in the header, widened for the strip alone.
func TestSamePagesAsPublished(t *testing.T) {
	dir := smallGuide(t)
	save(t, filepath.Join(dir, "content/soil.md"), "# Soil\n\nOf [kale](crops/kale.md).\n")
	out := filepath.Join(t.TempDir(), "site")
	g, err := publish.Load(os.DirFS(dir), os.DirFS(root))
	if err != nil {
		t.Fatal(err)
	}
	if _, err := g.Publish(out, nil); err != nil {
		t.Fatal(err)
	}
	at := start(t, dir, io.Discard)
	pages := 0
	err = fs.WalkDir(os.DirFS(out), ".", func(name string, d fs.DirEntry, err error) error {
		if err != nil || d.IsDir() || strings.HasPrefix(name, ".") {
			return err
		}
		if strings.HasPrefix(name, "crops/") && !strings.Contains(name, "kale") {
			return nil // as kale
		}
		data, err := os.ReadFile(filepath.Join(out, filepath.FromSlash(name)))
		if err != nil {
			return err
		}
		want := string(data)
		status, h, got := ask(t, at, "GET", "/"+name, hostOf(at))
		if status != http.StatusOK {
			t.Errorf("%s: %d", name, status)
			return nil
		}
		if strings.HasSuffix(name, ".html") {
			pages++
			own := ownPolicy.FindStringSubmatch(want)
			if own == nil {
				t.Errorf("%s has no policy of its own", name)
				return nil
			}
			for part := range strings.SplitSeq(html.UnescapeString(own[1]), "; ") {
				if !strings.Contains(h.Get("Content-Security-Policy"), part) {
					t.Errorf("%s: %q is not in %q", name, part, h.Get("Content-Security-Policy"))
				}
			}
			want = ownPolicy.ReplaceAllString(want, "")
			if n := len(ourHead.FindAllString(got, -1)) + len(ourStrip.FindAllString(got, -1)); n != 2 {
				t.Errorf("%s: %d parts of a strip", name, n)
			}
			got = ourStrip.ReplaceAllString(ourHead.ReplaceAllString(got, ""), "")
		}
		if got != want {
			t.Errorf("%s is not as it is published", name)
		}
		return nil
	})
	if err != nil || pages < 30 {
		t.Fatal(err, pages, "pages")
	}
}

// told gathers what a preview says.
type told struct {
	mu   sync.Mutex
	text strings.Builder
}

func (t *told) Write(p []byte) (int, error) {
	t.mu.Lock()
	defer t.mu.Unlock()
	return t.text.Write(p)
}

// waitFor waits until something was said.
func (t *told) waitFor(test testing.TB, what string) {
	test.Helper()
	for end := time.Now().Add(30 * time.Second); time.Now().Before(end); time.Sleep(20 * time.Millisecond) {
		t.mu.Lock()
		said := strings.Contains(t.text.String(), what)
		t.mu.Unlock()
		if said {
			return
		}
	}
	test.Fatalf("nobody said %q:\n%s", what, t.text.String())
}

// An edit is on the page that is asked for next. A fault is told above the page, with its
// place, cure and id, and on the terminal; below stays the last good page. Where none was
// good yet the page is of faults alone.
func TestFaultsOnPages(t *testing.T) {
	dir := smallGuide(t)
	crops := filepath.Join(dir, "data/crops.csv")
	save(t, crops, "crop,young_damage_c,source\nkale,minus two,practice\n")
	var said told
	at := start(t, dir, &said)
	status, h, body := ask(t, at, "GET", "/crops/kale.html", hostOf(at))
	if status != http.StatusServiceUnavailable || !strings.Contains(body, "number-unreadable") || !strings.Contains(body, "cell B2") || !ourHead.MatchString(body) || !strings.Contains(h.Get("Content-Security-Policy"), "script-src http://") {
		t.Errorf("never good: %d\n%.400s", status, body)
	}
	said.waitFor(t, "no page can be shown yet")

	save(t, crops, "crop,name,young_damage_c,source\nkale,Curly kale,-2,practice\n")
	status, _, body = ask(t, at, "GET", "/crops/kale.html", hostOf(at))
	if status != http.StatusOK || !strings.Contains(body, "<h1>Curly kale</h1>") || !strings.Contains(body, "Preview: no fault.") {
		t.Errorf("mended: %d\n%.2000s", status, body)
	}
	said.waitFor(t, "no fault")

	save(t, crops, "crop,name,young_damage_c,source\nkale,Curly <kale>,minus two,practice\npea,Pea,3 or so,practice\n")
	status, _, body = ask(t, at, "GET", "/crops/kale.html", hostOf(at))
	for _, want := range []string{"<h1>Curly kale</h1>", "Preview: 2 faults.", "last good state", "data/crops.csv:2:", "data/crops.csv:3:", "cell C2 (young_damage_c)", "To do: ", "[unit-unknown]", "[number-unreadable]"} {
		if !strings.Contains(body, want) {
			t.Errorf("with faults, %d: no %q", status, want)
		}
	}
	if strings.Contains(body, "<kale>") {
		t.Error("a cell's text became part of the page")
	}
	said.waitFor(t, "2 faults: pages stay as they were")
	if _, h, _ := ask(t, at, "GET", "/crops/kale.md", hostOf(at)); h.Get("Preview-State") == "" {
		t.Error("a file of the last good state does not say so")
	}
	if status, _, body := ask(t, at, "GET", "/no-such.html", hostOf(at)); status != http.StatusNotFound || !strings.Contains(body, "2 faults") {
		t.Errorf("no such page: %d", status)
	}
	said.mu.Lock()
	defer said.mu.Unlock()
	if n := strings.Count(said.text.String(), `"or so"`); n != 1 {
		t.Errorf("a fault was told %d times:\n%s", n, said.text.String())
	}
}

// A page that waits is answered as soon as the guide is another, and at once where it has
// an old version. The version is the same again when an edit is taken back.
func TestChanges(t *testing.T) {
	dir := smallGuide(t)
	at := start(t, dir, io.Discard)
	version := func(have string) string {
		_, _, body := ask(t, at, "GET", "/changes?have="+have, hostOf(at))
		return body
	}
	first := version("")
	if len(first) != 32 {
		t.Fatalf("version %q", first)
	}
	if _, _, body := ask(t, at, "GET", "/", hostOf(at)); !strings.Contains(body, `data-version="`+first+`"`) {
		t.Error("the page has another version")
	}
	go func() {
		time.Sleep(300 * time.Millisecond)
		save(t, filepath.Join(dir, "content/index.md"), "# Alder\n\nAnother welcome.\n")
	}()
	began := time.Now()
	second := version(first)
	if took := time.Since(began); second == first || took < 250*time.Millisecond || took > waitTime-time.Second {
		t.Errorf("after %v: %q, was %q", took, second, first)
	}
	save(t, filepath.Join(dir, "content/index.md"), "# Alder\n\nWelcome to Alder.\n")
	if third := version(second); third != first {
		t.Errorf("taken back: %q, was %q", third, first)
	}
}

// Serve ends when it is told to, soon, even with pages that wait and a client that takes
// nothing; the port is free again.
func TestShutdown(t *testing.T) {
	l, err := Listen("127.0.0.1:0")
	if err != nil {
		t.Fatal(err)
	}
	at, dir := Address(l), smallGuide(t)
	before := tree(t, dir)
	ctx, stop := context.WithCancel(context.Background())
	done := make(chan error, 1)
	go func() { done <- Serve(ctx, l, publish.OpenLive(os.DirFS(dir), os.DirFS(root)), io.Discard) }()
	_, _, body := ask(t, at, "GET", "/", hostOf(at))
	version := regexp.MustCompile(`data-version="([^"]*)"`).FindStringSubmatch(body)[1]
	waits := make(chan struct{})
	go func() {
		defer close(waits)
		if r, err := http.Get(at + "changes?have=" + version); err == nil {
			r.Body.Close()
		}
	}()
	time.Sleep(100 * time.Millisecond)
	began := time.Now()
	stop()
	select {
	case err := <-done:
		if err != nil {
			t.Error(err)
		}
	case <-time.After(30 * time.Second):
		t.Fatal("it does not end")
	}
	if took := time.Since(began); took > 10*time.Second {
		t.Errorf("it took %v", took)
	}
	<-waits
	again, err := Listen(hostOf(at))
	if err != nil {
		t.Fatal("the port is not free again:", err)
	}
	again.Close()
	for name, was := range tree(t, dir) {
		if before[name] != was {
			t.Errorf("%s is not as it was", name)
		}
	}
}

// A strip is put on whatever page there is, a policy widened by its own files alone.
func TestDress(t *testing.T) {
	x := strip{version: "1", good: true}
	for _, page := range []string{"", "no tags at all", "<html><head></head><body class=\"a\"><p>x", "<head></head>", "<p></head>", "<!DOCTYPE html><html><head><title>x</title></HEAD><BODY>"} {
		got, policy := dress([]byte(page), x, "http://localhost:1")
		if !strings.Contains(string(got), "preview-strip") || !strings.Contains(string(got), "/preview.js") || !strings.Contains(policy, "default-src 'none'") {
			t.Errorf("%q: %s, %s", page, got, policy)
		}
	}
	for _, p := range [][2]string{
		{"", "style-src u"}, {"default-src 'none'", "default-src 'none'; style-src u"}, {"style-src 'none'", "style-src u"},
		{"style-src 'self' file:; img-src 'self'", "style-src 'self' file: u; img-src 'self'"}, {" style-src 'sha256-x' ;; ", "style-src 'sha256-x' u"},
	} {
		if got := allow(p[0], "style-src", "u"); got != p[1] {
			t.Errorf("%q: %q, want %q", p[0], got, p[1])
		}
	}
}
