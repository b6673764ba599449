//go:build !linux && !darwin

package publish

import "errors"

// exchangeFolders: this system has no such step.
func exchangeFolders(a, b string) error { return errors.ErrUnsupported }
