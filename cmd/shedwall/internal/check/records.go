package check

import (
	"fmt"

	"shedwall/cmd/shedwall/internal/band"
	"shedwall/cmd/shedwall/internal/catalog"
	"shedwall/cmd/shedwall/internal/diag"
)

// leastYears is how many usable years a careful date takes, and countedYears how many
// it takes to be more than an estimate: the rules of frost.Staircases.Odds.
const leastYears, countedYears = 10, 20

// Records warns of stations whose records are too short for odds. It comes after Tables,
// when a region could be made.
func Records(t *catalog.Tables, r *band.Region) diag.List {
	c := &checker{tables: t}
	for i, s := range r.Stations {
		usable, used := r.UsableYears(i)
		if used == 0 || usable >= countedYears {
			continue
		}
		what := fmt.Sprintf("station %s has %d usable years of %d: its dates are estimates", s.Row.ID, usable, used)
		if usable < leastYears {
			what = fmt.Sprintf("station %s has %d usable years of %d: too few for a careful date", s.Row.ID, usable, used)
		}
		c.warn(s.Row.Cell, "record-short", what, fmt.Sprintf("%d years or more", countedYears),
			"add years to its record, or take the record away where published dates or normals of the station can stand in its place")
	}
	return c.list
}
