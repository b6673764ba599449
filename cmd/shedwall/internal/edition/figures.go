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
	y, m, day := d.Date()
	return fmt.Sprintf("%04d-%02d-%02d", y, m, day)
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
	return add(out, "longitude", b.Longitude, degrees)
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

// planFigures are the figures behind the dates of a crop under one set of covers: those
// that its windows name as reasons, and the few that no reason names.
func (l *Ledger) planFigures(c *catalog.Crop, lp *plan.LayerPlan) []catalog.EditionFigure {
	var out []catalog.EditionFigure
	once := func(f catalog.EditionFigure) {
		if !slices.ContainsFunc(out, func(g catalog.EditionFigure) bool { return g.Name == f.Name }) {
			out = append(out, f)
		}
	}
	row := c.Cell
	row.Heading = ""
	once(fig("start", c.Start.String(), row))
	if c.Basis == catalog.Plant {
		once(fig("limit_basis", "plant", row))
	}
	for _, ws := range [][]plan.Window{lp.Careful, lp.Half} {
		for _, w := range ws {
			for _, r := range w.Reasons {
				if f, ok := reasonFigure(r); ok {
					once(f)
				}
			}
		}
	}
	if v, ok := c.WeeksInsideLow.Get(); ok && c.Start != catalog.Outside {
		once(fig("weeks_inside_low", number(v, "weeks"), c.WeeksInsideLow.Cell))
	}
	if v, ok := c.DaysLow.Get(); ok {
		once(fig("days_low", number(float64(v), "days"), c.DaysLow.Cell))
	}
	if v, ok := c.DaysHigh.Get(); ok {
		once(fig("days_high", number(float64(v), "days"), c.DaysHigh.Cell))
	}
	if c.DaysFromSetOut {
		once(fig("days_from", "set_out", row))
	}
	if seed, ok := l.seeds[c.Germination]; ok {
		once(fig("germination", seed, c.GerminationCell))
	} else if v, ok := c.EmergeDays.Get(); ok {
		once(fig("emerge_days", number(float64(v), "days"), c.EmergeDays.Cell))
	}
	for _, f := range l.gainFigures(lp) {
		once(f)
	}
	slices.SortStableFunc(out, func(a, b catalog.EditionFigure) int { return strings.Compare(a.Name, b.Name) })
	return out
}

// reasonFigure is a reason that stands in a cell of a table. Gains are left to
// gainFigures, what follows from other figures (days to come up, the last day of ten
// hours) is left out.
func reasonFigure(r plan.Reason) (catalog.EditionFigure, bool) {
	name := r.At.Heading
	switch r.Kind {
	case plan.ReasonLimit, plan.ReasonChill, plan.ReasonSoil:
		return fig(celsiusName(name, string(r.Kind)), number(r.Number, "C"), r.At), true
	case plan.ReasonWeeks:
		return fig(nameOr(name, string(r.Kind)), number(r.Number, "weeks"), r.At), true
	}
	return catalog.EditionFigure{}, false
}

// celsiusName is a heading by its first unit, so that a publisher who turns kill_f into
// kill_c changes no name.
func celsiusName(heading, otherwise string) string {
	if stem, ok := strings.CutSuffix(heading, "_f"); ok {
		return stem + "_c"
	}
	return nameOr(heading, otherwise)
}

// gainFigures are the gains that a set of covers is planned with: its own row's, or each
// cover's where they are added up. Those of structures are worked out for the band.
func (l *Ledger) gainFigures(lp *plan.LayerPlan) []catalog.EditionFigure {
	if lp.Layers == "" {
		return nil
	}
	var out []catalog.EditionFigure
	g := l.book.Gain(lp.Layers)
	switch {
	case len(g.Parts) > 0:
		for _, p := range g.Parts {
			at := p.At
			out = append(out, fig("gain_low_k of "+p.Cover, number(float64(p.Gain), "K"), at), fig("gain_typical_k of "+p.Cover, number(float64(p.Typical), "K"), at))
		}
	case g.Known:
		out = append(out, fig("gain_low_k of "+lp.Layers, number(float64(g.Low), "K"), g.At), fig("gain_typical_k of "+lp.Layers, number(float64(g.Typical), "K"), g.At))
	default:
		for k, ws := range [][]plan.Window{lp.Careful, lp.Half} {
			name := []string{"gain_low_k of ", "gain_typical_k of "}[k] + lp.Layers
			for _, w := range ws {
				for _, r := range w.Reasons {
					if r.Kind == plan.ReasonGain {
						out = append(out, fig(name, number(r.Number, "K"), r.At))
					}
				}
			}
		}
	}
	return out
}
