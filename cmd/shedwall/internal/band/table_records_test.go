package band

import (
	"fmt"
	"maps"
	"math"
	"slices"
	"strings"
	"testing"
	"text/tabwriter"

	"shedwall/cmd/shedwall/internal/catalog"
	"shedwall/cmd/shedwall/internal/quantity"
	"shedwall/cmd/shedwall/internal/record"
	"shedwall/cmd/shedwall/internal/season"
)

// tableOf publishes a station's record as NCEI does: dates at 16 to 36 F in steps of 4
// and at 10 to 90 %, whole days, and monthly normals of the same years.
func tableOf(r *Region, s *Station) *record.Freeze {
	c, _ := r.Station(s.Row.ID)
	c.Region.Plain = true
	f := &record.Freeze{Station: s.Row.ID, From: s.First, To: s.Last, Years: s.Last - s.First + 1}
	for belowF := 16.0; belowF <= 36; belowF += 4 {
		for percent := 10; percent <= 90; percent += 10 {
			for _, e := range []record.Event{record.Last, record.First} {
				row := record.FreezeRow{Event: e, Below: quantity.FromFahrenheit(belowF), Odds: quantity.Odds(percent) / 100}
				switch a := c.Date(e, row.Odds, Gate{Limit: row.Below}); a.State {
				case Dated:
					row.Date = r.Hemisphere.MonthDay(quantity.Slot(math.Round(a.Exact)))
				case AnyMonth:
					row.State = record.FreezeAnyMonth
				case NoneNeeded:
					row.State = record.FreezeNever
				default:
					continue
				}
				f.Rows = append(f.Rows, row)
			}
		}
	}
	n := &record.Normals{HasMax: true, From: s.First, To: s.Last}
	for m := range 12 {
		n.Min[m] = monthlyMean(s, s.Record.Min, m+1)
		n.Max[m] = monthlyMean(s, s.Record.Max, m+1)
		n.HasMax = n.HasMax && !math.IsNaN(float64(n.Max[m]))
	}
	f.Normals = n
	return f
}

func monthlyMean(s *Station, values []quantity.Hundredths, month int) quantity.Celsius {
	sum, n := 0.0, 0.0
	for i, v := range values {
		if y, m, _ := (s.Record.Start + quantity.Day(i)).Date(); m == month && y >= s.First && y <= s.Last && v.Known() {
			sum, n = sum+float64(v.Celsius()), n+1
		}
	}
	return quantity.Celsius(sum / n)
}

// How well a published table and monthly normals stand in for the record behind them,
// at every real station that freezes every year: the table's date less the record's own,
// counted towards midsummer. What is published is the same record, so this is the price
// of the table alone. Bounds of the test are a little above what was measured; other
// records will not hit the same numbers, but a wrong sign or season is weeks off.
func TestTablesAgainstRecords(t *testing.T) {
	type question struct {
		name  string
		event record.Event
		gates func(quantity.Celsius) []Gate
		limit []quantity.Celsius
		mean  float64 // bound of the mean miss, days
		worst float64 // bound of nine misses in ten
	}
	night := func(t quantity.Celsius) []Gate { return []Gate{{Limit: t}} }
	week := func(t quantity.Celsius) []Gate { return []Gate{{Series: Week, Limit: t}} }
	soil := func(t quantity.Celsius) []Gate { return []Gate{{Series: Soil, Limit: t}} }
	hot := func(t quantity.Celsius) []Gate { return []Gate{{Series: Hot, Limit: t + 12}} }
	month := func(t quantity.Celsius) []Gate { return []Gate{{Series: Month, Limit: t + 4}} }
	all := func(t quantity.Celsius) []Gate {
		return []Gate{{Limit: 0}, {Series: Week, Limit: 5}, {Series: Soil, Limit: t}}
	}
	between := []quantity.Celsius{-7.5, -5.5, -3.3, -1.1, 0.5, 1.5} // off the published thresholds
	questions := []question{
		{"night", record.Last, night, between, 2, 9}, {"night", record.First, night, between, 2, 9},
		{"week", record.Last, week, []quantity.Celsius{4, 6, 8, 10}, 2, 14}, {"week", record.First, week, []quantity.Celsius{4, 6, 8, 10}, 2, 14},
		{"soil", record.Last, soil, []quantity.Celsius{5, 8, 10, 12, 15}, 2, 11},
		{"hot", record.Last, hot, []quantity.Celsius{5, 8, 10, 12, 15}, 5, 17}, {"hot", record.First, hot, []quantity.Celsius{5, 8, 10, 12, 15}, 5, 16},
		{"month", record.Last, month, []quantity.Celsius{5, 8, 10, 12, 15}, 3, 10}, {"month", record.First, month, []quantity.Celsius{5, 8, 10, 12, 15}, 3, 12},
		{"night, week and soil", record.Last, all, []quantity.Celsius{8, 10, 12}, 4, 15},
	}
	off := map[string][]float64{}
	regions := realRegions(t)
	stations := 0
	for _, name := range slices.Sorted(maps.Keys(regions)) {
		r := regions[name]
		for _, s := range r.Stations {
			own, _ := r.Station(s.Row.ID)
			own.Region.Plain = true
			if a := own.Date(record.Last, quantity.Half, Gate{Limit: 0}); a.State != Dated || a.Used < 25 || a.Without > 0 {
				continue
			}
			stations++
			w := Weather{Tables: map[string]*record.Freeze{s.Row.ID: tableOf(r, s)}, Course: func(m [12]float64) []float64 {
				return season.CurveOf(m, season.Harmonics).Slots(r.Hemisphere)
			}}
			tr := RegionOf([]catalog.Station{*s.Row}, w, 0, 0, r.Hemisphere)
			table, _ := tr.Station(s.Row.ID)
			for _, q := range questions {
				for _, odds := range []quantity.Odds{quantity.Careful, quantity.Half} {
					for _, limit := range q.limit {
						a, b := own.Date(q.event, odds, q.gates(limit)...), table.Date(q.event, odds, q.gates(limit)...)
						if a.State != Dated || b.State != Dated || len(b.LeftOut) > 0 {
							continue
						}
						d := b.Exact - a.Exact
						if q.event == record.First {
							d = -d
						}
						key := fmt.Sprintf("%s, %v, %.0f %%", q.name, q.event, 100*odds)
						off[key] = append(off[key], d)
					}
				}
			}
		}
	}
	var b strings.Builder
	w := tabwriter.NewWriter(&b, 0, 0, 2, ' ', 0)
	fmt.Fprintf(w, "of %d stations\tdates\tmean off\tmiddle miss\tnine in ten\tworst\n", stations)
	for _, q := range questions {
		for _, odds := range []quantity.Odds{quantity.Careful, quantity.Half} {
			key := fmt.Sprintf("%s, %v, %.0f %%", q.name, q.event, 100*odds)
			v := off[key]
			if len(v) < 20 {
				t.Errorf("%s: only %d dates", key, len(v))
				continue
			}
			mean, misses := 0.0, make([]float64, len(v))
			for i, d := range v {
				mean += d / float64(len(v))
				misses[i] = math.Abs(d)
			}
			slices.Sort(misses)
			n := len(misses)
			fmt.Fprintf(w, "%s\t%d\t%+.1f\t%.1f\t%.1f\t%.1f\n", key, n, mean, misses[n/2], misses[n*9/10], misses[n-1])
			if math.Abs(mean) > q.mean || misses[n*9/10] > q.worst {
				t.Errorf("%s: off by %+.1f days on average, nine in ten within %.1f; bounds %.0f and %.0f", key, mean, misses[n*9/10], q.mean, q.worst)
			}
		}
	}
	w.Flush()
	t.Logf("dates from tables less dates from the records behind them, days towards midsummer\n%s", b.String())
}

