package page

import (
	"strings"

	"shedwall/cmd/shedwall/internal/catalog"
	"shedwall/cmd/shedwall/internal/plan"
	"shedwall/cmd/shedwall/internal/quantity"
)

// absent is the crops of a band that have no season by careful dates even under covers or
// in a house, and those that miss a figure. Those with a season in a house only are
// houseOnly's.
func (w Wall) absent() (noSeason, noFigure []string) {
	for i := range w.Plans {
		p := &w.Plans[i]
		switch {
		case grown(*p):
		case unknownStart(&p.Layers[0]):
			noFigure = append(noFigure, p.Crop.Name)
		default:
			noSeason = append(noSeason, p.Crop.Name)
		}
	}
	return noSeason, noFigure
}

// unknownStart says whether no start outside can be told for want of a figure.
func unknownStart(l *plan.LayerPlan) bool {
	for _, a := range []plan.Action{plan.SowOutside, plan.SetOut} {
		if w, ok := l.Find(quantity.Careful, a); ok && w.From.State != plan.NotKnown {
			return false
		}
	}
	return true
}

// namesOf lists crops; their names hold commas of their own ("Bean, snap").
func namesOf(crops []string) string { return strings.Join(crops, " · ") + "." }

// notHere names the crops of a band that stand on no sheet.
func (b *builder) notHere(m *bandPage) []Block {
	var out []Block
	noSeason, noFigure := m.wall.absent()
	for _, x := range []struct {
		key   string
		crops []string
	}{{"calendar.not_here", noSeason}, {"calendar.no_figure", noFigure}} {
		if len(x.crops) > 0 {
			out = append(out, para(Inline{Text: b.t(x.key) + " ", Strong: true}, Inline{Text: namesOf(x.crops)}))
		}
	}
	return append(append(b.inHouses(m), out...), b.choiceNotes(m)...)
}

// onlyCovered names the crops that have a season under the covers of the sheets but none
// in open ground, then those of which nobody knows whether they have one there.
func (b *builder) onlyCovered(m *bandPage) []Block {
	var only, known []string
	for i := range m.in.Plans {
		p := &m.in.Plans[i]
		switch {
		case !m.wall.shown(*p) || started(&p.Layers[0], quantity.Careful):
		case seasonNotKnown(&p.Layers[0], quantity.Careful):
			known = append(known, p.Crop.Name)
		default:
			only = append(only, p.Crop.Name)
		}
	}
	var out []Block
	for _, x := range []struct {
		key   string
		crops []string
	}{{"calendar.only_covered", only}, {"calendar.known_covered", known}} {
		if len(x.crops) > 0 {
			out = append(out, para(Inline{Text: b.t(x.key) + " ", Strong: true}, Inline{Text: namesOf(x.crops)}))
		}
	}
	return out
}

// seasonNotKnown says whether nobody can tell if there is a season outside under layers:
// no start is known to come to harvest, and one at least misses a figure or a date.
func seasonNotKnown(l *plan.LayerPlan, odds quantity.Odds) bool {
	missing := false
	for _, a := range []plan.Action{plan.SowOutside, plan.SetOut} {
		if w, ok := l.Find(odds, a); ok && w.From.State == plan.NotKnown {
			missing = true
		}
	}
	return missing && !started(l, odds)
}

// needsWarmth says whether a crop grows only in warm weather, so that its days to
// harvest are too few in a cool summer: the tender classes.
func needsWarmth(c *catalog.Crop) bool { return c.Class == "tender" || c.Class == "very_tender" }
