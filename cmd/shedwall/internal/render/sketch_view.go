package render

import "shedwall/cmd/shedwall/internal/page"

// viewSketch is a drawing as templates see it. Name is empty where it stands beside a
// link that names the thing.
type viewSketch struct {
	Name  string
	Paths []sketchPath
}

func (v *viewer) sketch(d page.Drawing, name string) *viewSketch {
	s, ok := sketchOf(d.ID, d.Kind)
	if !ok {
		v.fail("there is no drawing of %q, nor of its kind %q", d.ID, d.Kind)
		return nil
	}
	return &viewSketch{Name: name, Paths: s.strokes}
}

func (v *viewer) gallery(g page.Gallery) viewBlock {
	out := viewBlock{Kind: "gallery"}
	for _, x := range g.Items {
		out.Gallery = append(out.Gallery, viewGalleryItem{v.sketch(x.Drawing, ""), v.inlines([]page.Inline{x.Link}), x.Note})
	}
	return out
}

type viewGalleryItem struct {
	Sketch *viewSketch
	Link   []viewInline
	Note   string
}

type viewTerm struct {
	ID          string
	Name, Means []viewInline
}

func (v *viewer) terms(t page.Terms) viewBlock {
	out := viewBlock{Kind: "terms"}
	for _, x := range t.Items {
		out.Terms = append(out.Terms, viewTerm{x.ID, v.inlines(x.Name), v.inlines(x.Means)})
	}
	return out
}

func bareID(id string, p page.Prose) string {
	if p.Bare {
		return ""
	}
	return id
}
