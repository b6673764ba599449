package band

import (
	"os"
	"path/filepath"
	"strconv"
	"strings"
	"testing"

	"shedwall/cmd/shedwall/internal/catalog"
	"shedwall/cmd/shedwall/internal/diag"
	"shedwall/cmd/shedwall/internal/intake"
	"shedwall/cmd/shedwall/internal/proof"
	"shedwall/cmd/shedwall/internal/quantity"
	"shedwall/cmd/shedwall/internal/record"
)

// realFile is a file of the folder of real daily records; the test skips without it.
func realFile(t testing.TB, name string) []byte {
	t.Helper()
	data, err := os.ReadFile(filepath.Join(proof.RecordsDir(t), "daily", name))
	if err != nil {
		t.Fatal(err)
	}
	return data
}

// realRecords reads a file of real records as a publisher would.
func realRecords(t testing.TB, name string, m intake.Mapping) []record.Daily {
	t.Helper()
	var faults diag.List
	list := intake.Record(name, realFile(t, name), m, &faults)
	if faults.HasErrors() || len(list) == 0 {
		t.Fatal(name, faults.Sorted())
	}
	return list
}

// realRegions is every real station with minima, by regions that share their weather:
// each region a Region of its own. Records whose place is not known stand at 0 m, which
// a station alone does not need.
func realRegions(t testing.TB) map[string]*Region {
	t.Helper()
	files := []struct {
		region, file string
		mapping      intake.Mapping
	}{
		{"New York", "NYC_Central_Park_weather_1869-2022.csv", intake.Mapping{Unit: intake.UnitF}},
		{"New York", "USC00305816.dly", intake.Mapping{}},
		{"north-west coast", "seattleWeather_1948-2017.csv", intake.Mapping{Unit: intake.UnitF}},
		{"north-west coast", "ec_1018935_MIN_TEMP.csv", intake.Mapping{Date: []string{"year"}, DayOfYear: "jday", Tmin: "MIN_TEMP", Unit: intake.UnitC}},
		{"California", "ghcnd_cdo_NOAA_data4.csv.gz", intake.Mapping{}},
		{"Hubbard Brook", "HBEF_air_temp_daily_1957-2019.csv.gz", intake.Mapping{StationColumn: "STA", Unit: intake.UnitC}},
		{"Valais", "meteoswiss_VS_NBCN.csv", intake.Mapping{Tmin: "tre200dn", Tmax: "tre200dx", Unit: intake.UnitC, Missing: []string{"-"}}},
		{"Trentino", trentinoFile, intake.Mapping{}},
		{"Sydney", "IDCJAC0011_066062_1800_Data.csv.gz", intake.Mapping{Date: []string{"Year", "Month", "Day"}}},
	}
	rows := map[string][]catalog.Station{}
	records := map[string]map[string]*record.Daily{}
	for _, f := range files {
		if records[f.region] == nil {
			records[f.region] = map[string]*record.Daily{}
		}
		for _, d := range realRecords(t, f.file, f.mapping) {
			records[f.region][d.Station] = &d
			rows[f.region] = append(rows[f.region], catalog.Station{ID: d.Station, Name: d.Station, Elevation: known(quantity.Metres(0))})
		}
	}
	out := map[string]*Region{}
	for name, list := range rows {
		h := quantity.North
		if name == "Sydney" {
			h = quantity.South
		}
		out[name] = NewRegion(list, records[name], 0, 0, h)
	}
	return out
}

const trentinoFile = "trentino_daily_17stations.csv.gz"

// trentino is the 17 real stations of one mountain region, 70 to 2,125 m, with their
// records; nothing is declared about their places.
func trentino(t *testing.T) ([]catalog.Station, map[string]*record.Daily) {
	t.Helper()
	records := map[string]*record.Daily{}
	for _, d := range realRecords(t, trentinoFile, intake.Mapping{}) {
		records[d.Station] = &d
	}
	var stations []catalog.Station
	lines := strings.Split(strings.TrimSpace(string(realFile(t, "trentino_stations.csv"))), "\n")
	for _, line := range lines[1:] { // station,name,latitude,longitude,elevation, ... without quotes
		row := strings.Split(line, ",")
		if records[row[0]] == nil {
			continue
		}
		number := func(i int) float64 {
			v, err := strconv.ParseFloat(row[i], 64)
			if err != nil {
				t.Fatalf("%q: %v", line, err)
			}
			return v
		}
		stations = append(stations, catalog.Station{
			ID: row[0], Name: row[1],
			Latitude: known(number(2)), Longitude: known(number(3)), Elevation: known(quantity.Metres(number(4))),
		})
	}
	if len(stations) != 17 {
		t.Fatalf("%d stations, want 17", len(stations))
	}
	return stations, records
}

// trentinoPositions is what one who knows the valleys, or a map, says of the places;
// none is taken from temperatures. The others stand on slopes, terraces and lake shores.
var trentinoPositions = map[string]catalog.Position{
	"B6130": catalog.Hollow, // Corvara: a basin between high walls
	"T0001": catalog.Floor,  // Pergine: on the flat of the upper Valsugana
	"T0090": catalog.Floor,  // Mezzolombardo: on the plain of the Adige and the Noce
	"T0102": catalog.Floor,  // Predazzo: where two valley bottoms meet
	"T0147": catalog.Floor,  // Rovereto: at the bottom of the Adige valley
	"T0099": catalog.Ridge,  // Cima Paganella: a summit
}

func declared(stations []catalog.Station) []catalog.Station {
	out := append([]catalog.Station(nil), stations...)
	for i := range out {
		out[i].Position = known(trentinoPositions[out[i].ID])
	}
	return out
}
