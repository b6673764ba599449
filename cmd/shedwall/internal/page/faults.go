package page

import (
	"fmt"
	"slices"
	"strconv"
	"strings"

	"shedwall/cmd/shedwall/internal/diag"
)

// Faults is what a check of a guide found, as one page of its own: by file, with what each
// kind of fault means, a wrong row and the right one. Messages are in English, as on the
// terminal, and so is the page; it needs no phrases, for these may be what is wrong.
func Faults(guide string, faults []diag.Fault) *Page {
	title := "Check of the guide"
	if guide != "" {
		title = "Check of " + guide
	}
	p := &Page{Path: "faults", Lang: "en", Title: title, Description: "What a check of the guide found, and how to mend it.",
		Blocks: []Block{Heading{Level: 1, Text: plain(title)}}}
	counts := map[diag.Severity]int{}
	byFile := map[string][]diag.Fault{}
	var files, ids []string
	for _, f := range faults {
		counts[f.Severity]++
		if !slices.Contains(files, f.At.File) {
			files = append(files, f.At.File)
		}
		byFile[f.At.File] = append(byFile[f.At.File], f)
		if _, ok := diag.Explain(f.ID); ok && !slices.Contains(ids, f.ID) {
			ids = append(ids, f.ID)
		}
	}
	slices.Sort(ids)
	if len(faults) == 0 {
		p.add(Para{Lead: true, Text: plain("Nothing to mend.")})
		return p
	}
	lead := fmt.Sprintf("%s, %s and %s.", many(counts[diag.Error], "fault"), many(counts[diag.Warning], "warning"), many(counts[diag.Notice], "note"))
	stops := "Nothing stops a publish. Look at the warnings; the notes say what was taken as meant."
	if counts[diag.Error] > 0 {
		stops = "While there is a fault, nothing is published and the old pages stay. Warnings and notes stop nothing."
	}
	p.add(Para{Lead: true, Text: plain(lead + " " + stops)})
	contents := Contents{Name: "On this page"}
	for i, file := range files {
		contents.Items = append(contents.Items, link(fmt.Sprintf("%s (%d)", fileName(file), len(byFile[file])), "#file-"+strconv.Itoa(i+1)))
	}
	if len(ids) > 0 {
		contents.Items = append(contents.Items, link("What each kind means", "#kinds"))
	}
	p.add(contents)
	for i, file := range files {
		id := "file-" + strconv.Itoa(i+1)
		p.add(Heading{Level: 2, ID: id, Text: plain(fileName(file))}, faultTable(id+"-table", file, byFile[file]))
	}
	if len(ids) > 0 {
		p.add(Heading{Level: 2, ID: "kinds", Text: plain("What each kind means")})
		for _, id := range ids {
			e, _ := diag.Explain(id)
			p.add(Heading{Level: 3, ID: "kind-" + id, Text: plain(e.Title + " (" + id + ")")}, para(Inline{Text: e.Why}),
				para(Inline{Text: "Wrong:", Strong: true}), Code{Text: e.Wrong}, para(Inline{Text: "Right:", Strong: true}), Code{Text: e.Right})
		}
	}
	return p
}

func many(n int, what string) string {
	if n == 1 {
		return "1 " + what
	}
	return strconv.Itoa(n) + " " + what + "s"
}

func fileName(file string) string {
	if file == "" {
		return "the guide folder"
	}
	return file
}

// faultTable is the faults of one file, a row each, worst first as they stand in it.
func faultTable(id, file string, faults []diag.Fault) Table {
	t := Table{ID: id, Caption: "What a check found in " + fileName(file), RowHeads: true,
		Head: []string{"Where", "How bad", "What is there", "What was expected", "What to do", "Kind"}}
	or := func(s, otherwise string) []Inline {
		if s == "" {
			s = otherwise
		}
		return plain(firstUpper(s))
	}
	for _, f := range faults {
		kind := plain(f.ID)
		if _, ok := diag.Explain(f.ID); ok {
			kind = []Inline{link(f.ID, "#kind-"+f.ID)}
		}
		t.Rows = append(t.Rows, [][]Inline{plain(placeWords(f.At)), plain(f.Severity.String()), or(f.What, "not said"), or(f.Expected, "nothing further"), or(f.Cure, "nothing further"), kind})
	}
	return t
}

// placeWords is a place within its file: "line 14, cell E14 (kill_c)".
func placeWords(p diag.Position) string {
	var parts []string
	if p.Line > 0 {
		parts = append(parts, "line "+strconv.Itoa(p.Line))
	}
	if p.Cell != "" {
		cell := "cell " + p.Cell
		if p.Heading != "" {
			cell += " (" + p.Heading + ")"
		}
		parts = append(parts, cell)
	}
	if len(parts) == 0 {
		return "the whole file"
	}
	return strings.Join(parts, ", ")
}
