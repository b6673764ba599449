package intake

import (
	"slices"

	"shedwall/cmd/shedwall/internal/catalog"
	"shedwall/cmd/shedwall/internal/diag"
	"shedwall/cmd/shedwall/internal/figure"
	"shedwall/cmd/shedwall/internal/table"
)

type loggedRow struct {
	Logged table.Cell `csv:"logged" table:"key"`
	On     table.Cell `csv:"on"`
	Which  table.Cell `csv:"which"`
	Spread table.Cell `csv:"spread"`
	Nights table.Cell `csv:"nights" table:"number"`
	Low    table.Cell `csv:"low_k,low_c,low_f" table:"number"`
	Middle table.Cell `csv:"middle_k,middle_c,middle_f" table:"number"`
	High   table.Cell `csv:"high_k,high_c,high_f" table:"number"`
	Source table.Cell `csv:"source"`
	Note   table.Cell `csv:"note"`
	Use    table.Cell `csv:"use"`
}

// readLogged reads what thermometers found under covers. A row about covers that the
// publisher dropped goes with them.
func (l *loader) readLogged(t *catalog.Tables) {
	for _, j := range overlay(l, layout[loggedRow]{
		name: "logged", own: true,
		key:    func(r *loggedRow) table.Cell { return r.Logged },
		id:     func(r *loggedRow, known []string) string { return r.Logged.KeyID(known) },
		source: func(r *loggedRow) table.Cell { return r.Source },
		use:    func(r *loggedRow) table.Cell { return r.Use },
		drop:   func(string, *loggedRow, diag.Position) {},
	}) {
		r := j.row
		mustHave(r.On, "covers or structures, separated by spaces")
		on := slices.DeleteFunc(r.On.IDs(" ", nil), func(id string) bool { _, gone := l.dropped[id]; return gone && r.On.Owner() == figure.BuiltIn })
		if len(on) == 0 {
			continue
		}
		g := catalog.Logged{
			ID: j.id, On: on, Nights: whole(wholeCount, r.Nights), Low: difference.of(r.Low), Middle: difference.of(r.Middle), High: difference.of(r.High),
			Note: r.Note.Text(), Cell: r.Logged.At(), OnCell: r.On.At(),
		}
		g.Which, _ = oneOf(r.Which, catalog.LoggedWhich).Get()
		g.Spread, _ = oneOf(r.Spread, catalog.LoggedSpreads).Get()
		t.Logged = append(t.Logged, g)
	}
}
