package page

import (
	"strconv"
	"strings"

	"shedwall/cmd/shedwall/internal/catalog"
	"shedwall/cmd/shedwall/internal/edition"
	"shedwall/cmd/shedwall/internal/plan"
)

// mostMoved is how many rows a page of moved dates shows at most; what moved least is left
// to the table for spreadsheets, and the page says so.
const mostMoved = 160

// bandMoved is the page of a band's dates that moved; nil where none did.
func (b *builder) bandMoved(t *movedText, row *catalog.Band, slips *corrections) *Page {
	var mine []*edition.Change
	causes := map[int]bool{}
	for _, c := range t.careful {
		if c.Key.Band == row.ID {
			mine = append(mine, c)
			for _, k := range c.Causes {
				causes[k] = true
			}
		}
	}
	if len(mine) == 0 {
		return nil
	}
	p := b.newPage(BandMovedPath(row.ID), BandsPlace, b.t("moved.band.title", "band", row.Name, "n", strconv.Itoa(t.Before.Number)),
		b.t("moved.band.description", "band", row.Name, "edition", b.since(t.Before)))
	p.add(Para{Lead: true, Text: b.say("moved.band.lead", "edition", b.since(t.Before), "moved", b.words.N("moved.dates", len(mine)))},
		para(link(b.t("sentences.back", "band", row.Name), HTML(BandPath(row.ID))), Inline{Text: " · "}, link(b.t("moved.all"), HTML(MovedPath))))
	if l := slips.leaves[row.ID]; len(l) > 0 {
		p.add(para(append([]Inline{{Text: b.t("moved.slips") + " "}}, b.correctionLinks(l)...)...))
	}
	shown := largest(mine)
	if len(shown) < len(mine) {
		p.add(para(Inline{Text: b.t("moved.band.most", "n", b.words.Int(len(shown)), "all", b.words.Int(len(mine))) + " "}, link(b.t("moved.file.link"), MovedFile)))
	}
	p.add(b.heading(2, "dates", "moved.h.dates"), b.changeTable(row, shown), b.heading(2, "causes", "moved.h.causes"), b.causeTable(t, causes))
	return p
}

// largest is the changes that a page has room for: those that came or went, then those
// that moved most, in the order of the keys.
func largest(all []*edition.Change) []*edition.Change {
	if len(all) <= mostMoved {
		return all
	}
	size := func(c *edition.Change) int {
		n := max(c.FromDays, -c.FromDays, c.ToDays, -c.ToDays)
		if n == 0 {
			return 366
		}
		return n
	}
	for least := 2; ; least++ {
		var out []*edition.Change
		for _, c := range all {
			if size(c) >= least {
				out = append(out, c)
			}
		}
		if len(out) <= mostMoved || least > 366 {
			return out[:min(len(out), mostMoved)]
		}
	}
}

// changeTable is a row for each date that moved.
func (b *builder) changeTable(row *catalog.Band, changes []*edition.Change) Table {
	out := Table{ID: "moved-dates", Caption: b.t("moved.dates.caption", "band", row.Name), RowHeads: true,
		Head: []string{b.t("head.crop"), b.t("moved.head.action"), b.t("moved.head.was"), b.t("moved.head.now"), b.t("moved.head.by"), b.t("moved.head.because")}}
	for _, c := range changes {
		out.Rows = append(out.Rows, [][]Inline{b.changed(c), plain(b.changedAction(c)), plain(b.printedWindow(c.Was)), plain(b.printedWindow(c.Now)), plain(b.changedBy(c)), b.because(c)})
	}
	return out
}

// changed is the crop of a change with its row's code.
func (b *builder) changed(c *edition.Change) []Inline {
	r := c.Now
	if r == nil {
		r = c.Was
	}
	name := []Inline{{Text: r.Name}}
	if row := b.cropRow[c.Key.Crop]; row != nil {
		name = []Inline{link(row.Name, HTML(CropPath(row.ID)))}
	}
	if r.Code != "" {
		name = append(name, Inline{Text: " " + r.Code})
	}
	return name
}

// changedAction is "Set out, low tunnel"; open ground goes without saying.
func (b *builder) changedAction(c *edition.Change) string {
	text := b.t("action." + c.Key.Action)
	if c.Key.Layers != "" {
		text = b.t("moved.under", "action", text, "covers", b.layersName(c.Key.Layers))
	}
	return text
}

