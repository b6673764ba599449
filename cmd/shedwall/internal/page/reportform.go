package page

import (
	"slices"
	"strings"
)

// formRows is how many reports one form has room for.
const formRows = 12

// reportLeaf is the blank form of a band: a line a report, with the codes that its wall
// sheets have for crops and covers.
func (b *builder) reportLeaf(m *bandPage) *Leaf {
	l := b.newLeaf(m, ReportPath(m.row().ID), "report.name")
	head := []string{}
	for _, c := range reportColumns {
		head = append(head, b.t("report.head."+c))
	}
	t := LeafTable{Caption: b.t("report.caption"), Head: head, Pencil: true}
	for i := range formRows {
		row := []LeafCell{{Text: b.words.Int(i + 1)}}
		for range head[1:] {
			row = append(row, LeafCell{})
		}
		t.Rows = append(t.Rows, row)
	}
	l.Strips = []LeafStrip{
		{Columns: [][]LeafBlock{{LeafHeading{Level: 1, Text: b.t("report.title", "band", m.row().Name)}, LeafText{Text: b.t("report.how")}}}},
		{Columns: [][]LeafBlock{{t}}},
		{Columns: [][]LeafBlock{{LeafText{Lead: b.t("report.codes.crops"), Text: b.formCodes(m), Small: true},
			LeafText{Lead: b.t("report.codes.covers"), Text: b.formCovers(), Small: true}}}},
	}
	return b.closed(l)
}

// reportColumns are the headings of a form, as keys of phrases.
var reportColumns = []string{"line", "date", "crop", "cover", "low", "inside", "outcome"}

// formCodes is "KL kale, TM tomato".
func (b *builder) formCodes(m *bandPage) string {
	var out []string
	for id, code := range m.wall.codes() {
		out = append(out, code+" "+b.cropRow[id].Name)
	}
	slices.Sort(out)
	return strings.Join(out, ", ") + "."
}

// formCovers is the letters of the covers that sheets draw.
func (b *builder) formCovers() string {
	out := []string{b.t("report.open")}
	for i := range b.Tables.Covers {
		if c := &b.Tables.Covers[i]; c.Offered && c.Letter != "" {
			out = append(out, c.Letter+" "+c.Name)
		}
	}
	return strings.Join(out, ", ") + "."
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
