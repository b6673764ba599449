package main

import (
	"fmt"
	"io"
	"io/fs"
	"os"
	"strings"
	"sync"
	"time"
	"unicode/utf8"

	"shedwall/cmd/shedwall/internal/publish"
)

// Progress is shown only of what takes longer than patience, and drawn again every beat.
const (
	patience = time.Second
	beat     = 150 * time.Millisecond
)

// progress is one line on a terminal that says what is being done and how far it is. It is
// rewritten in place and taken away at the end. Where nobody looks it writes nothing.
type progress struct {
	out  io.Writer
	stop chan struct{}
	gone sync.WaitGroup

	mutex     sync.Mutex
	what      string
	done, all int // all = 0: nobody knows how much there is
	width     int // of the line that stands there
}

// newProgress begins a line; end takes it away. A nil progress shows nothing.
func newProgress(e *env) *progress {
	if e.terminal == nil || !e.terminal(e.stderr) {
		return nil
	}
	p := &progress{out: e.stderr, stop: make(chan struct{})}
	p.gone.Go(func() {
		wait := time.NewTimer(patience)
		defer wait.Stop()
		for {
			select {
			case <-p.stop:
				return
			case <-wait.C:
				p.draw()
				wait.Reset(beat)
			}
		}
	})
	return p
}

// tell says what is being done: "bands", 3 of 6. It may be called by several goroutines.
func (p *progress) tell(what string, done, all int) {
	if p == nil {
		return
	}
	p.mutex.Lock()
	defer p.mutex.Unlock()
	p.what, p.done, p.all = what, done, all
}

// draw writes the line over the one before.
func (p *progress) draw() {
	p.mutex.Lock()
	defer p.mutex.Unlock()
	line := p.what
	if p.all > 0 {
		line = fmt.Sprintf("%s: %d of %d", p.what, p.done, p.all)
	}
	p.over(line)
}

// over puts a line in the place of the one that stands there.
func (p *progress) over(line string) {
	n := utf8.RuneCountInString(line)
	fmt.Fprintf(p.out, "\r%s%s", line, strings.Repeat(" ", max(0, p.width-n)))
	p.width = n
}

// end takes the line away, so that what is printed next begins where it stood.
func (p *progress) end() {
	if p == nil {
		return
	}
	close(p.stop)
	p.gone.Wait()
	p.mutex.Lock()
	defer p.mutex.Unlock()
	if p.width > 0 {
		p.over("")
		fmt.Fprint(p.out, "\r")
	}
}

// load reads a guide, which takes over a second where records are many.
func (e *env) load(guide fs.FS) (*publish.Guide, error) {
	line := newProgress(e)
	defer line.end()
	line.tell("reading the guide", 0, 0)
	return publish.Load(guide, e.defaults)
}

// isTerminal says whether somebody looks at what is written: a pipe or a file has nobody.
func isTerminal(w io.Writer) bool {
	f, ok := w.(*os.File)
	if !ok {
		return false
	}
	info, err := f.Stat()
	return err == nil && info.Mode()&os.ModeCharDevice != 0 && os.Getenv("TERM") != "dumb"
}
