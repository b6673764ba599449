package edition

import (
	"bytes"
	"encoding/csv"
	"strconv"
	"strings"

	"shedwall/cmd/shedwall/internal/catalog"
)

// Write is an edition as the file data/editions/N.csv: a row for each thing kept, what is
// few first. The same edition gives the same bytes.
//
// Dates are MM-DD. A window's end without a date says why in held_by: open, never (and
// what leaves none), not-known. Figures are "name = value @ cell", semicolons between.
func Write(e *catalog.Edition) []byte {
	var buf bytes.Buffer
	w := csv.NewWriter(&buf)
	row := func(cells map[string]string) {
		out := make([]string, len(catalog.EditionHeads))
		for i, h := range catalog.EditionHeads {
			out[i] = catalog.EditionCell(cells[h])
		}
		_ = w.Write(out) // a bytes.Buffer does not fail
	}
	_ = w.Write(catalog.EditionHeads)
	row(map[string]string{"kind": "edition", "from": e.Date, "row": strconv.Itoa(e.Number), "figures": textOf(e.Guide)})
	for _, p := range e.Stations {
		row(map[string]string{"kind": "station", "row": p.ID, "name": p.Name, "figures": textOf(p.Figures)})
	}
	for _, p := range e.Bands {
		row(map[string]string{"kind": "band", "band": p.ID, "name": p.Name, "figures": textOf(p.Figures)})
	}
	for _, s := range e.Sheets {
		row(map[string]string{"kind": "sheet", "band": s.Band, "row": s.Path, "sheet": s.Code, "name": s.Name, "figures": strings.Join(s.Rows, " ")})
	}
	for _, p := range e.Plans {
		row(map[string]string{"kind": "figures", "band": p.Band, "crop": p.Crop, "covers": p.Layers, "figures": textOf(p.Figures)})
	}
	for _, r := range e.Rows {
		cells := map[string]string{"kind": "date", "band": r.Band, "crop": r.Crop, "covers": r.Layers, "odds_percent": strconv.Itoa(r.Percent),
			"action": r.Action, "sheet": r.Sheet, "row": r.Code, "name": r.Name}
		cells["from"], cells["from_held_by"] = boundText(r.From)
		cells["to"], cells["to_held_by"] = boundText(r.To)
		if r.Sequence > 0 {
			cells["moved"] = strconv.Itoa(r.Sequence)
		}
		row(cells)
	}
	w.Flush()
	return buf.Bytes()
}

func boundText(b catalog.EditionBound) (date, heldBy string) {
	switch {
	case b.State == catalog.EditionDated:
		return b.Date.String(), b.Gate
	case b.Gate != "":
		return "", string(b.State) + " " + b.Gate
	}
	return "", string(b.State)
}
