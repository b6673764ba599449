package publish

import (
	"errors"
	"fmt"
	"runtime"
	"slices"
	"sync"
	"testing"
)

// What a job adds is done before what waited already, so that little is held at once.
func TestWorkLastFirst(t *testing.T) {
	defer runtime.GOMAXPROCS(runtime.GOMAXPROCS(1))
	var done []string
	w := newWork()
	for i := 2; i >= 0; i-- {
		w.do(func() error {
			done = append(done, fmt.Sprint("band ", i))
			w.do(func() error { done = append(done, fmt.Sprint("page of ", i)); return nil })
			return nil
		})
	}
	if err := w.wait(); err != nil {
		t.Fatal(err)
	}
	want := []string{"band 0", "page of 0", "band 1", "page of 1", "band 2", "page of 2"}
	if !slices.Equal(done, want) {
		t.Errorf("done %q, want %q", done, want)
	}
	if err := newWork().wait(); err != nil {
		t.Error("no work:", err)
	}
}

// All that jobs add at any depth is done before wait returns; after an error nothing is
// begun.
func TestWorkWhole(t *testing.T) {
	var mutex sync.Mutex
	n := 0
	w := newWork()
	var grow func(depth int) func() error
	grow = func(depth int) func() error {
		return func() error {
			mutex.Lock()
			n++
			mutex.Unlock()
			if depth > 0 {
				for range 3 {
					w.do(grow(depth - 1))
				}
			}
			return nil
		}
	}
	w.do(grow(6))
	if err := w.wait(); err != nil || n != 1093 { // 1 + 3 + ... + 3^6
		t.Errorf("%d jobs done, want 1093; %v", n, err)
	}

	defer runtime.GOMAXPROCS(runtime.GOMAXPROCS(1))
	broken := errors.New("broken")
	w = newWork()
	w.do(func() error { t.Error("begun after an error"); return nil })
	w.do(func() error { return broken })
	if err := w.wait(); !errors.Is(err, broken) {
		t.Errorf("ended with %v", err)
	}
}
