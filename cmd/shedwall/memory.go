package main

import "runtime/debug"

// collectSeldom trades memory for time where much is made and let go again: garbage may
// grow to four times what is in use before it is collected, as long as the whole stays
// under a gigabyte. Measured on the demo guide: 13 % less time of the processors than by
// the usual rule, 280 MB at most where that takes 150; eight times saved nothing more.
func collectSeldom() {
	debug.SetGCPercent(400)
	debug.SetMemoryLimit(1 << 30)
	largePages()
}
