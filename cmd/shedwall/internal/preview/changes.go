package preview

import (
	"context"
	"fmt"
	"net/http"
	"slices"
	"sync"
	"time"

	"shedwall/cmd/shedwall/internal/diag"
	"shedwall/cmd/shedwall/internal/publish"
)

// How often the folder is looked at: soon while a page is open that waits for a change,
// else for the terminal alone. Looking takes at most a tenth of the time, however large
// the guide.
const (
	soon      = 150 * time.Millisecond
	now       = time.Second
	share     = 10
	waitTime  = 20 * time.Second // that a page waits before it asks again
	mostAsked = 64               // pages that wait at once; further ones are answered at once
)

// watcher looks at the folder again and again and wakes those who wait for a change. It
// asks for times of files instead of being told by the system: that works on every system
// and on shared drives, and sees files that editors put in the place of others.
type watcher struct {
	live *publish.Live

	mu      sync.Mutex
	version string
	changed chan struct{} // closed when the version is another
	waiting int
	hurry   chan struct{} // told when somebody begins to wait
}

func newWatcher(live *publish.Live) *watcher {
	return &watcher{live: live, changed: make(chan struct{}), hurry: make(chan struct{}, 1)}
}

// run looks until ctx ends, and hands on every state that differs from the one before.
func (w *watcher) run(ctx context.Context, tell func(publish.State)) {
	for {
		began := time.Now()
		state := w.live.Refresh()
		took := time.Since(began)
		if w.see(state.Version) {
			tell(state)
		}
		pause := max(w.pause(), share*took)
		select {
		case <-ctx.Done():
			return
		case <-w.hurry:
		case <-time.After(pause):
		}
	}
}

// see notes a version, and says whether it is another than before.
func (w *watcher) see(version string) bool {
	w.mu.Lock()
	defer w.mu.Unlock()
	if version == w.version {
		return false
	}
	w.version = version
	close(w.changed)
	w.changed = make(chan struct{})
	return true
}

func (w *watcher) pause() time.Duration {
	w.mu.Lock()
	defer w.mu.Unlock()
	if w.waiting > 0 {
		return soon
	}
	return now
}

// wait returns the version as soon as it is another than have, else after a while.
func (w *watcher) wait(ctx context.Context, have string) string {
	end := time.NewTimer(waitTime)
	defer end.Stop()
	w.mu.Lock()
	defer w.mu.Unlock()
	if w.waiting >= mostAsked {
		return w.version
	}
	w.waiting++
	defer func() { w.waiting-- }()
	select {
	case w.hurry <- struct{}{}:
	default:
	}
	for w.version == have || w.version == "" {
		changed := w.changed
		w.mu.Unlock()
		over := false
		select {
		case <-changed:
		case <-end.C:
			over = true
		case <-ctx.Done():
			over = true
		}
		w.mu.Lock()
		if over {
			break
		}
	}
	return w.version
}

// changes answers a page that wants to know when it is old: with the version of the guide,
// as soon as it is another than the one the page has.
func (s *Server) changes(w http.ResponseWriter, r *http.Request) {
	version := s.watcher.wait(r.Context(), r.URL.Query().Get("have"))
	send(w, http.StatusOK, "text/plain; charset=utf-8", []byte(version))
}

// tell prints what is wrong, or that nothing is any more.
func (s *Server) tell(state publish.State) {
	wrong := slices.DeleteFunc(slices.Clone(state.Faults), func(f diag.Fault) bool { return f.Severity != diag.Error })
	for _, f := range wrong {
		fmt.Fprintln(s.say, f)
	}
	switch {
	case len(wrong) == 0:
		fmt.Fprintf(s.say, "no fault, %s\n", many(len(state.Faults), "warning"))
	case state.Any:
		fmt.Fprintf(s.say, "%s: pages stay as they were\n", many(len(wrong), "fault"))
	default:
		fmt.Fprintf(s.say, "%s: no page can be shown yet\n", many(len(wrong), "fault"))
	}
}

func many(n int, what string) string {
	if n == 1 {
		return "1 " + what
	}
	return fmt.Sprintf("%d %ss", n, what)
}
