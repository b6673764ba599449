package publish

import (
	"runtime"
	"sync"
)

// work is jobs that run as many at a time as there are processors, the last added first:
// what a job adds is done before what waited already. So the pages of a band are made
// before the next band is begun, and only a few bands are in memory at once. After the
// first error the jobs that have not begun are left out.
type work struct {
	mutex   sync.Mutex
	changed *sync.Cond
	jobs    []func() error
	busy    int // jobs being done
	err     error
}

func newWork() *work {
	w := &work{}
	w.changed = sync.NewCond(&w.mutex)
	return w
}

// do adds a job. It is begun when wait is called.
func (w *work) do(job func() error) {
	w.mutex.Lock()
	defer w.mutex.Unlock()
	w.jobs = append(w.jobs, job)
	w.changed.Signal()
}

// wait returns when every job is done, with the first error.
func (w *work) wait() error {
	var hands sync.WaitGroup
	for range runtime.GOMAXPROCS(0) {
		hands.Go(w.help)
	}
	hands.Wait()
	return w.err
}

// help does jobs until there are none and none is being done that could add one.
func (w *work) help() {
	w.mutex.Lock()
	defer w.mutex.Unlock()
	for {
		for len(w.jobs) == 0 && w.busy > 0 {
			w.changed.Wait()
		}
		if len(w.jobs) == 0 || w.err != nil {
			w.changed.Broadcast()
			return
		}
		last := len(w.jobs) - 1
		job := w.jobs[last]
		w.jobs[last] = nil // what it holds may go with it
		w.jobs = w.jobs[:last]
		w.busy++
		err := w.outside(job)
		w.busy--
		if err != nil && w.err == nil {
			w.err = err
		}
	}
}

// outside does a job without the lock, and has it again afterwards, after a panic too: what
// went wrong is told, and nothing else.
func (w *work) outside(job func() error) error {
	w.mutex.Unlock()
	defer w.mutex.Lock()
	return job()
}
