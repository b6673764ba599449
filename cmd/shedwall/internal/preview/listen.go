package preview

import (
	"errors"
	"fmt"
	"net"
	"strconv"
	"strings"
	"sync"
	"syscall"
)

// ErrAddress is an address at which no preview may listen.
var ErrAddress = errors.New("preview shows a guide on this machine only: write --listen 127.0.0.1:PORT, with a number from 0 to 65535 (0 = any that is free)")

// ErrTaken is a port at which another program listens.
var ErrTaken = errors.New("another program listens there, perhaps another preview; end it, or choose another port with --listen")

// loopback says whether a host is this machine by one of the names that mean nothing else.
func loopback(host string) bool {
	return host == "127.0.0.1" || host == "::1" || strings.EqualFold(host, "localhost")
}

// Listen listens at a loopback address, HOST:PORT with a port of 0 to 65535, 0 = any that is
// free. It fails with ErrAddress for every other address and with ErrTaken where the port
// is in use.
func Listen(address string) (net.Listener, error) {
	host, port, err := net.SplitHostPort(address)
	if err != nil || !loopback(host) {
		return nil, fmt.Errorf("%q: %w", address, ErrAddress)
	}
	if n, err := strconv.ParseUint(port, 10, 16); err != nil || strconv.FormatUint(n, 10) != port {
		return nil, fmt.Errorf("%q: %w", address, ErrAddress)
	}
	if strings.EqualFold(host, "localhost") {
		host = "127.0.0.1" // whatever this machine's list of names says
	}
	l, err := net.Listen("tcp", net.JoinHostPort(host, port))
	if errors.Is(err, syscall.EADDRINUSE) || portTaken(err) {
		return nil, fmt.Errorf("%s: %w", address, ErrTaken)
	}
	return l, err
}

// portTaken knows the same by its words, where a system has another number for it.
func portTaken(err error) bool {
	return err != nil && strings.Contains(err.Error(), "Only one usage of each socket address")
}

// limited is a listener with room for so many connections at once; others wait until one
// of them ends.
type limited struct {
	net.Listener
	room chan struct{}
}

// Accept waits for room, then for a connection.
func (l *limited) Accept() (net.Conn, error) {
	l.room <- struct{}{}
	c, err := l.Listener.Accept()
	if err != nil {
		<-l.room
		return nil, err
	}
	return &roomed{Conn: c, leave: sync.OnceFunc(func() { <-l.room })}, nil
}

// crowded says that there is little room left: then a connection ends with its answer.
func (l *limited) crowded() bool { return len(l.room) > cap(l.room)/2 }

type roomed struct {
	net.Conn
	leave func()
}

// Close ends the connection and makes room.
func (c *roomed) Close() error {
	defer c.leave()
	return c.Conn.Close()
}
