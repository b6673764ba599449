package page

import (
	"cmp"
	"maps"
	"slices"
	"strings"
)

// formRows is how many reports one form has room for; where the names of crops take much
// room, fewer.
const formRows, fewestReports = 12, 6

// reportLeaf is the blank form of a band: a line a report, with the codes that its wall
// sheets have for crops and covers.
func (b *builder) reportLeaf(m *bandPage) *Leaf {
	for n := formRows; ; n-- {
		if l := b.reportLeafOf(m, n); n == fewestReports || b.LeafFits == nil || b.LeafFits(l) == nil {
			return l
		}
	}
}

// reportLeafOf is the form with room for n reports.
func (b *builder) reportLeafOf(m *bandPage, n int) *Leaf {
	l := b.newLeaf(m, ReportPath(m.row().ID), "report.name")
	head, how := []string{}, b.t("report.how")
	for _, c := range reportColumns {
		text := b.t("report.head." + c)
		if c == "low" || c == "inside" {
			text += ", " + b.formUnit()
		}
		head = append(head, text)
	}
	if len(b.scales()) > 1 {
		how += " " + b.t("report.how.unit")
	}
	t := LeafTable{Caption: b.t("report.caption"), Head: head, Pencil: true}
	for i := range n {
		row := []LeafCell{{Text: b.words.Int(i + 1)}}
		for range head[1:] {
			row = append(row, LeafCell{})
		}
		t.Rows = append(t.Rows, row)
	}
	l.Strips = []LeafStrip{
		{Columns: [][]LeafBlock{{LeafHeading{Level: 1, Text: b.t("report.title", "band", m.row().Name)}, LeafText{Text: how}}}},
		{Columns: [][]LeafBlock{{t}}},
		{Columns: [][]LeafBlock{{LeafText{Lead: b.t("report.codes.crops"), Text: b.formCodes(m), Small: true},
			LeafText{Lead: b.t("report.codes.covers"), Text: b.formCovers(), Small: true}}}},
	}
	return b.closed(l)
}

// reportColumns are the headings of a form, as keys of phrases.
var reportColumns = []string{"line", "date", "crop", "cover", "low", "inside", "outcome"}

// formUnit is the unit of a low: the guide's own, or both, of which the writer says one.
func (b *builder) formUnit() string {
	scales := b.scales()
	if len(scales) > 1 {
		return b.t("report.unit")
	}
	return b.unit(scales[0])
}

// formCodes is "A1 kale · A2 pea ... B1 tomato": a form is read beside the wall sheets.
func (b *builder) formCodes(m *bandPage) string {
	codes := m.wall.codes()
	crops := slices.SortedFunc(maps.Keys(codes), func(x, y string) int { return compareCodes(codes[x], codes[y]) })
	out := make([]string, len(crops))
	for i, id := range crops {
		out[i] = codes[id] + " " + b.cropRow[id].Name
	}
	return runOn(out) + "."
}

// compareCodes orders the codes of rows, a letter and a number, as the sheets number them:
// A2 before A10.
func compareCodes(x, y string) int {
	return cmp.Or(cmp.Compare(x[0], y[0]), cmp.Compare(len(x), len(y)), cmp.Compare(x, y))
}

// formCovers is the letters of the covers that sheets draw.
func (b *builder) formCovers() string {
	out := []string{b.t("report.open")}
	for i := range b.Tables.Covers {
		if c := &b.Tables.Covers[i]; c.Offered && c.Letter != "" {
			out = append(out, c.Letter+" "+c.Name)
		}
	}
	return runOn(out) + "."
}

// reportPage is the form as a page of text: what to write down, and the form to print.
func (b *builder) reportPage(m *bandPage, l *Leaf) *Page {
	name := m.row().Name
	p := b.newPage(ReportPath(m.row().ID), BandsPlace, b.t("report.title", "band", name), b.t("report.description", "band", name))
	p.add(Para{Lead: true, Text: b.say("report.how")}, b.leafLinks(m, l))
	list := List{Ordered: true}
	for _, c := range reportColumns[1:] {
		list.Items = append(list.Items, []Inline{{Text: strings.ReplaceAll(b.t("report.head."+c), "\n", " ") + ".", Strong: true}, {Text: " " + b.t("report.what."+c)}})
	}
	p.add(b.heading(2, "write", "report.h.write"), list)
	p.add(b.heading(2, "codes", "report.h.codes"), para(Inline{Text: b.t("report.codes.crops") + " ", Strong: true}, Inline{Text: b.formCodes(m)}),
		para(Inline{Text: b.t("report.codes.covers") + " ", Strong: true}, Inline{Text: b.formCovers()}))
	return p
}

// reportForms leads to the form of every band.
func (b *builder) reportForms() List {
	l := List{Columns: true}
	for _, m := range b.made {
		l.Items = append(l.Items, []Inline{link(b.t("report.title", "band", m.row().Name), HTML(ReportPath(m.row().ID)))})
	}
	return l
}
