package preview

import (
	"bufio"
	"errors"
	"fmt"
	"io"
	"maps"
	"net"
	"net/http"
	"path/filepath"
	"strings"
	"sync"
	"testing"
	"time"
)

// ask sends a request as it stands and returns the answer's status, head and body. The
// address is that of start.
func ask(t testing.TB, at, method, target, host string) (int, http.Header, string) {
	t.Helper()
	c, err := net.Dial("tcp", hostOf(at))
	if err != nil {
		t.Fatal(err)
	}
	defer c.Close()
	_ = c.SetDeadline(time.Now().Add(time.Minute))
	fmt.Fprintf(c, "%s %s HTTP/1.1\r\nHost: %s\r\nConnection: close\r\n\r\n", method, target, host)
	r, err := http.ReadResponse(bufio.NewReader(c), &http.Request{Method: method})
	if err != nil {
		t.Fatalf("%s %s: %v", method, target, err)
	}
	defer r.Body.Close()
	body, err := io.ReadAll(r.Body)
	if err != nil {
		t.Fatal(err)
	}
	return r.StatusCode, r.Header, string(body)
}

func hostOf(at string) string {
	return strings.TrimSuffix(strings.TrimPrefix(at, "http://"), "/")
}

// Only this machine's own names with the right port are answered: a page elsewhere that
// has its own name point here gets nothing of the guide.
func TestHost(t *testing.T) {
	at := start(t, smallGuide(t), io.Discard)
	_, port, _ := net.SplitHostPort(hostOf(at))
	for _, x := range []struct {
		host string
		ok   bool
	}{
		{"127.0.0.1:" + port, true}, {"localhost:" + port, true}, {"LocalHost:" + port, true}, {"[::1]:" + port, true},
		{"127.0.0.1", false}, {"127.0.0.1:1", false}, {"evil.example:" + port, false}, {"evil.example", false}, {"", false},
		{"localhost.evil.example:" + port, false}, {"127.0.0.1.evil.example:" + port, false}, {"localhost.:" + port, false},
		{"127.0.0.2:" + port, false}, {"0.0.0.0:" + port, false}, {"[::]:" + port, false}, {"127.1:" + port, false}, {"user@127.0.0.1:" + port, false},
	} {
		for _, path := range []string{"/index.html", "/changes?have=x", "/preview.js"} {
			status, _, body := ask(t, at, "GET", path, x.host)
			if (status == http.StatusOK) != x.ok || !x.ok && strings.Contains(body, "Alder") {
				t.Errorf("Host %q, %s: %d %.60q", x.host, path, status, body)
			}
		}
	}
	if status, _, _ := ask(t, at, "GET", "http://evil.example:"+port+"/index.html", "127.0.0.1:"+port); status == http.StatusOK {
		t.Error("an address with another host in it was answered")
	}
}

// GET and HEAD are answered, nothing else; HEAD without a body.
func TestMethods(t *testing.T) {
	at := start(t, smallGuide(t), io.Discard)
	for _, path := range []string{"/", "/changes?have=x", "/preview.css", "/no-such.html"} {
		for _, method := range []string{"POST", "PUT", "DELETE", "PATCH", "OPTIONS", "TRACE", "CONNECT", "BREW"} {
			target := path
			if method == "CONNECT" {
				target = hostOf(at)
			}
			if status, head, _ := ask(t, at, method, target, hostOf(at)); status != http.StatusMethodNotAllowed || head.Get("Allow") != "GET, HEAD" {
				t.Errorf("%s %s: %d", method, target, status)
			}
		}
	}
	status, head, body := ask(t, at, "HEAD", "/index.html", hostOf(at))
	if status != http.StatusOK || body != "" || head.Get("Content-Type") != "text/html; charset=utf-8" {
		t.Errorf("HEAD: %d %q", status, body)
	}
}

// Every answer keeps out of caches and frames, and carries a policy; pages allow the
// preview's own script and nothing else.
func TestHeaders(t *testing.T) {
	at := start(t, smallGuide(t), io.Discard)
	for _, path := range []string{"/", "/style.css", "/crops/kale.md", "/bands/slopes/sheet-a4.pdf", "/bands/slopes/sheet.html", "/bands/slopes/calendar.ics", "/preview.js", "/no-such.html", "/changes?have=x", "/../x"} {
		_, h, _ := ask(t, at, "GET", path, hostOf(at))
		policy := h.Get("Content-Security-Policy")
		if h.Get("Cache-Control") != "no-store" || h.Get("X-Content-Type-Options") != "nosniff" || h.Get("X-Frame-Options") != "DENY" ||
			h.Get("Referrer-Policy") != "no-referrer" || h.Get("Cross-Origin-Resource-Policy") != "same-origin" || !strings.Contains(policy, "frame-ancestors 'none'") {
			t.Errorf("%s: %v", path, h)
		}
		page := strings.HasPrefix(h.Get("Content-Type"), "text/html")
		scripts := "script-src http://" + hostOf(at) + "/preview.js"
		if page != strings.Contains(policy, scripts+";") || strings.Contains(policy, "unsafe") || page && !strings.Contains(policy, "default-src 'none'") {
			t.Errorf("%s: %s", path, policy)
		}
	}
	for path, kind := range map[string]string{"/style.css": "text/css; charset=utf-8", "/crops/kale.md": "text/plain; charset=utf-8", "/bands/slopes/sheet-a4.pdf": "application/pdf", "/bands/slopes/calendar.csv": "text/csv; charset=utf-8"} {
		if status, h, _ := ask(t, at, "GET", path, hostOf(at)); status != http.StatusOK || h.Get("Content-Type") != kind {
			t.Errorf("%s: %d %s", path, status, h.Get("Content-Type"))
		}
	}
}

