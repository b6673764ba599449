package intake

import (
	"fmt"
	"slices"
	"strings"

	"shedwall/cmd/shedwall/internal/catalog"
	"shedwall/cmd/shedwall/internal/diag"
	"shedwall/cmd/shedwall/internal/figure"
	"shedwall/cmd/shedwall/internal/table"
)

type coverRow struct {
	Cover         table.Cell `csv:"cover" table:"key"`
	Name          table.Cell `csv:"name"`
	Kind          table.Cell `csv:"kind"`
	Letter        table.Cell `csv:"letter"`
	Weight        table.Cell `csv:"weight" table:"number"`
	Low           table.Cell `csv:"gain_low_k,gain_low_c,gain_low_f" table:"number"`
	Typical       table.Cell `csv:"gain_typical_k,gain_typical_c,gain_typical_f" table:"number"`
	High          table.Cell `csv:"gain_high_k,gain_high_c,gain_high_f" table:"number"`
	Stated        table.Cell `csv:"gain_stated"`
	WinterLow     table.Cell `csv:"winter_gain_low_k,winter_gain_low_c,winter_gain_low_f" table:"number"`
	WinterTypical table.Cell `csv:"winter_gain_typical_k,winter_gain_typical_c,winter_gain_typical_f" table:"number"`
	WinterHigh    table.Cell `csv:"winter_gain_high_k,winter_gain_high_c,winter_gain_high_f" table:"number"`
	SoilGain      table.Cell `csv:"soil_gain_k,soil_gain_c,soil_gain_f" table:"number"`
	Light         table.Cell `csv:"light_percent" table:"number"`
	Vent          table.Cell `csv:"vent_c,vent_f" table:"number"`
	VentRead      table.Cell `csv:"vent_read"`
	Touches       table.Cell `csv:"touches"`
	Wind          table.Cell `csv:"wind_kmh,wind_mph" table:"number"`
	Snow          table.Cell `csv:"snow"`
	Hail          table.Cell `csv:"hail"`
	Hoops         table.Cell `csv:"hoops"`
	InsectsOut    table.Cell `csv:"insects_out"`
	Years         table.Cell `csv:"years" table:"number"`
	Price         table.Cell `csv:"price" table:"number"`
	Offered       table.Cell `csv:"offered"`
	Source        table.Cell `csv:"source"`
	Note          table.Cell `csv:"note"`
	Use           table.Cell `csv:"use"`
}

func (l *loader) readCovers(t *catalog.Tables) {
	for _, j := range overlay(l, layout[coverRow]{
		name:   "covers",
		key:    func(r *coverRow) table.Cell { return r.Cover },
		id:     func(r *coverRow, known []string) string { return r.Cover.KeyID(known) },
		source: func(r *coverRow) table.Cell { return r.Source },
		use:    func(r *coverRow) table.Cell { return r.Use },
		drop:   func(id string, _ *coverRow, at diag.Position) { l.dropped[id] = at },
	}) {
		r := j.row
		if j.own && !l.newRow("covers", r.Cover, &r, r.Name, r.Kind, r.Letter) {
			continue
		}
		t.Covers = append(t.Covers, coverOf(j.id, r))
	}
}

func coverOf(id string, r coverRow) catalog.Cover {
	c := catalog.Cover{
		ID: id, Name: nameOr(r.Name, id), Letter: letter(r.Letter), Note: r.Note.Text(), Cell: r.Cover.At(),
		Gain:         gain(r.Low, r.Typical, r.High),
		Winter:       gain(r.WinterLow, r.WinterTypical, r.WinterHigh),
		SoilGain:     difference.within(-5, 15).of(r.SoilGain),
		LightPercent: inPercent.of(r.Light), Vent: temperature.within(0, 60).of(r.Vent), VentInside: r.VentRead.Word("inside", "outside") == "inside",
		Touches: yes(r.Touches, false), WindLimit: speed.of(r.Wind), InsectsOut: r.InsectsOut.YesNo(), Years: inYears.of(r.Years),
		Snow: oneOf(r.Snow, catalog.SnowRules), Hail: oneOf(r.Hail, catalog.HailRules), Price: inMoney.of(r.Price),
		Offered: yes(r.Offered, true), Hoops: yes(r.Hoops, false),
	}
	c.Gain.Stated = yes(r.Stated, false)
	c.Kind, _ = oneOf(r.Kind, catalog.CoverKinds).Get()
	if w, known := whole(wholeCount, r.Weight).Get(); known {
		c.Weight = w
	}
	return c
}