// changedBy says how far both ends moved.
func (b *builder) changedBy(c *edition.Change) string {
	switch {
	case c.Was == nil:
		return b.t("moved.new")
	case c.Now == nil:
		return b.t("moved.gone")
	case c.Key.Action == string(plan.LastSafeDay) || c.FromDays == c.ToDays && c.FromDays != 0:
		return firstUpper(b.later(c.ToDays))
	case c.FromDays == 0 && c.ToDays == 0:
		return b.t("moved.otherwise")
	case c.ToDays == 0:
		return b.t("moved.by.from", "days", b.later(c.FromDays))
	case c.FromDays == 0:
		return b.t("moved.by.to", "days", b.later(c.ToDays))
	}
	return b.t("moved.by.both", "from", b.later(c.FromDays), "to", b.later(c.ToDays))
}

// later is "3 days later".
func (b *builder) later(n int) string {
	switch {
	case n < 0:
		return b.t("moved.earlier", "days", b.words.Days(-n))
	case n > 0:
		return b.t("moved.later", "days", b.words.Days(n))
	}
	return b.t("moved.otherwise")
}

// because is the numbers of the causes, leading to them.
func (b *builder) because(c *edition.Change) []Inline {
	var out []Inline
	for i, k := range c.Causes {
		if i > 0 {
			out = append(out, Inline{Text: ", "})
		}
		out = append(out, link(b.words.Int(k+1), "#cause-"+strconv.Itoa(k+1)))
	}
	return out
}

// movedHint leads from a band to what moved in it; nothing where no edition was kept.
func (b *builder) movedHint() []Block {
	if !b.movedKept() {
		return nil
	}
	return []Block{para(Inline{Text: b.t("moved.hint") + " "}, link(b.t("moved.hint.link"), HTML(MovedPath)+"#sheets"))}
}

// movedHeads are the columns of moved.csv, the same in every language.
var movedHeads = []string{"band", "crop", "name", "covers", "odds_percent", "action", "was_from", "was_to", "now_from", "now_to", "from_days", "to_days", "sheet", "row", "causes"}

// movedFile is every window that moved, at both odds, as a table for spreadsheets.
func (b *builder) movedFile(m *edition.Moved) File {
	return File{Path: MovedFile, write: func(room []byte) []byte { return b.appendMoved(room, m) }}
}

func (b *builder) appendMoved(out []byte, m *edition.Moved) []byte {
	out = appendRow(out, movedHeads...)
	cells := make([]string, 0, len(movedHeads))
	for i := range m.Changes {
		c := &m.Changes[i]
		r, sheet, code := c.Now, "", ""
		if c.Was != nil {
			sheet, code = c.Was.Sheet, c.Was.Code
		}
		if r == nil {
			r = c.Was
		}
		cells = append(cells[:0], c.Key.Band, c.Key.Crop, b.keptName(r), c.Key.Layers, strconv.Itoa(c.Key.Percent), c.Key.Action)
		for _, x := range []*catalog.EditionRow{c.Was, c.Now} {
			if x == nil {
				cells = append(cells, "", "")
				continue
			}
			cells = append(cells, endText(x.From), endText(x.To))
		}
		cells = append(cells, strconv.Itoa(c.FromDays), strconv.Itoa(c.ToDays), sheet, code, b.causesText(m, c))
		out = appendRow(out, cells...)
	}
	return out
}

func endText(x catalog.EditionBound) string {
	if x.State == catalog.EditionDated {
		return x.Date.String()
	}
	return string(x.State)
}

// causesText is the cells and figures behind a change, semicolons between.
func (b *builder) causesText(m *edition.Moved, c *edition.Change) string {
	var out []string
	for _, k := range c.Causes {
		cause := m.Causes[k]
		if cause.Kind == edition.Unexplained {
			out = append(out, b.causeName(cause))
			continue
		}
		text := b.t("moved.file.cause", "figure", b.causeName(cause), "was", b.causeValue(cause, cause.Was), "now", b.causeValue(cause, cause.Now))
		if cause.Cell != "" {
			text += " (" + cause.Cell + ")"
		}
		out = append(out, text)
	}
	return strings.Join(out, "; ")
}