// Nothing but the site's own files is given, however a path is written: no file of the
// guide folder, no dot-file, no list of a folder, nothing above.
func TestPaths(t *testing.T) {
	dir := smallGuide(t)
	save(t, filepath.Join(dir, "public/secret.html"), "a file of public")
	save(t, filepath.Join(dir, "content/images/unused.png"), "no text shows it")
	at := start(t, dir, io.Discard)
	for _, path := range []string{
		"/private.txt", "/data/guide.csv", "/data/", "/content/index.md", "/public/secret.html", "/secret.html", "/images/unused.png", "/content/images/unused.png",
		"/../private.txt", "/bands/../../private.txt", "/bands/../index.html", "/%2e%2e/private.txt", "/..%2fprivate.txt", "/bands%2f..%2f..%2fprivate.txt", `/..\private.txt`, "/..%5cprivate.txt",
		"/.draft.md", "/.shedwall", "/.git/config", "/inputs/.draft.md", "/inputs/content/.draft.md", "/inputs/private.txt", "/inputs/../private.txt", "/inputs//private.txt",
		"//private.txt", "//index.html", "/./index.html", "/index.html/", "/bands", "/bands/", "/inputs/", "/crops", "/bands/slopes", "/index.html%00.md", "/C:/private.txt", "/etc/passwd", "/" + strings.Repeat("a/", 600), "*", "/%zz",
	} {
		status, _, body := ask(t, at, "GET", path, hostOf(at))
		if status != http.StatusNotFound && status != http.StatusBadRequest || strings.Contains(body, "nobody's business") || strings.Contains(body, "Not for readers") {
			t.Errorf("%.40s: %d", path, status)
		}
	}
	for _, path := range []string{"/", "/index.html", "/index.html?x=y", "/crops/", "/bands/slopes/", "/bands/slopes/index.html", "/inputs/data/guide.csv", "/inputs/checksums.txt", "/%69ndex.html"} {
		if status, _, _ := ask(t, at, "GET", path, hostOf(at)); status != http.StatusOK {
			t.Errorf("%s: %d", path, status)
		}
	}
}

// What a path asks for, by its letters alone.
func TestFileOf(t *testing.T) {
	for path, want := range map[string]string{
		"/": "index.html", "/a.html": "a.html", "/es/": "es/index.html", "/bands/x/sheet-a4.pdf": "bands/x/sheet-a4.pdf",
		"": "", "a.html": "", "/..": "", "/../a.html": "", "/a/../b.html": "", "/./a.html": "", "//a.html": "", "/a//b.html": "", "/.git/config": "", "/a/.b": "", "/.": "",
		"/a\\b": "", "/a\x00b": "", "/a\nb": "", "/C:/a": "", "/\xff": "", "/" + strings.Repeat("a", longestPath+1): "",
	} {
		if got, ok := fileOf(path); got != want && ok || ok != (want != "") {
			t.Errorf("%q: %q, %v", path, got, ok)
		}
	}
}

