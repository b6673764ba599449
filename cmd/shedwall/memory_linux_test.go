package main

import (
	"os"
	"os/exec"
	"runtime"
	"strings"
	"testing"
)

// What is made after largePages lies where the system was asked for large pages ("hg" among
// the flags of proc(5), /proc/pid/smaps), nothing of it is held, and the first collection waits
// until a quarter of a gigabyte is used. It is asked of a process of its own: what the other
// tests of this one hold and wait for is no affair of publish.
func TestLargePages(t *testing.T) {
	if _, err := os.Stat("/sys/kernel/mm/transparent_hugepage"); err != nil || scarce() {
		t.Skip("this system has no large pages to ask for, or no addresses to spare")
	}
	if os.Getenv("SHEDWALL_ALONE") == "" {
		alone := exec.Command(os.Args[0], "-test.run=^TestLargePages$", "-test.count=1")
		alone.Env = append(os.Environ(), "SHEDWALL_ALONE=1")
		if said, err := alone.CombinedOutput(); err != nil {
			t.Errorf("%v\n%s", err, said)
		}
		return
	}
	wished := func() int {
		maps, err := os.ReadFile("/proc/self/smaps")
		if err != nil {
			t.Skip("this system does not say how memory is held: ", err)
		}
		n := 0
		for line := range strings.Lines(string(maps)) {
			if flags, ok := strings.CutPrefix(line, "VmFlags:"); ok && strings.Contains(flags+" ", " hg ") {
				n++
			}
		}
		return n
	}
	defer runtime.KeepAlive(collectSeldom())
	if wished() == 0 {
		t.Error("no memory is wished for in large pages")
	}
	runtime.GC()
	var now runtime.MemStats
	runtime.ReadMemStats(&now)
	if now.HeapAlloc > 128<<20 || now.NextGC < 320<<20 || now.NextGC > 384<<20 {
		t.Errorf("%d MB are held, and the next collection waits for %d", now.HeapAlloc>>20, now.NextGC>>20)
	}
}
