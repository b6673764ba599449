package preview

import (
	"syscall"
	"time"
)

// worked is the time that this program's threads have computed so far.
func worked() time.Duration {
	var r syscall.Rusage
	if syscall.Getrusage(syscall.RUSAGE_SELF, &r) != nil {
		return 0
	}
	return time.Duration(r.Utime.Nano() + r.Stime.Nano())
}