// What two average dates are worth at the same stations: dates from the station's own
// half-and-half dates at 0 C and nothing else, less those of its record. Colder limits must
// come out late rather than early on average, since that is what the small assumed shift
// is for; milder ones and careful dates near the truth. How far off single stations are is
// what pages mean by an estimate.
func TestAveragesAgainstRecords(t *testing.T) {
	limits := []quantity.Celsius{2, 1, 0, -2.2, -4.4, -6.7}
	off := map[string][]float64{}
	inside, all := 0, 0
	regions := realRegions(t)
	for _, name := range slices.Sorted(maps.Keys(regions)) {
		r := regions[name]
		for _, s := range r.Stations {
			own, _ := r.Station(s.Row.ID)
			own.Region.Plain = true
			f := &record.Freeze{Typed: true}
			usable := true
			for _, e := range []record.Event{record.Last, record.First} {
				a := own.Date(e, quantity.Half, Gate{Limit: 0})
				usable = usable && a.State == Dated && a.Used >= 25 && a.Without == 0
				f.Rows = append(f.Rows, record.FreezeRow{Event: e, Odds: 0.5, Date: r.Hemisphere.MonthDay(a.Slot)})
			}
			if !usable {
				continue
			}
			tr := RegionOf([]catalog.Station{*s.Row}, Weather{Tables: map[string]*record.Freeze{s.Row.ID: f}}, 0, 0, r.Hemisphere)
			table, _ := tr.Station(s.Row.ID)
			for _, e := range []record.Event{record.Last, record.First} {
				for _, odds := range []quantity.Odds{quantity.Careful, quantity.Half} {
					for _, limit := range limits {
						a, b := own.Date(e, odds, Gate{Limit: limit}), table.Date(e, odds, Gate{Limit: limit})
						if a.State != Dated || b.State != Dated {
							continue
						}
						d := b.Exact - a.Exact
						if e == record.First {
							d = -d
						}
						key := fmt.Sprintf("%v %2.0f %% %4.1f C", e, 100*odds, float64(limit))
						off[key] = append(off[key], d)
						all++
						if math.Abs(d) <= 2*float64(b.PlusMinus) {
							inside++
						}
					}
				}
			}
		}
	}
	var b strings.Builder
	for _, key := range slices.Sorted(maps.Keys(off)) {
		v := off[key]
		mean, misses := 0.0, make([]float64, len(v))
		for i, d := range v {
			mean += d / float64(len(v))
			misses[i] = math.Abs(d)
		}
		slices.Sort(misses)
		fmt.Fprintf(&b, "%s  %2d stations, %+5.1f days on average, middle miss %4.1f, nine in ten within %4.1f\n", key, len(v), mean, misses[len(v)/2], misses[len(v)*9/10])
		var percent int
		var limit float64
		fmt.Sscanf(strings.NewReplacer("last", "", "first", "").Replace(key), "%d %% %f", &percent, &limit)
		if limit < 0 && percent == 50 && mean < 0 || limit >= 0 && math.Abs(mean) > 7 {
			t.Errorf("%s: %+.1f days on average", key, mean)
		}
	}
	t.Logf("dates from two averages less dates from the records, days towards midsummer\n%s%.0f %% within twice what is printed as give or take", b.String(), 100*float64(inside)/float64(all))
	if float64(inside) < 0.9*float64(all) {
		t.Errorf("%d of %d dates within twice what is printed as give or take", inside, all)
	}
}
