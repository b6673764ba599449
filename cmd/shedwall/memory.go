package main

import "runtime/debug"

// collectSeldom trades memory for time where much is made and let go again: garbage may
// grow to a quarter of a gigabyte, or to four times what is in use, before it is collected, as
// long as the whole stays under a gigabyte. Measured on the demo guide: 15 % less time of the
// processors than by the usual rule, 300 MB at most where that takes 150.
//
// What is returned must be kept: it counts as in use, though nobody touches it and the system
// need not find room for it.
func collectSeldom() (held []byte) {
	debug.SetGCPercent(-1)
	debug.SetMemoryLimit(1 << 30)
	largePages()
	held = make([]byte, 64<<20)
	debug.SetGCPercent(400) // the first collection is due at once, and lets go what largePages made
	return held
}