// Requests that are none, or come a letter at a time, or never end, are answered or cut off
// in bounded time, while others are served.
func TestSlowAndMalformed(t *testing.T) {
	at := start(t, smallGuide(t), io.Discard)
	ask(t, at, "GET", "/index.html", hostOf(at))
	var wait sync.WaitGroup
	for i, text := range []string{
		"", "GET", "GET /index.html HTTP/1.1\r\nHost: ", "GET /index.html HTTP/1.1\r\nX: " + strings.Repeat("y", 8000),
		"GET /index.html HTTP/1.1\r\nHost: " + hostOf(at) + "\r\nContent-Length: 100\r\n\r\nshort",
	} {
		for range 8 {
			wait.Go(func() { // says so much and no more
				c, err := net.Dial("tcp", hostOf(at))
				if err != nil {
					t.Error(err)
					return
				}
				defer c.Close()
				fmt.Fprint(c, text)
				_ = c.SetReadDeadline(time.Now().Add(time.Minute))
				began := time.Now()
				_, err = io.Copy(io.Discard, c)
				var late net.Error
				if errors.As(err, &late) && late.Timeout() {
					t.Errorf("request %d was never ended", i)
				}
				if took := time.Since(began); took > 3*requestTime {
					t.Errorf("request %d was ended after %v", i, took)
				}
			})
		}
	}
	for _, text := range []string{
		"\r\n\r\n", "\x16\x03\x01\x02\x00\x01\x00\x01\xfc\x03\x03", "GET / HTTP/9.9\r\n\r\n", "GET\r\n\r\n", "GET / HTTP/1.1\r\nno colon\r\n\r\n", "GET / HTTP/1.1\r\nHost: a\r\nHost: b\r\n\r\n",
		"GET / HTTP/1.1\r\nHost: " + hostOf(at) + "\r\nX: " + strings.Repeat("y", 1<<16) + "\r\n\r\n", "POST / HTTP/1.1\r\nHost: " + hostOf(at) + "\r\nTransfer-Encoding: chunked\r\n\r\nzz\r\n", "GET " + strings.Repeat("/a", 1<<15) + " HTTP/1.1\r\n\r\n",
	} {
		c, err := net.Dial("tcp", hostOf(at))
		if err != nil {
			t.Fatal(err)
		}
		_ = c.SetDeadline(time.Now().Add(time.Minute))
		fmt.Fprint(c, text)
		if tcp, ok := c.(*net.TCPConn); ok {
			_ = tcp.CloseWrite()
		}
		answer, _ := io.ReadAll(c) // a reset is an answer too
		c.Close()
		if strings.Contains(string(answer), " 200 ") {
			t.Errorf("%.20q is answered: %.40q", text, answer)
		}
	}
	for range 10 {
		if status, _, _ := ask(t, at, "GET", "/index.html", hostOf(at)); status != http.StatusOK {
			t.Errorf("beside them: %d", status)
		}
	}
	wait.Wait()
}

// Two hundred at once, of every kind of page, while the folder changes: each gets a whole
// page of some state, and the folder stays as the editor wrote it.
func TestManyAtOnce(t *testing.T) {
	dir := smallGuide(t)
	at := start(t, dir, io.Discard)
	paths := []string{"/", "/find.html", "/crops/kale.html", "/crops/pea.md", "/covers/tunnel.html", "/bands/slopes/", "/bands/slopes/sheet.html", "/bands/slopes/sheet-letter.pdf", "/bands/slopes/calendar.ics", "/guide.html", "/handover.html", "/no-such.html", "/style.css", "/preview.js"}
	client := &http.Client{Timeout: 2 * time.Minute, Transport: &http.Transport{MaxIdleConnsPerHost: 200}}
	defer client.CloseIdleConnections()
	var wait sync.WaitGroup
	for i := range 200 {
		wait.Go(func() {
			path := paths[i%len(paths)]
			r, err := client.Get(strings.TrimSuffix(at, "/") + path)
			if err != nil {
				t.Errorf("%s: %v", path, err)
				return
			}
			defer r.Body.Close()
			body, err := io.ReadAll(r.Body)
			if want := r.StatusCode == http.StatusOK; err != nil || want == strings.HasPrefix(path, "/no-such") || len(body) == 0 {
				t.Errorf("%s: %s %v, %d bytes", path, r.Status, err, len(body))
			}
			if r.StatusCode == http.StatusOK && strings.HasPrefix(r.Header.Get("Content-Type"), "text/html") && !strings.HasSuffix(strings.TrimSpace(string(body)), "</html>") {
				t.Errorf("%s: half a page", path)
			}
		})
	}
	for i := range 5 {
		save(t, filepath.Join(dir, "content/index.md"), fmt.Sprintf("# Alder\n\nWelcome, %d.\n", i))
		time.Sleep(20 * time.Millisecond)
	}
	before := tree(t, dir)
	wait.Wait()
	if after := tree(t, dir); !maps.Equal(before, after) {
		t.Error("the guide folder is not as it was")
	}
}

// No other address than this machine's own may be listened at.
func TestListen(t *testing.T) {
	for _, address := range []string{"", "8420", ":8420", "0.0.0.0:8420", "[::]:8420", "192.168.1.5:8420", "127.0.0.2:8420", "example.org:8420", "127.0.0.1", "127.0.0.1:", "127.0.0.1:http", "127.0.0.1:65536", "127.0.0.1:-1", "127.0.0.1:08", "[::1%lo]:8420"} {
		if l, err := Listen(address); !errors.Is(err, ErrAddress) {
			t.Errorf("%q: %v", address, err)
			if l != nil {
				l.Close()
			}
		}
	}
	for _, address := range []string{"127.0.0.1:0", "localhost:0", "LOCALHOST:0"} {
		l, err := Listen(address)
		if err != nil {
			t.Errorf("%s: %v", address, err)
			continue
		}
		if !l.Addr().(*net.TCPAddr).IP.IsLoopback() {
			t.Errorf("%s: listens at %s", address, l.Addr())
		}
		if _, err := Listen(l.Addr().String()); !errors.Is(err, ErrTaken) {
			t.Errorf("%s, taken: %v", l.Addr(), err)
		}
		l.Close()
	}
}
