package proof

import (
	"fmt"
	"os"
	"path/filepath"
	"runtime"
	"testing"
)

// ending is a testing.TB that keeps how a test would have ended.
type ending struct {
	testing.TB
	how string
}

func (e *ending) Helper() {}
func (e *ending) Skipf(format string, args ...any) {
	e.how = "skip: " + fmt.Sprintf(format, args...)
	runtime.Goexit()
}
func (e *ending) Fatalf(format string, args ...any) {
	e.how = "fail: " + fmt.Sprintf(format, args...)
	runtime.Goexit()
}

func endOf(t *testing.T, call func(testing.TB)) string {
	e := &ending{TB: t, how: "went on"}
	done := make(chan struct{})
	go func() {
		defer close(done)
		call(e)
	}()
	<-done
	return e.how
}

func TestNeedSkipsOrFails(t *testing.T) {
	need := func(tb testing.TB) { Need(tb, "pdf") }
	empty := t.TempDir()
	t.Setenv("PATH", empty)
	t.Setenv("SHEDWALL_REQUIRE", "")
	log := filepath.Join(empty, "log")
	t.Setenv("SHEDWALL_PROOF_LOG", log)
	if got, want := endOf(t, need), "skip: pdf checks left out: qpdf, pdfinfo, pdffonts, pdftotext not found (.ci/run installs them)"; got != want {
		t.Errorf("not required: %q, want %q", got, want)
	}
	t.Setenv("SHEDWALL_REQUIRE", "html,pdf")
	if got, want := endOf(t, need), "fail: pdf checks are required here, but qpdf, pdfinfo, pdffonts, pdftotext not found (.ci/run installs them)"; got != want {
		t.Errorf("required: %q, want %q", got, want)
	}
	for _, name := range tools["pdf"].programs {
		if err := os.WriteFile(filepath.Join(empty, name), []byte("#!/bin/sh\n"), 0o755); err != nil {
			t.Fatal(err)
		}
	}
	if got := endOf(t, need); got != "went on" {
		t.Errorf("all there: %q, want it to go on", got)
	}
	noted, err := os.ReadFile(log)
	line := filepath.Base(os.Args[0]) + " " + t.Name() + "\n"
	if want := "pdf not " + line + "pdf not " + line + "pdf ran " + line; err != nil || string(noted) != want {
		t.Errorf("noted %q, %v; want %q", noted, err, want)
	}
}

func TestNeedKnowsItsKinds(t *testing.T) {
	if got, want := endOf(t, func(tb testing.TB) { Need(tb, "weather") }), `fail: no kind of check is called "weather"`; got != want {
		t.Errorf("%q, want %q", got, want)
	}
}
