package main

import (
	"bytes"
	"io"
	"os"
	"path/filepath"
	"strings"
	"sync"
	"testing"
	"testing/synctest"
	"time"
)

// locked is a buffer that two goroutines may use.
type locked struct {
	mutex sync.Mutex
	text  bytes.Buffer
}

func (l *locked) Write(b []byte) (int, error) {
	l.mutex.Lock()
	defer l.mutex.Unlock()
	return l.text.Write(b)
}

func (l *locked) String() string {
	l.mutex.Lock()
	defer l.mutex.Unlock()
	return l.text.String()
}

// screen is what stands on a terminal's line after text was written to it.
func screen(text string) string {
	var line []rune
	at := 0
	for _, r := range text {
		if r == '\r' {
			at = 0
			continue
		}
		if at == len(line) {
			line = append(line, r)
		} else {
			line[at] = r
		}
		at++
	}
	return strings.TrimRight(string(line), " ")
}

// A line on a terminal appears after a second, is rewritten in place, and is gone at the
// end.
func TestProgressLine(t *testing.T) {
	synctest.Test(t, func(t *testing.T) {
		var out locked
		p := newProgress(&env{stderr: &out, terminal: func(io.Writer) bool { return true }})
		p.tell("reading", 0, 0)
		time.Sleep(patience - time.Millisecond)
		if got := out.String(); got != "" {
			t.Errorf("before a second has passed it shows %q", got)
		}
		for _, x := range []struct {
			what      string
			done, all int
			want      string
		}{
			{"reading", 0, 0, "reading"},
			{"bands", 3, 1000, "bands: 3 of 1000"},
			{"pages", 1, 9, "pages: 1 of 9"}, // shorter than the line before
		} {
			p.tell(x.what, x.done, x.all)
			time.Sleep(beat + time.Millisecond)
			if got := screen(out.String()); got != x.want {
				t.Errorf("it shows %q, want %q", got, x.want)
			}
		}
		if strings.Contains(out.String(), "\n") {
			t.Error("it goes on to a further line")
		}
		p.end()
		if got := screen(out.String()); got != "" || !strings.HasSuffix(out.String(), "\r") {
			t.Errorf("%q is left at the end", got)
		}
	})
}

// What takes less than a second shows nothing, nor does anything in a pipe.
func TestProgressSilent(t *testing.T) {
	synctest.Test(t, func(t *testing.T) {
		var out locked
		for _, looked := range []bool{true, false} {
			p := newProgress(&env{stderr: &out, terminal: func(io.Writer) bool { return looked }})
			p.tell("bands", 1, 2)
			if looked {
				time.Sleep(patience / 2)
			} else {
				time.Sleep(time.Hour)
			}
			p.end()
		}
		if got := out.String(); got != "" {
			t.Errorf("it shows %q", got)
		}
	})
	var out bytes.Buffer
	file, err := os.Create(filepath.Join(t.TempDir(), "messages"))
	if err != nil {
		t.Fatal(err)
	}
	defer file.Close()
	reader, pipe, err := os.Pipe()
	if err != nil {
		t.Fatal(err)
	}
	defer reader.Close()
	defer pipe.Close()
	for _, w := range []io.Writer{&out, file, pipe} {
		if isTerminal(w) {
			t.Errorf("%T is taken for a terminal", w)
		}
	}
}
