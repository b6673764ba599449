package publish

import (
	"encoding/csv"
	"io"
	"strconv"
)

// ProposeBands writes a bands.csv that fits the guide's stations and places, whatever faults
// the guide has elsewhere. It says whether there was anything to propose.
func (g *Guide) ProposeBands(w io.Writer) (bool, error) {
	region := g.Region
	if region == nil {
		region = g.region()
	}
	bands := region.Propose(g.Tables.Places)
	if len(bands) == 0 {
		return false, nil
	}
	out := csv.NewWriter(w)
	rows := [][]string{{"band", "name", "low_m", "high_m", "position", "zone", "latitude", "longitude"}}
	for _, b := range bands {
		low, _ := b.Low.Get()
		high, _ := b.High.Get()
		position, _ := b.Position.Get()
		zone, _ := b.DeclaredZone.Get()
		row := []string{b.ID, b.Name, metres(float64(low)), metres(float64(high)), position.String(), zone, "", ""}
		if lat, ok := b.Latitude.Get(); ok {
			lon, _ := b.Longitude.Get()
			row[6], row[7] = strconv.FormatFloat(lat, 'f', 4, 64), strconv.FormatFloat(lon, 'f', 4, 64)
		}
		rows = append(rows, row)
	}
	return true, out.WriteAll(rows)
}

func metres(m float64) string { return strconv.FormatFloat(m, 'f', -1, 64) }
