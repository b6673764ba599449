package page

import (
	"strconv"

	"shedwall/cmd/shedwall/internal/catalog"
	"shedwall/cmd/shedwall/internal/edition"
)

// mostOnSlip is how many dates of one sheet are corrected by a slip; a sheet on which more
// moved is to be printed anew.
const mostOnSlip = 14

// corrections are the correction slips of a guide: leaves by band, and for each corrected page
// its leaf.
type corrections struct {
	leaves map[string][]*Leaf
	of     map[string]*Leaf // by the code of the printed sheet
}

// corrections makes a slip for each sheet of the edition before on which a few dates moved, as
// many on one leaf as fit.
func (b *builder) corrections(t *movedText) *corrections {
	out := &corrections{leaves: map[string][]*Leaf{}, of: map[string]*Leaf{}}
	for i := range b.Tables.Bands {
		row := &b.Tables.Bands[i]
		var strips []LeafStrip
		var codes []string
		close := func() {
			if len(strips) == 0 {
				return
			}
			l := b.correctionLeaf(row, len(out.leaves[row.ID])+1, strips)
			out.leaves[row.ID] = append(out.leaves[row.ID], l)
			for _, c := range codes {
				out.of[c] = l
			}
			strips, codes = nil, nil
		}
		for _, s := range t.Sheets {
			if s.Sheet.Band != row.ID || s.Folder != b.Language.Folder || s.Same || s.Right || s.Moved == 0 || s.Moved > mostOnSlip {
				continue
			}
			strip := b.correctionStrip(t, s)
			if b.LeafFits != nil && b.LeafFits(b.correctionLeaf(row, 1, append(strips[:len(strips):len(strips)], strip))) != nil {
				close()
				if b.LeafFits(b.correctionLeaf(row, 1, []LeafStrip{strip})) != nil {
					continue // to be printed anew
				}
			}
			strips, codes = append(strips, strip), append(codes, s.Sheet.Code)
		}
		close()
	}
	return out
}

// correctionLeaf is a leaf of slips of a band.
func (b *builder) correctionLeaf(row *catalog.Band, n int, strips []LeafStrip) *Leaf {
	g := b.Tables.Guide
	l := &Leaf{Path: CorrectionPath(row.ID, n), Lang: b.words.Language(), Band: row.Name, Name: b.t("slip.name"), Subject: b.t("slip.subject"),
		Edition: b.t("sheet.edition", "guide", g.Title, "edition", strconv.Itoa(g.Edition)), Dated: isoDate(g.EditionDate)}
	if n > 1 {
		l.Name = b.t("slip.name.n", "n", strconv.Itoa(n))
	}
	head := LeafStrip{Columns: [][]LeafBlock{{LeafHeading{Level: 1, Text: b.t("slip.title", "band", row.Name)}, LeafText{Text: b.t("slip.how")}}}}
	l.Strips = append([]LeafStrip{head}, strips...)
	return b.closed(l)
}

// correctionStrip is the slip of one printed sheet.
func (b *builder) correctionStrip(t *movedText, s edition.SheetState) LeafStrip {
	table := LeafTable{Caption: b.t("slip.caption", "code", s.Sheet.Code), Head: []string{b.t("slip.row"), b.t("head.crop"), b.t("slip.date"), b.t("moved.head.was"), b.t("moved.head.now")}}
	last := ""
	for _, c := range t.careful {
		if !s.Sheet.Prints(c.Was) {
			continue
		}
		table.Rows = append(table.Rows, []LeafCell{{Text: c.Was.Code, Strong: true, Rule: c.Key.Crop != last && last != ""}, {Text: b.correctionCrop(c), Rule: c.Key.Crop != last && last != ""},
			{Text: b.changedAction(c)}, {Text: b.printedWindow(c.Was)}, {Text: b.printedWindow(c.Now), Strong: true}})
		last = c.Key.Crop
	}
	return LeafStrip{Columns: [][]LeafBlock{{
		LeafHeading{Level: 2, Text: b.t("slip.sheet", "code", s.Sheet.Code, "name", s.Sheet.Name), Corner: s.Sheet.Code},
		table,
		LeafText{Text: b.t("slip.dated", "date", b.words.DateFull(b.Tables.Guide.EditionDate), "publisher", b.Tables.Guide.Publisher), Small: true},
	}}}
}

func (b *builder) correctionCrop(c *edition.Change) string {
	return b.keptName(c.Was)
}

// keptName is the name of the crop of a row that an edition kept, in the pages' language
// where the guide still has the crop; editions keep names in the guide's own.
func (b *builder) keptName(r *catalog.EditionRow) string {
	if row := b.cropRow[r.Crop]; row != nil {
		return row.Name
	}
	return r.Name
}

// correctionLinks leads to the leaves of a band's slips.
func (b *builder) correctionLinks(leaves []*Leaf) []Inline {
	var out []Inline
	for i, l := range leaves {
		if i > 0 {
			out = append(out, Inline{Text: " · "})
		}
		out = append(out, link(b.t("paper.letter", "what", l.Name), LeafPDF(l.Path, "letter")), Inline{Text: " · "}, link(b.t("paper.a4", "what", l.Name), LeafPDF(l.Path, "a4")))
	}
	return out
}

// movedSheets tells of each page printed with the edition before whether it still holds.
func (b *builder) movedSheets(t *movedText, slips *corrections) Table {
	out := Table{ID: "sheet-codes", Caption: b.t("moved.sheets.caption", "edition", b.since(t.Before)), RowHeads: true,
		Head: []string{b.t("band.sheets.code"), b.t("head.band"), b.t("moved.head.sheet"), b.t("moved.head.still"), b.t("moved.head.do")}}
	names := map[string]string{}
	for _, p := range t.Before.Bands {
		names[p.ID] = p.Name
	}
	for i := range b.Tables.Bands {
		names[b.Tables.Bands[i].ID] = b.Tables.Bands[i].Name
	}
	for _, s := range t.Sheets {
		if s.Folder != b.Language.Folder {
			continue
		}
		still, do := "", []Inline(nil)
		switch {
		case s.Same:
			still, do = b.t("moved.still.same"), b.say("moved.do.nothing")
		case s.Right:
			still, do = b.t("moved.still.right"), b.say("moved.do.nothing")
		case s.NowCode == "":
			still, do = b.t("moved.still.gone"), b.say("moved.do.away")
		case s.Moved == 0:
			still, do = b.t("moved.still.other"), b.say("moved.do.anew", "code", s.NowCode)
		default:
			still, do = b.t("moved.still.no", "dates", b.words.N("moved.dates", s.Moved)), b.say("moved.do.anew", "code", s.NowCode)
		}
		if l := slips.of[s.Sheet.Code]; l != nil {
			do = append(b.correctionLinks([]*Leaf{l}), Inline{Text: " " + b.t("moved.do.or", "code", s.NowCode)})
		}
		out.Rows = append(out.Rows, [][]Inline{plain(s.Sheet.Code), plain(names[s.Sheet.Band]), plain(s.Sheet.Name), plain(still), do})
	}
	return out
}
