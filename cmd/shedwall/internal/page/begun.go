package page

import (
	"shedwall/cmd/shedwall/internal/catalog"
	"shedwall/cmd/shedwall/internal/words"
)

// begunNote warns on every page of a guide that still has the made-up weather station it
// began with; nothing in any other guide.
func (b *builder) begunNote() []Block {
	if !b.Tables.Begun() {
		return nil
	}
	return []Block{Note{Kind: "caution", Label: b.t("begun.label"), Text: b.say("begun.note")}}
}

// begunText is the same in one line, for every page of paper: a sheet pinned up would
// outlast the page that it came from. "" in any other guide.
func begunText(t *catalog.Tables, book *words.Book) string {
	if !t.Begun() {
		return ""
	}
	return book.T("begun.label") + " " + book.T("begun.sheet")
}

// begunLine is begunText on a sheet, where two languages have room for the shorter half.
func (w Wall) begunLine() string {
	if w.pair != nil && w.Tables.Begun() {
		return w.Book.T("begun.sheet")
	}
	return begunText(w.Tables, w.Book)
}
