package publish

import (
	"errors"

	"golang.org/x/sys/unix"
)

// exchangeFolders swaps two folders in one step (renamex_np with RENAME_SWAP).
func exchangeFolders(a, b string) error {
	err := unix.RenamexNp(a, b, unix.RENAME_SWAP)
	if err == unix.ENOSYS || err == unix.EINVAL || err == unix.ENOTSUP {
		return errors.ErrUnsupported
	}
	return err
}
