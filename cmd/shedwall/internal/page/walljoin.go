package page

import (
	"math"
	"slices"
	"strings"

	"shedwall/cmd/shedwall/internal/plan"
)

// joined is the sheets of the first of some parts, or of the first few together where
// sharing saves a sheet: fewer, fuller sheets are easier to pin up. used is how many
// parts they hold. Rows of parts that share stand in the order of their groups.
func (w Wall) joined(parts []sheetPart, codes map[string]string, before int) (best []*Sheet, used int) {
	best, _ = w.partSheets(parts[0], codes, before, math.MaxInt)
	used = 1
	apart := len(best) // sheets of the parts so far, each on its own
	saved := 0
	both := parts[0]
	for n := 2; n <= len(parts); n++ {
		next := parts[n-1]
		alone, known := w.kept.cuts[next.key]
		if !known {
			alone.sheets, _ = w.partSheets(next, codes, before+apart-saved, math.MaxInt)
		}
		apart += len(alone.sheets)
		both = sheetPart{key: both.key + "+" + next.key, plans: slices.Concat(both.plans, next.plans)}
		slices.SortStableFunc(both.plans, func(x, y plan.CropPlan) int { return int(x.Group) - int(y.Group) })
		if most := w.mostRows(); apart-(len(both.plans)+most-1)/most <= saved {
			continue // not even with full sheets
		}
		if sheets, fit := w.partSheets(both, codes, before, apart-saved); fit {
			best, used, saved = sheets, n, apart-len(sheets)
		}
	}
	return best, used
}

// partName is the name of a part, or of two that share their sheets.
func (w Wall) partName(key string) string {
	var names []string
	for k := range strings.SplitSeq(key, "+") {
		names = append(names, w.Book.T("sheet.part."+k))
	}
	return strings.Join(names, "; ")
}
