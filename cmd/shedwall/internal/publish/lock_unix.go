//go:build linux || darwin || freebsd || netbsd || openbsd || dragonfly

package publish

import (
	"errors"
	"os"

	"golang.org/x/sys/unix"
)

func lockFile(f *os.File) error {
	err := unix.Flock(int(f.Fd()), unix.LOCK_EX|unix.LOCK_NB)
	if err == unix.EWOULDBLOCK {
		return errLocked
	}
	return err
}

// unlockFile removes the file while it is still held, so that nobody locks a file that
// is about to go.
func unlockFile(f *os.File, name string) error {
	return errors.Join(os.Remove(name), f.Close())
}
