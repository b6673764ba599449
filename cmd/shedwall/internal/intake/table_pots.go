package intake

import (
	"fmt"

	"shedwall/cmd/shedwall/internal/catalog"
	"shedwall/cmd/shedwall/internal/table"
)

type potRow struct {
	Pot      table.Cell `csv:"pot" table:"key"`
	Name     table.Cell `csv:"name"`
	Latin    table.Cell `csv:"latin"`
	Kind     table.Cell `csv:"kind"`
	BringIn  table.Cell `csv:"bring_in_c,bring_in_f" table:"number"`
	KeepLow  table.Cell `csv:"keep_low_c,keep_low_f" table:"number"`
	KeepHigh table.Cell `csv:"keep_high_c,keep_high_f" table:"number"`
	Never    table.Cell `csv:"never_below_c,never_below_f" table:"number"`
	Damage   table.Cell `csv:"damage_c,damage_f" table:"number"`
	Kill     table.Cell `csv:"kill_c,kill_f" table:"number"`
	Light    table.Cell `csv:"winter_light"`
	Source   table.Cell `csv:"source"`
	Note     table.Cell `csv:"note"`
	Use      table.Cell `csv:"use"`
}

// Winter quarters: a tropical plant wants 25 C at most, and nothing that is brought in
// is left out at -30 C.
var (
	quarters   = temperature.within(-10, 25)
	potOutside = temperature.within(-30, 20)
)

// readPots reads pots.csv, tender plants that pass the winter inside.
func (l *loader) readPots(t *catalog.Tables) {
	for _, j := range overlay(l, layout[potRow]{
		name: "pots", own: true,
		key:    func(r *potRow) table.Cell { return r.Pot },
		id:     func(r *potRow, known []string) string { return r.Pot.KeyID(known) },
		source: func(r *potRow) table.Cell { return r.Source },
		use:    func(r *potRow) table.Cell { return r.Use },
	}) {
		r := j.row
		if j.own && !l.newRow("pots", r.Pot, &r, r.Name) {
			continue
		}
		t.Pots = append(t.Pots, potOf(j.id, r))
	}
}

func potOf(id string, r potRow) catalog.Pot {
	p := catalog.Pot{
		ID: id, Name: nameOr(r.Name, id), Latin: r.Latin.Text(), Note: r.Note.Text(), Cell: r.Pot.At(),
		BringIn: potOutside.of(r.BringIn), Never: quarters.of(r.Never), Damage: potOutside.of(r.Damage), Kill: potOutside.of(r.Kill),
	}
	p.KeepLow, p.KeepHigh = lowHigh(r.KeepLow, r.KeepHigh, quarters.of)
	if !r.Kind.Blank() {
		p.Kind, _ = oneOf(r.Kind, catalog.PotKinds).Get()
	}
	if r.Light.Text() != "" {
		p.Light, _ = oneOf(r.Light, catalog.WinterLights).Get()
	}
	checkPot(r, p)
	return p
}

// checkPot tells of figures that contradict each other and of a plant without any.
func checkPot(r potRow, p catalog.Pot) {
	damage, a := p.Damage.Get()
	kill, b := p.Kill.Get()
	if a && b && kill > damage {
		r.Kill.Fault("pot-order", fmt.Sprintf("it would be killed at %s °C and harmed only at %s °C", decimal(float64(kill)), decimal(float64(damage))),
			"kill_c no warmer than damage_c", "look whether the two were exchanged")
	}
	low, c := p.KeepLow.Get()
	never, d := p.Never.Get()
	if c && d && never > low {
		r.Never.Fault("pot-order", fmt.Sprintf("never below %s °C, yet kept from %s °C", decimal(float64(never)), decimal(float64(low))),
			"never_below_c no warmer than keep_low_c", "look whether the two were exchanged")
	}
	if in, e := p.BringIn.Get(); e && b && in < kill {
		r.BringIn.Fault("pot-order", fmt.Sprintf("brought in at %s °C, after %s °C has killed it", decimal(float64(in)), decimal(float64(kill))),
			"bring_in_c no colder than kill_c", "look whether the two were exchanged")
	}
	if !p.BringIn.Known() && !d && !a && !b {
		r.Pot.Warn("pot-no-limit", p.Name+" has no temperature at which it must come in", "bring_in_c, never_below_c, damage_c or kill_c",
			"fill one of them in; until then the first frost stands in")
	}
}
