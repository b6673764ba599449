package intake

import (
	"bytes"
	"fmt"
	"regexp"
	"strconv"

	"shedwall/cmd/shedwall/internal/diag"
	"shedwall/cmd/shedwall/internal/quantity"
	"shedwall/cmd/shedwall/internal/record"
)

// The freeze files of 1981-2010 by variable hold thousands of stations at one
// threshold and one percentage, which stand in the file's name alone. In spite of the
// ending .csv that some carry, a line is a station's id of eleven characters and a
// figure with its completeness letter glued on: "04/01S", "160R", "-4444S", "-6666".
var (
	reFixedName = regexp.MustCompile(`(?i)ann-tmin-prb(lst|fst|gsl)-t([0-9]{2})fp([0-9]{2})(?:\.|$)`)
	reFixedLine = regexp.MustCompile(`^([A-Z]{2}[A-Z0-9]{9})[ \t]+([0-9]{2}/[0-9]{2}|-?[0-9]{1,4})([A-Z]?)[ \t]*$`)
)

// isFixed recognises such a file by its first line.
func isFixed(head []byte) bool {
	line, _, _ := bytes.Cut(head, []byte("\n"))
	return reFixedLine.Match(bytes.TrimRight(line, "\r"))
}

// fixedFile is one of them, read.
type fixedFile struct {
	stations []string // in the order of the file
	rows     map[string]record.FreezeRow
	spans    map[string]record.SpanRow
	unknown  int // stations for which the publisher has no figure
}

// readFixed reads a freeze file by variable; nil where it cannot be used.
func readFixed(file string, text []byte, t *teller) *fixedFile {
	m := reFixedName.FindStringSubmatch(stem(file) + ".")
	if m == nil {
		t.add(diag.Fault{
			At: diag.Position{Line: 1}, ID: "freeze-name", What: "this is a freeze file of many stations, and only its name can say for which temperature and odds",
			Expected: "a name such as ann-tmin-prblst-t32Fp50.csv", Cure: "give it back the name under which it was published",
		})
		return nil
	}
	element := map[byte]string{'l': "LST", 'L': "LST", 'f': "FST", 'F': "FST", 'g': "GSL", 'G': "GSL"}[m[1][0]]
	below, odds := quantity.FromFahrenheit(float64(atoi(m[2]))), percentOf(element, atoi(m[3]))
	f := &fixedFile{rows: map[string]record.FreezeRow{}, spans: map[string]record.SpanRow{}}
	seen := map[string]bool{}
	for line := 1; len(text) > 0; line++ {
		var l []byte
		l, text, _ = bytes.Cut(text, []byte("\n"))
		if len(bytes.TrimSpace(l)) == 0 {
			continue
		}
		wrong := func(what string) {
			t.add(diag.Fault{
				At: diag.Position{Line: line, Column: 1}, ID: "freeze-line", What: what,
				Expected: "a station and a figure such as 04/01S, each station once", Cure: "download the file again; do not edit it in a spreadsheet",
			})
		}
		p := reFixedLine.FindSubmatch(l)
		if p == nil {
			wrong("this line is none of such a file: " + quoteStart(l))
			continue
		}
		id := string(p[1])
		if seen[id] {
			wrong(fmt.Sprintf("station %s stands in the file already", id))
			continue
		}
		c, odd := readNormal(string(p[2]), "")
		if odd == "" {
			odd = readAttributes(string(p[3]))
		}
		seen[id] = true
		f.stations = append(f.stations, id)
		at := diag.Position{File: file, Line: line}
		var known bool
		if element == "GSL" {
			s := record.SpanRow{Below: below, Odds: odds, At: at}
			var what string
			if s.Days, known, what = c.days(); known {
				f.spans[id] = s
			}
			odd += what
		} else {
			r := record.FreezeRow{Event: elementEvent[element], Below: below, Odds: odds, At: at}
			var what string
			if r.State, r.Date, known, what = c.freeze(); known {
				f.rows[id] = r
			}
			odd += what
		}
		if odd != "" {
			wrong(strconv.Quote(string(p[2])+string(p[3])) + ": " + odd)
		} else if !known {
			f.unknown++
		}
	}
	if t.failed {
		return nil
	}
	return f
}
