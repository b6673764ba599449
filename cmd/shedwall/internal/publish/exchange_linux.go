package publish

import (
	"errors"

	"golang.org/x/sys/unix"
)

// exchangeFolders swaps two folders in one step (renameat2 with RENAME_EXCHANGE).
func exchangeFolders(a, b string) error {
	err := unix.Renameat2(unix.AT_FDCWD, a, unix.AT_FDCWD, b, unix.RENAME_EXCHANGE)
	if err == unix.ENOSYS || err == unix.EINVAL || err == unix.EOPNOTSUPP {
		return errors.ErrUnsupported
	}
	return err
}
