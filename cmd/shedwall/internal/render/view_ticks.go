package render

import "shedwall/cmd/shedwall/internal/page"

// viewTicks is things to do with a box before each.
type viewTicks struct {
	Name  []viewInline
	Items [][]viewInline
}

func (v *viewer) ticks(b page.Ticks) []viewTicks {
	var out []viewTicks
	for _, g := range b.Groups {
		t := viewTicks{Name: v.plain(g.Name), Items: v.store.texts.take(len(g.Items))}
		for i, item := range g.Items {
			t.Items[i] = v.inlines(item)
		}
		out = append(out, t)
	}
	return out
}
