package edition

import (
	"crypto/sha256"
	"encoding/binary"
	"encoding/hex"
	"fmt"
	"hash"
	"slices"
	"strconv"
	"strings"

	"shedwall/cmd/shedwall/internal/catalog"
	"shedwall/cmd/shedwall/internal/figure"
	"shedwall/cmd/shedwall/internal/plan"
	"shedwall/cmd/shedwall/internal/quantity"
	"shedwall/cmd/shedwall/internal/record"
)

// Names of figures that are no column of a table.
const (
	FigureVersion = "version" // of the program
	FigureRecord  = "record"  // years used of a station's record and a checksum of its readings
)

func isoDate(d quantity.Day) string {
	if d == 0 {
		return ""
	}
	return d.ISO()
}

func fig(name, value string, at figure.Cell) catalog.EditionFigure {
	return catalog.EditionFigure{Name: name, Value: plainText(value), Cell: catalog.CellName(at)}
}

// plainText keeps the marks that part figures in a cell out of their values.
func plainText(s string) string {
	return strings.Join(strings.FieldsFunc(s, func(r rune) bool { return r == ';' || r == '\n' || r == '\r' }), ",")
}

// number is a figure as the ledger writes it: as short as it is exact to a thousandth.
func number(x float64, unit string) string {
	s := strconv.FormatFloat(x, 'f', 3, 64)
	s = strings.TrimSuffix(strings.TrimRight(s, "0"), ".")
	if s == "-0" {
		s = "0"
	}
	if unit != "" {
		s += " " + unit
	}
	return s
}

func guideFigures(g *catalog.Guide, version string) []catalog.EditionFigure {
	years := "the last 30 of each record"
	if g.YearsFrom != 0 {
		years = fmt.Sprintf("%d-%d", g.YearsFrom, g.YearsTo)
	}
	present := "yes"
	if g.PlainYears {
		present = "no"
	}
	return []catalog.EditionFigure{fig(FigureVersion, version, figure.Cell{}), fig("years", years, g.Cells["years"]), fig("present_climate", present, g.Cells["present_climate"])}
}

// add appends a figure that is known.
func add[T any](out []catalog.EditionFigure, name string, f figure.Of[T], text func(T) string) []catalog.EditionFigure {
	if v, ok := f.Get(); ok {
		return append(out, fig(name, text(v), f.Cell))
	}
	return out
}

func metres(m quantity.Metres) string   { return number(float64(m), "m") }
func kelvins(k quantity.Kelvins) string { return number(float64(k), "K") }
func degrees(x float64) string          { return strconv.FormatFloat(x, 'f', -1, 64) }

func bandFigures(b *catalog.Band) []catalog.EditionFigure {
	var out []catalog.EditionFigure
	out = add(out, "low_m", b.Low, metres)
	out = add(out, "high_m", b.High, metres)
	out = add(out, "position", b.Position, catalog.Position.String)
	out = add(out, "offset_k", b.Offset, kelvins)
	out = add(out, "latitude", b.Latitude, degrees)
	out = add(out, "longitude", b.Longitude, degrees)
	out = add(out, "hail_months", b.HailMonths, months)
	out = add(out, "wind_months", b.WindMonths, months)
	out = add(out, "snow_months", b.SnowMonths, months)
	out = add(out, "gust_kmh", b.Gust, func(v float64) string { return number(v, "km/h") })
	out = add(out, "sun_lost_from", b.SunLostFrom, quantity.MonthDay.String)
	return add(out, "sun_lost_to", b.SunLostTo, quantity.MonthDay.String)
}

// months is a set of months as tables write it: "4 5 11", "none".
func months(m catalog.Months) string {
	var out []string
	for _, n := range m.List() {
		out = append(out, strconv.Itoa(n))
	}
	if out == nil {
		return "none"
	}
	return strings.Join(out, " ")
}

// stationFigures are a station's place and what it answers from: of a record the years
// used and a checksum of the readings, of typed dates each with its cell, of another
// published table a checksum.
func (l *Ledger) stationFigures(s *catalog.Station) []catalog.EditionFigure {
	var out []catalog.EditionFigure
	out = add(out, "elevation_m", s.Elevation, metres)
	out = add(out, "position", s.Position, catalog.Position.String)
	out = add(out, "offset_k", s.Offset, kelvins)
	out = add(out, "latitude", s.Latitude, degrees)
	out = add(out, "longitude", s.Longitude, degrees)
	for _, st := range l.region.Stations {
		if st.Row.ID != s.ID {
			continue
		}
		if st.Table == nil {
			text := fmt.Sprintf("%d-%d, checksum %s", st.First, st.Last, recordSum(st.Record))
			return append(out, fig(FigureRecord, text, figure.Cell{File: st.Record.File}))
		}
		return append(out, tableFigures(st.Table)...)
	}
	return out
}

