package main

import (
	"os"
	"path/filepath"
	"strconv"
	"strings"

	"github.com/rogpeppe/go-internal/testscript"
)

// scriptGuide is a whole guide of two typed dates, for scripts about one bad file.
var scriptGuide = map[string]string{
	"guide.csv": "setting,value\ntitle,Upper Alder\npublisher,Alder Circle\ncontact,post@alder.example\n" +
		"edition,1\nedition_date,2026-02-01\nlanguage,en\n",
	"stations.csv": "station,name,latitude,longitude,elevation_m,position,zone\nschool,Alder School,44.21,-38.1,410,slope,5a\n",
	"bands.csv":    "band,name,low_m,high_m,position,zone\nslopes,Alder Slopes,350,500,slope,5a\n",
	"places.csv":   "place,elevation_m,position\nAlder Corner,430,slope\n",
	"freeze.csv":   "station,event,below_c,odds_percent,date\nschool,last,0,50,05-18\nschool,first,0,50,09-28\n",
}

// writeSmallGuide is the script command "small DIR": scriptGuide in a folder.
func writeSmallGuide(ts *testscript.TestScript, neg bool, args []string) {
	if neg || len(args) != 1 {
		ts.Fatalf("usage: small DIR")
	}
	dir := filepath.Join(ts.MkAbs(args[0]), "data")
	ts.Check(os.MkdirAll(dir, 0o755))
	for name, text := range scriptGuide {
		ts.Check(os.WriteFile(filepath.Join(dir, name), []byte(text), 0o644))
	}
}

// writeBytes is the script command "bytes FILE 'TEXT'": the text with Go's escapes
// (\xff, \r, \t) as bytes, for what a script's own text cannot hold.
func writeBytes(ts *testscript.TestScript, neg bool, args []string) {
	if neg || len(args) != 2 {
		ts.Fatalf("usage: bytes FILE 'TEXT'")
	}
	putFile(ts, args[0], unquoted(ts, args[1]))
}

// writeRepeated is the script command "repeat FILE 'START' N 'TEXT' ['END']": N times a
// text between two others, all with Go's escapes; %d in it becomes 1, 2, 3 ...
func writeRepeated(ts *testscript.TestScript, neg bool, args []string) {
	if neg || len(args) < 4 || len(args) > 5 {
		ts.Fatalf("usage: repeat FILE 'START' N 'TEXT' ['END']")
	}
	n, err := strconv.Atoi(args[2])
	ts.Check(err)
	text := unquoted(ts, args[3])
	var b strings.Builder
	b.WriteString(unquoted(ts, args[1]))
	for k := range n {
		b.WriteString(strings.ReplaceAll(text, "%d", strconv.Itoa(k+1)))
	}
	if len(args) == 5 {
		b.WriteString(unquoted(ts, args[4]))
	}
	putFile(ts, args[0], b.String())
}

func unquoted(ts *testscript.TestScript, s string) string {
	text, err := strconv.Unquote(`"` + s + `"`)
	ts.Check(err)
	return text
}

func putFile(ts *testscript.TestScript, name, text string) {
	file := ts.MkAbs(name)
	ts.Check(os.MkdirAll(filepath.Dir(file), 0o755))
	ts.Check(os.WriteFile(file, []byte(text), 0o644))
}
