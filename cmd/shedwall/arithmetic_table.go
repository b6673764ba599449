package main

import (
	"fmt"
	"math"
	"strings"

	"shedwall/cmd/shedwall/internal/band"
	"shedwall/cmd/shedwall/internal/frost"
	"shedwall/cmd/shedwall/internal/plan"
	"shedwall/cmd/shedwall/internal/quantity"
	"shedwall/cmd/shedwall/internal/record"
)

// published prints the part of a station with a published table in place of a record:
// the rows between which its date lies, and what had to be assumed.
func (a *arithmetic) published(t plan.Traced, p band.Part) {
	s := a.climate.Region.Stations[p.Station]
	for g, gate := range t.Gates {
		if gate.Series != band.Night {
			a.courseGate(t, s, gate.Series)
			continue
		}
		rows := a.climate.Region.Behind(p.Station, t.Event, p.Thresholds[g], t.Odds)
		a.line("      no daily record; its published dates about %.2f C and %.0f %% of years:", float64(p.Thresholds[g]), 100*float64(t.Odds))
		for _, r := range rows {
			date := map[record.FreezeState]string{record.FreezeAnyMonth: "in any month", record.FreezeNever: "never"}[r.State]
			if r.State == record.FreezeDate {
				date = a.g.Book.Date(r.Date)
			}
			a.line("        %.1f C in %.0f %% of years: %s%s", float64(r.Below), 100*float64(r.Odds), date, at(r.At))
		}
		if len(rows) == 1 && t.Answer.Estimate {
			a.line("        assumed: years spread by %.0f days, %.1f days for each degree colder, %.1f for each milder; an estimate",
				frost.AssumedSpread, frost.AssumedShiftColder, frost.AssumedShiftWarmer)
		}
	}
	what := ""
	if len(t.Gates) > 1 {
		what = map[record.Event]string{record.Last: " (the latest of the dates of its gates)", record.First: " (the earliest of the dates of its gates)"}[t.Event]
	}
	if math.IsInf(p.Slot, 0) {
		a.line("      no such date there%s: it counts with the day towards which its dates go, see below", what)
		return
	}
	a.line("      so%s: %s%s", what, a.date(quantity.Slot(math.Floor(p.Slot))), tenth(p.Slot))
}

// courseGate says from what a station without a record tells soil and cold weeks.
func (a *arithmetic) courseGate(t plan.Traced, s *band.Station, series band.Series) {
	switch {
	case s.Table.Normals != nil && (series == band.Week || s.Table.Normals.HasMax):
		a.line("      %s: from the curve through its monthly means (%s); an estimate", gateNames[series], s.Table.Normals.File)
	case leftOut(t.Answer, series):
		a.line("      %s: nothing tells; it holds no date back", gateNames[series])
	default:
		a.line("      %s: nothing tells here; as the other stations say", gateNames[series])
	}
}

func leftOut(a band.Answer, series band.Series) bool {
	for _, s := range a.LeftOut {
		if s == series {
			return true
		}
	}
	return false
}

// tableFiles names the files of a station's table, for the line that names the station.
func tableFiles(s *band.Station) string {
	if s.Table == nil {
		return ""
	}
	return fmt.Sprintf(" [%s]", strings.Join(s.Table.Files, ", "))
}
