package main

import (
	"os"
	"path/filepath"
	"slices"
	"strings"
	"testing"
)

// badInputs is every kind of input that publishers' files are known to hold, by its number
// in our list of what they trip over, with the script that feeds it and a line of it.
var badInputs = []struct{ number, kind, script, line string }{
	{"N1", "byte-order mark, semicolons, decimal commas", "bad_bytes", "cmp stdout semicolons.txt"},
	{"N2", "byte-order mark and a quoted heading", "bad_bytes", "cmp stdout quoted.txt"},
	{"N4", "UTF-16 with and without its mark", "bad_bytes", "cmp stdout utf16_bare.txt"},
	{"N5", "Windows-1252", "bad_bytes", "cmp stdout windows.txt"},
	{"N7", "line ends of old and mixed kinds", "bad_bytes", "cmp stdout mixed.txt"},
	{"N8", "ways to write that nobody knows", "bad_numbers", "cmp stdout not_given.txt"},
	{"N10", "thousands", "bad_numbers", "cmp stdout comma.txt"},
	{"N12", "ranges, and ranges become dates", "bad_numbers", "cmp stdout ranges.txt"},
	{"N13", "day and month in either order", "bad_dates", "cmp stdout slashes.txt"},
	{"N15", "years of two digits, names of months", "bad_dates", "cmp stdout names.txt"},
	{"N16", "days that there are not", "bad_dates", "cmp stdout none.txt"},
	{"N19", "years without a freeze and years with holes", "few_freezes", "stdout '2[5-7] of 30'"},
	{"N20", "no freeze at all, and freezes in any month", "few_freezes", "(?i)any month"},
	{"N21", "fixed columns with flags and a day too many", "bad_records", "cmp stdout dly.txt"},
	{"N23", "units in cells", "bad_numbers", "cmp stdout units.txt"},
	{"N24", "a difference without a unit", "bad_numbers", "cmp stdout gain.txt"},
	{"N26", "titles, sums and remarks about a table", "bad_names", "cmp stdout titles.txt"},
	{"N27", "marks beside numbers", "bad_numbers", "cmp stdout marks.txt"},
	{"N29", "empty columns, short and long rows", "bad_names", "cmp stdout rows.txt"},
	{"N30", "one id in several spellings, accents in two forms", "bad_names", "cmp stdout accents.txt"},
	{"N32", "names that no other table has", "bad_names", "cmp stdout orphans.txt"},
	{"N33", "texts that could be more than text", "bad_text", "cmp stdout formulas.txt"},
	{"N35", "contradictions", "bad_numbers", "cmp stdout contradictions.txt"},
	{"N36", "numbers that only machines read", "bad_numbers", "cmp stdout machine.txt"},
	{"N38", "bands with gaps, overlaps and open ends", "bad_names", "cmp stdout bands.txt"},
	{"N39", "files that are no table", "bad_bytes", "cmp stdout pointer.txt"},
	{"N41", "paths that lead out", "bad_settings", "exits 2 shedwall publish --guide h --out ../../x"},
	{"N43", "growers' reports", "bad_reports", "cmp stdout told.txt"},
	{"", "stations whose place, height or dates do not fit the others", "bad_stations", "cmp stdout far.txt"},
	{"", "the same paths as ids of bands", "bad_names", "cmp stdout paths.txt"},
	{"", "everything too large", "bad_limits", "cmp stdout table.txt"},
	{"", "a slip in every name that is looked up", "bad_settings", "cmp stdout slips.txt"},
	{"", "a language without a phrase", "bad_settings", "cmp stdout french.txt"},
	{"", "twenty mistakes at once", "check_twenty", "cmp stdout faults.txt"},
}

// Every kind has its script, and every script about bad input feeds a kind.
func TestBadInputsHaveScripts(t *testing.T) {
	scripts, err := filepath.Glob("testdata/script/bad_*.txtar")
	if err != nil || len(scripts) == 0 {
		t.Fatal(len(scripts), err)
	}
	for _, s := range scripts {
		name := strings.TrimSuffix(filepath.Base(s), ".txtar")
		if !slices.ContainsFunc(badInputs, func(b struct{ number, kind, script, line string }) bool { return b.script == name }) {
			t.Errorf("%s feeds no kind of bad input", name)
		}
	}
	seen := map[string]bool{}
	for _, b := range badInputs {
		text, err := os.ReadFile(filepath.Join("testdata", "script", b.script+".txtar"))
		if err != nil || !strings.Contains(string(text), b.line) {
			t.Errorf("%s %s: %s has no line %q", b.number, b.kind, b.script, b.line)
		}
		if b.number != "" && seen[b.number] {
			t.Errorf("%s stands here twice", b.number)
		}
		seen[b.number] = true
	}
}
