package page

import (
	"shedwall/cmd/shedwall/internal/catalog"
)

// Drawing is the line drawing of a cover or structure; render draws it. Name says in
// words what it shows. Small ones stand beside a link that names the thing, and are
// hidden from reading programs.
type Drawing struct {
	ID   string // of the cover or structure
	Kind string // "fabric", "film", "glass" or "mulch": what is drawn where the id has no drawing of its own
	Name string
}

// Gallery is links with a small drawing each.
type Gallery struct{ Items []GalleryItem }

// GalleryItem is one of them. Note may be empty.
type GalleryItem struct {
	Drawing Drawing
	Link    Inline
	Note    string
}

func (Drawing) block() {}
func (Gallery) block() {}

// drawing is the picture of a cover or structure with its words.
func (b *builder) drawing(c *catalog.Cover) Drawing {
	d := Drawing{ID: c.ID, Kind: c.Kind.String()}
	key := "drawing." + c.ID
	if !b.words.Has(key) {
		key = "drawing.kind." + d.Kind
	}
	d.Name = b.t(key)
	return d
}

// coverGallery is every cover of the guide to look at.
func (b *builder) coverGallery() Gallery {
	g := Gallery{}
	for _, c := range everyCover(b.Tables) {
		g.Items = append(g.Items, GalleryItem{Drawing: b.drawing(c), Link: link(firstUpper(c.Name), HTML(CoverPath(c.ID)))})
	}
	return g
}