func gain(low, typical, high table.Cell) catalog.Gain {
	return catalog.Gain{Low: difference.of(low), Typical: difference.of(typical), High: difference.of(high)}
}

// yes reads yes or no, and otherwise where nothing is said.
func yes(c table.Cell, otherwise bool) bool {
	if v, said := c.YesNo().Get(); said {
		return v
	}
	return otherwise
}

// letter is the capital that marks a cover. I, O, S and H mark actions.
func letter(c table.Cell) string {
	t := strings.ToUpper(c.Text())
	if t == "" {
		return ""
	}
	if len(t) != 1 || t[0] < 'A' || t[0] > 'Z' || strings.Contains("IOSH", t) {
		c.Fault("cover-letter", fmt.Sprintf("%q cannot mark a cover", c.Text()), "one capital letter other than I, O, S and H, which mark actions", "choose another letter")
	}
	return t
}

type layersRow struct {
	Layers   table.Cell `csv:"layers" table:"name"`
	Low      table.Cell `csv:"gain_low_k,gain_low_c,gain_low_f" table:"number"`
	Typical  table.Cell `csv:"gain_typical_k,gain_typical_c,gain_typical_f" table:"number"`
	High     table.Cell `csv:"gain_high_k,gain_high_c,gain_high_f" table:"number"`
	Measured table.Cell `csv:"measured"`
	Offered  table.Cell `csv:"offered"`
	Source   table.Cell `csv:"source"`
	Note     table.Cell `csv:"note"`
	Use      table.Cell `csv:"use"`
}

// readLayers leaves out built-in layers that hold a cover which the publisher
// dropped, and tells it at the row that dropped the cover.
func (l *loader) readLayers(t *catalog.Tables) {
	var covers []string
	for _, c := range t.Covers {
		covers = append(covers, c.ID)
	}
	for _, j := range overlay(l, layout[layersRow]{
		name: "layers",
		key:  func(r *layersRow) table.Cell { return r.Layers },
		id: func(r *layersRow, _ []string) string {
			if r.Layers.Text() == "" {
				r.Layers.Missing("covers joined by +, the outermost first: tunnel+fabric")
			}
			return strings.Join(r.Layers.IDs("+", covers), "+")
		},
		source: func(r *layersRow) table.Cell { return r.Source },
		use:    func(r *layersRow) table.Cell { return r.Use },
	}) {
		r := j.row
		ids := catalog.SplitLayers(j.id)
		if i := slices.IndexFunc(ids, func(id string) bool { _, gone := l.dropped[id]; return gone }); i >= 0 && r.Layers.Owner() == figure.BuiltIn {
			l.faults.Add(diag.Fault{
				At: l.dropped[ids[i]], ID: "layers-dropped", Severity: diag.Notice, What: fmt.Sprintf("%s goes with %s", j.id, ids[i]),
			})
			continue
		}
		y := catalog.Layers{
			ID: j.id, Covers: ids, Gain: gain(r.Low, r.Typical, r.High), Measured: yes(r.Measured, false),
			Offered: yes(r.Offered, true), Note: r.Note.Text(), Cell: r.Layers.At(),
		}
		t.Layers = append(t.Layers, y)
	}
}

type hazardRow struct {
	Hazard  table.Cell `csv:"hazard" table:"key"`
	On      table.Cell `csv:"on"`
	Caution table.Cell `csv:"caution"`
	Defer   table.Cell `csv:"defer"`
	Source  table.Cell `csv:"source"`
	Note    table.Cell `csv:"note"`
}

func (l *loader) readHazards(t *catalog.Tables) {
	for _, j := range overlay(l, layout[hazardRow]{
		name:   "hazards",
		key:    func(r *hazardRow) table.Cell { return r.Hazard },
		id:     func(r *hazardRow, known []string) string { return r.Hazard.KeyID(known) },
		source: func(r *hazardRow) table.Cell { return r.Source },
	}) {
		r := j.row
		mustHave(r.Caution, "what to take care of")
		mustHave(r.On, "covers, or all, heat, food, structure, separated by spaces")
		on := slices.DeleteFunc(r.On.IDs(" ", nil), func(id string) bool { _, gone := l.dropped[id]; return gone && r.On.Owner() == figure.BuiltIn })
		if len(on) == 0 && !r.On.Blank() {
			continue // all its covers were dropped
		}
		t.Hazards = append(t.Hazards, catalog.Hazard{
			ID: j.id, On: on, Caution: r.Caution.Text(), Defer: r.Defer.Text(), Source: r.Caution.Source(), Cell: r.Hazard.At(), OnCell: r.On.At(),
		})
	}
}