func tableFigures(t *record.Freeze) []catalog.EditionFigure {
	var out []catalog.EditionFigure
	if t.Typed && len(t.Rows) <= 24 {
		for _, r := range t.Rows {
			value := r.Date.String()
			if r.State != record.FreezeDate {
				value = r.State.String()
			}
			out = append(out, fig(fmt.Sprintf("%s at %s in %s %%", r.Event, number(float64(r.Below), "C"), number(100*float64(r.Odds), "")), value, r.At))
		}
		slices.SortStableFunc(out, func(a, b catalog.EditionFigure) int { return strings.Compare(a.Name, b.Name) })
		return out
	}
	h := sha256.New()
	for _, r := range t.Rows {
		fmt.Fprintln(h, r.Event, r.Below, r.Odds, r.State, r.Date)
	}
	for _, s := range t.Spans {
		fmt.Fprintln(h, s.Below, s.Odds, s.Days)
	}
	if n := t.Normals; n != nil {
		fmt.Fprintln(h, n.Min, n.Max, n.HasMax, n.From, n.To)
	}
	text := "checksum " + short(h)
	if t.From != 0 {
		text = fmt.Sprintf("%d-%d, %s", t.From, t.To, text)
	}
	file := figure.Cell{}
	if len(t.Files) > 0 {
		file.File = t.Files[0]
	}
	return append(out, fig(FigureRecord, text, file))
}

// recordSum is a checksum of the readings themselves: the same record in another layout
// has the same.
func recordSum(d *record.Daily) string {
	h := sha256.New()
	fmt.Fprintln(h, d.Start, len(d.Min))
	for _, v := range [][]quantity.Hundredths{d.Min, d.Max} {
		buf := make([]byte, 0, 2*len(v))
		for _, x := range v {
			buf = binary.LittleEndian.AppendUint16(buf, uint16(x))
		}
		h.Write(buf)
	}
	return short(h)
}

// short is the first eight hexadecimal digits of a checksum: enough to tell that a
// table changed, not to prove that it did not.
func short(h hash.Hash) string { return hex.EncodeToString(h.Sum(nil)[:4]) }

// seedTables gives each germination table a short text that changes with it.
func seedTables(t *catalog.Tables) map[string]string {
	out := map[string]string{}
	for _, g := range t.Germination {
		h := sha256.New()
		for _, p := range g.Points {
			days, known := p.Days.Get()
			fmt.Fprintln(h, p.Soil, days, known)
		}
		out[g.ID] = g.ID + ", checksum " + short(h)
	}
	return out
}

// planFigures are the figures behind the dates of a crop under one set of covers, by name:
// the crop's own, or its class's where it has none, and those of the covers.
func (l *Ledger) planFigures(c *catalog.Crop, lp *plan.LayerPlan) []catalog.EditionFigure {
	row := c.Cell
	row.Heading = ""
	out := []catalog.EditionFigure{fig("start", c.Start.String(), row)}
	if c.Basis == catalog.Plant {
		out = append(out, fig("limit_basis", "plant", row))
	}
	if c.Season != catalog.SpringPlanted {
		out = append(out, fig("plant_season", c.Season.String(), row))
	}
	if c.DaysFromSetOut {
		out = append(out, fig("days_from", "set_out", row))
	}
	class := l.class(c.Class)
	for _, x := range []struct {
		name       string
		own, class figure.Of[quantity.Celsius]
	}{
		{"young_damage_c", c.YoungDamage, class.YoungDamage}, {"young_kill_c", c.YoungKill, none}, {"grown_damage_c", c.GrownDamage, class.GrownDamage},
		{"winter_kill_c", c.WinterKill, none}, {"chill_c", c.Chill, none}, {"soil_min_c", c.SoilMin, class.SoilMin}, {"heat_c", c.Heat, none},
		{"base_c", c.Base, class.Base}, {"ceiling_c", c.Ceiling, none}, {"bolt_c", c.Bolt, none}, {"heat_mean_c", c.HeatMean, none},
		{"best_mean_low_c", c.BestMeanLow, none}, {"best_mean_high_c", c.BestMeanHigh, none}, {"fall_soil_c", c.FallSoil, none},
	} {
		f := x.own
		if f.State == figure.Blank {
			f = x.class
		}
		out = add(out, x.name, f, func(t quantity.Celsius) string { return number(float64(t), "C") })
	}
	weeks := func(w float64) string { return number(w, "weeks") }
	out = add(out, "weeks_inside_low", c.WeeksInsideLow, weeks)
	out = add(out, "weeks_inside_high", c.WeeksInsideHigh, weeks)
	out = add(out, "fall_weeks_low", c.FallWeeksLow, weeks)
	out = add(out, "fall_weeks_high", c.FallWeeksHigh, weeks)
	days := func(n int) string { return number(float64(n), "days") }
	out = add(out, "days_low", c.DaysLow, days)
	out = add(out, "days_high", c.DaysHigh, days)
	out = add(out, "bolt_days", c.BoltDays, days)
	out = add(out, "first_harvest_year", c.FirstYear, strconv.Itoa)
	if seed, ok := l.seeds[c.Germination]; ok {
		out = append(out, fig("germination", seed, c.GerminationCell))
	} else {
		out = add(out, "emerge_days", c.EmergeDays, days)
	}
	out = append(out, l.gainFigures(lp)...)
	slices.SortStableFunc(out, func(a, b catalog.EditionFigure) int { return strings.Compare(a.Name, b.Name) })
	return out
}

