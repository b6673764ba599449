package publish

import (
	"errors"
	"io/fs"
	"os"

	"golang.org/x/sys/windows"
)

// The locked byte lies far beyond the file's end, so that others can read whose it is.
const lockedByte = 1 << 30

func lockFile(f *os.File) error {
	at := &windows.Overlapped{Offset: lockedByte}
	err := windows.LockFileEx(windows.Handle(f.Fd()), windows.LOCKFILE_EXCLUSIVE_LOCK|windows.LOCKFILE_FAIL_IMMEDIATELY, 0, 1, 0, at)
	if err == windows.ERROR_LOCK_VIOLATION || err == windows.ERROR_IO_PENDING {
		return errLocked
	}
	return err
}

// unlockFile closes the file and then removes it, as an open file cannot be removed;
// another program that has opened it meanwhile keeps it.
func unlockFile(f *os.File, name string) error {
	if err := f.Close(); err != nil {
		return err
	}
	err := os.Remove(name)
	if errors.Is(err, fs.ErrNotExist) || errors.Is(err, windows.ERROR_SHARING_VIOLATION) {
		return nil
	}
	return err
}
