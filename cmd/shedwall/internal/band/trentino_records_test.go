package band

import (
	"compress/gzip"
	"encoding/csv"
	"io"
	"math"
	"os"
	"path/filepath"
	"strconv"
	"testing"

	"shedwall/cmd/shedwall/internal/catalog"
	"shedwall/cmd/shedwall/internal/diag"
	"shedwall/cmd/shedwall/internal/figure"
	"shedwall/cmd/shedwall/internal/quantity"
	"shedwall/cmd/shedwall/internal/record"
)

func trentino(t *testing.T) ([]catalog.Station, map[string]*record.Daily) {
	t.Helper()
	dir := os.Getenv("SHEDWALL_RECORDS")
	if dir == "" {
		dir = filepath.Join("..", "..", "..", "..", "..", "shared", "records")
	}
	daily := filepath.Join(dir, "daily")
	f, err := os.Open(filepath.Join(daily, "trentino_daily_17stations.csv.gz"))
	if err != nil {
		t.Skip("real records not here: ", err)
	}
	defer f.Close()
	z, err := gzip.NewReader(f)
	if err != nil {
		t.Fatal(err)
	}
	records := map[string]*record.Daily{}
	in := csv.NewReader(z)
	in.Read()
	for {
		row, err := in.Read()
		if err == io.EOF {
			break
		}
		if err != nil {
			t.Fatal(err)
		}
		d := records[row[0]]
		y, _ := strconv.Atoi(row[1][:4])
		m, _ := strconv.Atoi(row[1][5:7])
		dd, _ := strconv.Atoi(row[1][8:])
		day := quantity.DayOf(y, m, dd)
		if d == nil {
			d = &record.Daily{Station: row[0], Start: day, Step: record.HundredthC}
			records[row[0]] = d
		}
		for d.End() < day {
			d.Min, d.Max = append(d.Min, quantity.Missing), append(d.Max, quantity.Missing)
		}
		num := func(s string) quantity.Hundredths {
			v, err := strconv.ParseFloat(s, 64)
			if err != nil {
				return quantity.Missing
			}
			return quantity.Celsius(v).Hundredths()
		}
		d.Min, d.Max = append(d.Min, num(row[2])), append(d.Max, num(row[3]))
	}
	var stations []catalog.Station
	g, err := os.Open(filepath.Join(daily, "trentino_stations.csv"))
	if err != nil {
		t.Fatal(err)
	}
	defer g.Close()
	rows, err := csv.NewReader(g).ReadAll()
	if err != nil {
		t.Fatal(err)
	}
	for _, row := range rows[1:] {
		if records[row[0]] == nil {
			continue
		}
		n := func(s string) float64 { v, _ := strconv.ParseFloat(s, 64); return v }
		stations = append(stations, catalog.Station{
			ID: row[0], Name: row[1],
			Latitude:  figure.Is(n(row[2]), diag.Position{}, ""),
			Longitude: figure.Is(n(row[3]), diag.Position{}, ""),
			Elevation: figure.Is(quantity.Metres(n(row[4])), diag.Position{}, ""),
		})
	}
	return stations, records
}

func TestTrentinoLeaveOneOut(t *testing.T) {
	stations, records := trentino(t)
	try := func(name string, mod func(s *catalog.Station)) {
		ss := append([]catalog.Station(nil), stations...)
		for i := range ss {
			mod(&ss[i])
		}
		r := NewRegion(ss, records, 1975, 2004, quantity.North)
		l, n := r.MeanMiss(record.Last)
		f, _ := r.MeanMiss(record.First)
		t.Logf("%s: last %.2f first %.2f (%d), lapse %.2f %.2f winter %.2f", name, l, f, n, r.Lapse[0]*1000, r.Lapse[1]*1000, r.WinterLapse*1000)
		for i, s := range r.Stations {
			t.Logf("   %s %-22s %5.0f m  off %+.2f %+.2f %+.2f", s.Row.ID, s.Row.Name, s.site.low, r.offsets[0][i], r.offsets[1][i], r.winters[i])
		}
		for _, m := range r.Misses {
			if math.Abs(m.Days) > 10 {
				t.Logf("     %s %v %.0f", m.Station, m.Event, m.Days)
			}
		}
	}
	pos := func(s *catalog.Station, p catalog.Position) { s.Position = figure.Is(p, diag.Position{}, "") }
	try("none", func(s *catalog.Station) {})
	try("corvara hollow", func(s *catalog.Station) {
		if s.ID == "B6130" {
			pos(s, catalog.Hollow)
		}
	})
	try("three hollows", func(s *catalog.Station) {
		if s.ID == "B6130" || s.ID == "T0001" || s.ID == "T0083" {
			pos(s, catalog.Hollow)
		}
	})
}