// none is no figure.
var none figure.Of[quantity.Celsius]

// class is a class by id; one without figures where there is none.
func (l *Ledger) class(id string) *catalog.Class {
	for i := range l.tables.Classes {
		if l.tables.Classes[i].ID == id {
			return &l.tables.Classes[i]
		}
	}
	return &catalog.Class{}
}

// gainFigures are what a set of covers is planned with: its own row's gains, or each
// cover's where they are added up, and what it does to the soil. Gains of structures are
// worked out for the band.
func (l *Ledger) gainFigures(lp *plan.LayerPlan) []catalog.EditionFigure {
	if lp.Layers == "" {
		return nil
	}
	var out []catalog.EditionFigure
	gain := func(of string, low, typical quantity.Kelvins, at figure.Cell) {
		lowAt, typicalAt := l.gainCells(of, at)
		out = append(out, fig("gain_low_k of "+of, kelvins(low), lowAt), fig("gain_typical_k of "+of, kelvins(typical), typicalAt))
	}
	g := l.book.Gain(lp.Layers)
	switch {
	case len(g.Parts) > 0:
		for _, p := range g.Parts {
			gain(p.Cover, p.Gain, p.Typical, p.At)
		}
	case g.Known:
		gain(lp.Layers, g.Low, g.Typical, g.At)
	default:
		for k, ws := range [][]plan.Window{lp.Careful, lp.Half} {
			if r, ok := gainReason(ws); ok {
				out = append(out, fig([]string{"gain_low_k of ", "gain_typical_k of "}[k]+lp.Layers, number(r.Number, "K"), r.At()))
			}
		}
	}
	for _, id := range catalog.SplitLayers(lp.Layers) {
		if c := l.book.Cover(id); c != nil {
			out = add(out, "soil_gain_k of "+id, c.SoilGain, kelvins)
			out = add(out, "wind_kmh of "+id, c.WindLimit, func(v float64) string { return number(v, "km/h") })
		}
	}
	return out
}

// ofBand says whether the gains of a set of covers are worked out for each band.
func (l *Ledger) ofBand(layers string) bool {
	g := l.book.Gain(layers)
	return layers != "" && len(g.Parts) == 0 && !g.Known
}

// gainCells are the cells of a set of covers' gains; otherwise for both where it has none of
// its own.
func (l *Ledger) gainCells(of string, otherwise figure.Cell) (low, typical figure.Cell) {
	g := catalog.Gain{}
	if c := l.book.Cover(of); c != nil {
		g = c.Gain
	}
	for i := range l.tables.Layers {
		if l.tables.Layers[i].ID == of {
			g = l.tables.Layers[i].Gain
		}
	}
	low, typical = otherwise, otherwise
	if g.Low.Known() {
		low = g.Low.Cell
	}
	if g.Typical.Known() {
		typical = g.Typical.Cell
	}
	return low, typical
}

// gainReason is the gain that windows were planned with.
func gainReason(ws []plan.Window) (plan.Reason, bool) {
	for _, w := range ws {
		for _, r := range w.Reasons {
			if r.Kind == plan.ReasonGain && r.Gate == plan.Frost {
				return r, true
			}
		}
	}
	return plan.Reason{}, false
}
