package prose

import (
	"fmt"
	"strings"

	"github.com/yuin/goldmark/ast"
	extast "github.com/yuin/goldmark/extension/ast"

	"shedwall/cmd/shedwall/internal/diag"
)

// captionMark begins the paragraph above a table that holds its caption.
const captionMark = "Table:"

// takeCaption takes the paragraph "Table: ..." off the end of the blocks.
func takeCaption(blocks []Block) ([]Block, []Inline) {
	if len(blocks) == 0 {
		return blocks, nil
	}
	p, ok := blocks[len(blocks)-1].(Para)
	if !ok || len(p.Text) == 0 || p.Text[0].Kind != Text || !strings.HasPrefix(p.Text[0].Text, captionMark) {
		return blocks, nil
	}
	p.Text[0].Text = strings.TrimLeft(strings.TrimPrefix(p.Text[0].Text, captionMark), " ")
	return blocks[:len(blocks)-1], p.Text
}

// table reads a table. The parser drops cells beyond the heading row and pads
// short rows without a word; both are faults here, as is an empty cell, which a
// screen reader cannot tell from a missing figure.
func (r *reader) table(n *extast.Table, caption []Inline) Table {
	t := Table{Caption: caption}
	if len(t.Caption) == 0 {
		t.Caption = r.last
	}
	if len(t.Caption) == 0 {
		t.Caption = []Inline{{Text: r.doc.ID}}
	}
	for row := n.FirstChild(); row != nil; row = row.NextSibling() {
		cells := r.row(row)
		if _, head := row.(*extast.TableHeader); head {
			t.Head = cells
			continue
		}
		if got := cellsWritten(r.lineAt(row.Pos())); got != len(t.Head) {
			r.fault(r.at(row), diag.Error, "prose-table", fmt.Sprintf("the row has %d cells", got), fmt.Sprintf("%d, as the heading row", len(t.Head)), `add or join cells; write \| for an upright stroke inside a cell`)
			continue
		}
		t.Rows = append(t.Rows, cells)
	}
	return t
}

func (r *reader) row(row ast.Node) [][]Inline {
	var cells [][]Inline
	for c := row.FirstChild(); c != nil; c = c.NextSibling() {
		text := r.inlines(c)
		if strings.TrimSpace(Plain(text)) == "" && c.Pos() >= 0 {
			r.fault(r.at(c), diag.Error, "prose-table", "a cell of the table is empty", "a word in every cell", `write "none", "not known" or what the column is about`)
		}
		cells = append(cells, text)
	}
	return cells
}

// lineAt is the line that holds offset, without its line end.
func (r *reader) lineAt(offset int) string {
	if offset < 0 || offset >= len(r.src) {
		return ""
	}
	line, _, _ := strings.Cut(string(r.src[offset:]), "\n")
	return line
}

// cellsWritten counts the cells of a table row as the writer wrote them.
func cellsWritten(line string) int {
	line = strings.TrimSpace(line)
	line = strings.TrimPrefix(line, "|")
	if strings.HasSuffix(line, "|") && !strings.HasSuffix(line, `\|`) {
		line = strings.TrimSuffix(line, "|")
	}
	return strings.Count(strings.ReplaceAll(line, `\|`, ""), "|") + 1
}
