package page

import (
	"slices"
	"strings"

	"shedwall/cmd/shedwall/internal/catalog"
	"shedwall/cmd/shedwall/internal/plan"
	"shedwall/cmd/shedwall/internal/quantity"
)

// told is what is said of a crop under one set of layers: short phrases for the type
// of a sheet and long ones for its words, the same windows in the same order.
type told struct{ dates, words []string }

func (t *told) add(date, word string) {
	t.dates, t.words = append(t.dates, date), append(t.words, word)
}

// told words the windows of a crop under layers: sowing inside, the starts outside,
// the harvest. Nothing is said where nothing can be started.
func (w Wall) told(p plan.CropPlan, l plan.LayerPlan) told {
	var t told
	starts := w.starts(p, l)
	if len(starts) == 0 {
		return t
	}
	if win, ok := l.Find(quantity.Careful, plan.SowInside); ok && win.Exists() && win.From.State == plan.Dated {
		t.add(w.Book.T(w.datesKey()+"inside", "range", w.rangeShort(win)), w.Book.T("twin.inside", "range", w.rangeLong(win)))
	}
	for _, win := range starts {
		key, _ := w.startKey(p, win)
		t.add(w.Book.T(w.datesKey()+key, "range", w.rangeShort(win)), w.Book.T("twin."+key, "range", w.rangeLong(win)))
	}
	if h, _, ok := w.harvest(l); ok {
		from := w.date(h.From.Slot)
		if !h.To.EndKnown() {
			t.add(w.Book.T(w.datesKey()+"harvest", "range", w.rangeShort(h)), w.Book.T("twin.harvest_least", "range", w.rangeLong(h)))
		} else if h.To.State == plan.Dated {
			to := w.date(h.To.Slot)
			t.add(w.Book.T(w.datesKey()+"harvest", "range", w.Book.DateRangeShort(from, to)), w.Book.T("twin.harvest", "from", w.Book.Date(from), "to", w.Book.Date(to)))
		} else {
			t.add(w.Book.T(w.datesKey()+"harvest_on", "date", w.Book.DateShort(from)), w.Book.T("twin.harvest_on", "from", w.Book.Date(from)))
		}
	} else if h.From.State == plan.NotKnown && h.From.Gate == plan.Warmth {
		t.add(w.Book.T(w.datesKey()+"unripe"), w.Book.T("twin.unripe"))
	}
	return t
}

// tell gives a row its dates in type and its sentence: what holds in open ground
// first, then what the covers drawn change; where open ground has no season, that
// there is one under covers only, and where nobody knows whether it has, that.
func (w Wall) tell(r *SheetRow, p plan.CropPlan, l plan.LayerPlan, covered told) {
	join := func(phrases []string) string { return strings.Join(phrases, " · ") }
	row := func(key string, t told) string {
		return w.Book.T(key, "crop", p.Crop.Name, "covers", w.layersName(l.Layers), "rest", strings.Join(t.words, "; "))
	}
	if l.Layers == "" {
		r.Dates, r.Sentence = join(covered.dates), row("twin.row", covered)
		return
	}
	open := w.told(p, p.Layers[0])
	switch {
	case seasonNotKnown(&p.Layers[0], quantity.Careful):
		r.Dates = w.Book.T(w.datesKey()+"known_under", "layers", w.layerLetters(l.Layers), "dates", join(covered.dates))
		r.Sentence = row("twin.row_known_under", covered)
	case len(open.dates) == 0:
		r.Dates = w.Book.T(w.datesKey()+"only", "layers", w.layerLetters(l.Layers), "dates", join(covered.dates))
		r.Sentence = row("twin.row_only", covered)
	default:
		r.Dates, r.Sentence = join(open.dates), row("twin.row", open)
		other := told{without(covered.dates, open.dates), without(covered.words, open.words)}
		if len(other.dates) > 0 {
			r.Covered = w.Book.T(w.datesKey()+"under", "layers", w.layerLetters(l.Layers), "dates", join(other.dates))
		}
		r.Sentence += " " + row("twin.row_under", other)
	}
}

// without is the phrases that are not among others.
func without(phrases, others []string) []string {
	return slices.DeleteFunc(slices.Clone(phrases), func(s string) bool { return slices.Contains(others, s) })
}

// layerLetters names layers by the letters of their cover lines, outermost first.
func (w Wall) layerLetters(layers string) string {
	var out []string
	for _, id := range catalog.SplitLayers(layers) {
		letter := id
		if cv := w.cover(id); cv != nil && cv.Letter != "" {
			letter = cv.Letter
		}
		out = append(out, letter)
	}
	return strings.Join(out, "+")
}

// layersName names covers used together, outermost first.
func (w Wall) layersName(layers string) string {
	if layers == "" {
		return w.Book.T("layers.open")
	}
	name := ""
	for _, id := range slices.Backward(catalog.SplitLayers(layers)) {
		one := id
		if cv := w.cover(id); cv != nil {
			one = cv.Name
		}
		if name == "" {
			name = one
		} else {
			name = w.Book.T("layers.over", "outer", one, "inner", name)
		}
	}
	return name
}
