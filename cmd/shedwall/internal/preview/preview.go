// Package preview shows a guide in the browser while it is being edited. It exists so that
// a publisher sees a page as it would be published a moment after saving, and every fault
// on the page instead of in a terminal elsewhere. It serves this machine alone, gives
// nothing but the files of the site, and writes nothing anywhere.
//
// What comes over the network is untrusted: other machines, other pages that are open in
// the same browser, and programs that speak no HTTP at all.
package preview

import (
	"context"
	"errors"
	"io"
	"log"
	"net"
	"net/http"
	"strings"
	"time"

	"shedwall/cmd/shedwall/internal/publish"
)

// Limits of what a client may take. A page on a slow machine may need seconds to be made,
// so an answer has more time than a request.
const (
	headerTime  = 5 * time.Second  // to send the head of a request
	requestTime = 10 * time.Second // to send all of it
	answerTime  = 60 * time.Second // to make an answer and take it
	idleTime    = 15 * time.Second // between requests
	headerBytes = 16 << 10
	most        = 128 // connections at once; more wait
	goodbye     = 2 * time.Second
)

// Server shows one guide.
type Server struct {
	live    *publish.Live
	say     io.Writer // for the publisher: faults as they come and go
	port    string
	origin  string // "http://127.0.0.1:8420"
	watcher *watcher
	door    *limited
}

// Address is where a listener's pages are: "http://127.0.0.1:8420/".
func Address(l net.Listener) string { return "http://" + l.Addr().String() + "/" }

// Serve shows a guide on a listener of Listen until ctx ends, which is no error. It tells
// say each new set of faults, in the order in which they come.
func Serve(ctx context.Context, l net.Listener, live *publish.Live, say io.Writer) error {
	_, port, err := net.SplitHostPort(l.Addr().String())
	if err != nil {
		return errors.Join(err, l.Close())
	}
	s := &Server{live: live, say: say, port: port, origin: strings.TrimSuffix(Address(l), "/"), watcher: newWatcher(live), door: &limited{Listener: l, room: make(chan struct{}, most)}}
	ctx, stop := context.WithCancel(ctx)
	defer stop()
	watched := make(chan struct{})
	go func() {
		defer close(watched)
		s.watcher.run(ctx, s.tell)
	}()
	server := &http.Server{
		Handler:           s,
		ReadHeaderTimeout: headerTime, ReadTimeout: requestTime, WriteTimeout: answerTime, IdleTimeout: idleTime,
		MaxHeaderBytes: headerBytes,
		ErrorLog:       log.New(io.Discard, "", 0), // clients that break off are no news
		BaseContext:    func(net.Listener) context.Context { return ctx },
	}
	done := make(chan error, 1)
	go func() { done <- server.Serve(s.door) }()
	select {
	case err = <-done:
		stop()
	case <-ctx.Done():
		late, cancel := context.WithTimeout(context.WithoutCancel(ctx), goodbye)
		defer cancel()
		if server.Shutdown(late) != nil {
			_ = server.Close() // those who are still at it are cut off
		}
		err = <-done
	}
	<-watched
	if errors.Is(err, http.ErrServerClosed) {
		return nil
	}
	return err
}

// ServeHTTP answers one request.
func (s *Server) ServeHTTP(w http.ResponseWriter, r *http.Request) {
	h := w.Header()
	h.Set("Cache-Control", "no-store")
	h.Set("X-Content-Type-Options", "nosniff")
	h.Set("Referrer-Policy", "no-referrer")
	h.Set("Cross-Origin-Resource-Policy", "same-origin")
	h.Set("Cross-Origin-Opener-Policy", "same-origin")
	h.Set("X-Frame-Options", "DENY")
	h.Set("Content-Security-Policy", nothing)
	if s.door.crowded() {
		h.Set("Connection", "close") // others wait for room
	}
	switch {
	case !s.ours(r.Host):
		// A page elsewhere may have had its own name point to this machine.
		refuse(w, http.StatusForbidden, "This preview answers to "+s.origin+" only.")
	case r.Method != http.MethodGet && r.Method != http.MethodHead:
		h.Set("Allow", "GET, HEAD")
		refuse(w, http.StatusMethodNotAllowed, "A preview is read, with GET or HEAD.")
	case r.URL.Path == changesPath:
		s.changes(w, r)
	case r.URL.Path == scriptPath:
		send(w, http.StatusOK, "text/javascript; charset=utf-8", script)
	case r.URL.Path == stylePath:
		send(w, http.StatusOK, "text/css; charset=utf-8", style)
	default:
		s.file(w, r)
	}
}

// ours says whether a Host header is one of this machine's own names with our port.
func (s *Server) ours(host string) bool {
	name, port, err := net.SplitHostPort(host)
	return err == nil && port == s.port && loopback(name)
}

func refuse(w http.ResponseWriter, status int, why string) {
	send(w, status, "text/plain; charset=utf-8", []byte(why+"\n"))
}

func send(w http.ResponseWriter, status int, kind string, data []byte) {
	w.Header().Set("Content-Type", kind)
	w.WriteHeader(status)
	_, _ = w.Write(data) // a client that went away
}
