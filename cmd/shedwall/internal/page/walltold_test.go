package page

import (
	"strings"
	"testing"

	"shedwall/cmd/shedwall/internal/plan"
	"shedwall/cmd/shedwall/internal/quantity"
)

// TestSheetSaysOpenGroundFirst holds every row of every sheet to the plan: the dates in
// type are open ground's, those that covers change stand after the covers' letters, and
// the sentence says the same windows.
func TestSheetSaysOpenGroundFirst(t *testing.T) {
	in := input(t, tables(), quantity.North, nil)
	kinds := map[string]int{}
	for i := range in.Bands {
		w := Wall{Tables: in.Tables, Book: in.Book, Climate: in.Bands[i].Climate, Plans: in.Bands[i].Plans}
		var plans []plan.CropPlan
		for _, p := range w.Plans {
			bare := p
			bare.Layers = p.Layers[:1]
			plans = append(plans, p, bare)
		}
		for _, p := range plans {
			if !grown(p) {
				continue
			}
			l := w.chosen(p)
			r, _ := w.row(p)
			letters := w.layerLetters(l.Layers)
			open := len(w.starts(p, p.Layers[0])) > 0
			switch {
			case l.Layers == "":
				kinds["open"]++
				if r.Covered != "" || strings.Contains(r.Dates, "under") {
					t.Errorf("%s: covers in type without covers: %q %q", p.Crop.ID, r.Dates, r.Covered)
				}
			case open:
				kinds["both"]++
				if strings.Contains(r.Dates, "under") || r.Covered != "" && !strings.HasPrefix(r.Covered, "under "+letters+": ") {
					t.Errorf("%s: %q, then %q", p.Crop.ID, r.Dates, r.Covered)
				}
			default:
				kinds["only"]++
				if !strings.HasPrefix(r.Dates, "only under "+letters+": ") || r.Covered != "" {
					t.Errorf("%s has no open season and says %q, %q", p.Crop.ID, r.Dates, r.Covered)
				}
			}
			says := func(l plan.LayerPlan, text string, but string) {
				for _, win := range l.Careful {
					if win.Action != plan.SowOutside && win.Action != plan.SetOut || !startable(&win) {
						continue
					}
					short, long := w.rangeShort(win), w.rangeLong(win)
					if !strings.Contains(text, short) && !strings.Contains(but, short) {
						t.Errorf("%s: %s (%s) is not in %q", p.Crop.ID, win.Action, short, text)
					}
					if !strings.Contains(r.Sentence, long) {
						t.Errorf("%s: %s (%s) is not in the sentence %q", p.Crop.ID, win.Action, long, r.Sentence)
					}
				}
			}
			if open {
				says(p.Layers[0], r.Dates, "")
				says(l, r.Covered, r.Dates)
			} else {
				says(l, r.Dates, "")
			}
			// As many phrases in words as in type, and one for each cover line.
			phrases := len(l.Covers)
			for _, text := range []string{r.Dates, r.Covered} {
				if text != "" {
					phrases += strings.Count(text, " · ") + 1
				}
			}
			if words := strings.Count(r.Sentence, "; ") + strings.Count(r.Sentence, ". Under ") + 1; words != phrases {
				t.Errorf("%s: %d in type with %d cover lines, %d in words: %q %q %q", p.Crop.ID, phrases, len(l.Covers), words, r.Dates, r.Covered, r.Sentence)
			}
		}
	}
	for _, k := range []string{"open", "both"} {
		if kinds[k] == 0 {
			t.Errorf("no row of the kind %q was seen: %v", k, kinds)
		}
	}
}

// TestOnlyUnderCovers: where open ground has no season, type and sentence say so first.
func TestOnlyUnderCovers(t *testing.T) {
	in := input(t, tables(), quantity.North, nil)
	w := Wall{Tables: in.Tables, Book: in.Book, Climate: in.Bands[0].Climate, Plans: in.Bands[0].Plans}
	for _, p := range w.Plans {
		if p.Crop.ID != "kale" {
			continue
		}
		p.Layers = append([]plan.LayerPlan(nil), p.Layers...)
		p.Layers[0].Careful = nil // open ground loses its season
		r, _ := w.row(p)
		letters := w.layerLetters(w.chosen(p).Layers)
		if !strings.HasPrefix(r.Dates, "only under "+letters+": ") || r.Covered != "" {
			t.Errorf("in type: %q, %q", r.Dates, r.Covered)
		}
		if !strings.HasPrefix(r.Sentence, "Kale, only under ") {
			t.Errorf("in words: %q", r.Sentence)
		}
	}
}
