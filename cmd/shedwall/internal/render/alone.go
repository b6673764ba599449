package render

import (
	"bytes"
	"fmt"
	htmltemplate "html/template"

	"shedwall/cmd/shedwall/internal/page"
)

// viewAlone is a page that is a file of its own.
type viewAlone struct {
	Lang, Title, Description string
	Style                    htmltemplate.CSS
	Blocks                   any
}

// Alone is a page as one HTML file that needs no other: its style is in it, and it has
// neither navigation nor foot. Its links may lead to places on itself only.
func (t *Pages) Alone(p *page.Page) ([]byte, error) {
	store := openStore()
	defer store.close()
	v := newViewer(store, p)
	view := viewAlone{Lang: p.Lang, Title: p.Title, Description: p.Description, Style: htmltemplate.CSS(t.style), Blocks: v.blocks(p.Blocks)}
	if v.err != nil {
		return nil, v.err
	}
	var b bytes.Buffer
	if err := t.html.ExecuteTemplate(&b, "alone", view); err != nil {
		return nil, fmt.Errorf("%s: %w", page.HTML(p.Path), err)
	}
	return b.Bytes(), nil
}
