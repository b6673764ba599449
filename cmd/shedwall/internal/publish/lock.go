package publish

import (
	"errors"
	"fmt"
	"os"
	"strings"
)

// lock keeps two publishes from writing to one folder. It is a file held by the
// system's own lock, which ends with the program however that ends: a file left by a
// program that was killed holds nobody up.
type lock struct {
	file *os.File
	name string
}

// errLocked says that another program holds the lock.
var errLocked = errors.New("locked")

// takeLock takes the lock or says who has it.
func takeLock(name, out string) (*lock, error) {
	for {
		f, err := os.OpenFile(name, os.O_RDWR|os.O_CREATE, 0o644)
		if err != nil {
			return nil, fmt.Errorf("nothing can be written beside %s, where a new site is put together: %w", out, err)
		}
		if err := lockFile(f); err != nil {
			who, _ := os.ReadFile(name)
			f.Close()
			if !errors.Is(err, errLocked) {
				return nil, fmt.Errorf("%s: %w", name, err)
			}
			return nil, fmt.Errorf("another publish (process %s) is writing to %s; wait until it is done", strings.TrimSpace(string(who)), out)
		}
		// The holder before may have removed the file between our two steps: then this
		// lock is on nothing that others see.
		mine, err1 := f.Stat()
		there, err2 := os.Stat(name)
		if err1 != nil || err2 != nil || !os.SameFile(mine, there) {
			f.Close()
			continue
		}
		if err := errors.Join(f.Truncate(0), writeAtStart(f, fmt.Sprintln(os.Getpid()))); err != nil {
			return nil, errors.Join(err, f.Close())
		}
		return &lock{f, name}, nil
	}
}

func writeAtStart(f *os.File, text string) error {
	_, err := f.WriteAt([]byte(text), 0)
	return err
}

// free gives the lock up; a second time it does nothing.
func (l *lock) free() error {
	if l == nil || l.file == nil {
		return nil
	}
	f := l.file
	l.file = nil
	return unlockFile(f, l.name)
}
