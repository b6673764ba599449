package main

import (
	"os"
	"strconv"
	"testing"

	"github.com/rogpeppe/go-internal/testscript"
)

func TestMain(m *testing.M) {
	testscript.Main(m, map[string]func(){"shedwall": main})
}

// Commands as people run them: each script holds a guide's files and says what is
// printed. A script's first word is the command it is about. "exits N shedwall ..."
// runs a command that must end with that exit code; "small DIR" writes a small guide
// "bytes FILE 'TEXT'" a file byte by byte, "repeat FILE 'START' N 'TEXT' ['END']" one that
// holds a text many times, "%d" in it the number, and "weather FILE FROM TO" a daily record.
func TestScripts(t *testing.T) {
	testscript.Run(t, testscript.Params{
		Dir:                 "testdata/script",
		UpdateScripts:       os.Getenv("UPDATE_SCRIPTS") != "",
		RequireExplicitExec: true,
		Cmds: map[string]func(ts *testscript.TestScript, neg bool, args []string){
			"small":   writeSmallGuide,
			"bytes":   writeBytes,
			"repeat":  writeRepeated,
			"weather": writeWeather,
			"exits": func(ts *testscript.TestScript, neg bool, args []string) {
				if neg || len(args) < 2 {
					ts.Fatalf("usage: exits CODE command [argument ...]")
				}
				want, err := strconv.Atoi(args[0])
				ts.Check(err)
				err = ts.Exec(args[1], args[2:]...)
				got := 0
				if e, ok := err.(interface{ ExitCode() int }); ok {
					got = e.ExitCode()
				} else if err != nil {
					ts.Fatalf("%v", err)
				}
				if got != want {
					ts.Fatalf("exit code %d, want %d", got, want)
				}
			},
		},
	})
}
