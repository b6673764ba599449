package plan

import (
	"shedwall/cmd/shedwall/internal/catalog"
	"shedwall/cmd/shedwall/internal/figure"
	"shedwall/cmd/shedwall/internal/quantity"
)

// limits are the cold and soil figures a crop is planned by, its own or its
// class's.
type limits struct {
	young, grown figure.Of[quantity.Celsius]
	soil         figure.Of[quantity.Celsius]
	chill        figure.Of[quantity.Celsius]
	missing      []Missing
}

// limitsOf picks a crop's figures. Damage limits make windows; kill limits only
// say "lost". A crop without a damage figure uses its class's, never a colder one
// than its own kill figure: a class figure must not make a date earlier.
func limitsOf(c *catalog.Crop, class *catalog.Class) limits {
	var l limits
	var cy, cg, cs figure.Of[quantity.Celsius]
	if class != nil {
		cy, cg, cs = class.YoungDamage, class.GrownDamage, class.SoilMin
	}
	l.young = l.pick("young_damage_c", c.YoungDamage, cy, c.YoungKill)
	l.grown = l.pick("grown_damage_c", c.GrownDamage, cg, c.GrownKill)
	l.soil = l.pick("soil_min_c", c.SoilMin, cs, figure.Of[quantity.Celsius]{})
	l.chill = c.Chill
	return l
}

// pick is the crop's own figure, else the class's, warmed to floor where floor is
// known and warmer.
func (l *limits) pick(heading string, own, class, floor figure.Of[quantity.Celsius]) figure.Of[quantity.Celsius] {
	if own.Known() {
		return own
	}
	v, ok := class.Get()
	if !ok || own.State == figure.Unknown {
		l.missing = append(l.missing, Missing{Figure: heading})
		return figure.Of[quantity.Celsius]{}
	}
	l.missing = append(l.missing, Missing{Figure: heading, Used: "class"})
	f := class
	if w, ok := floor.Get(); ok && w > v {
		f = floor
	}
	f.Owner = figure.ByClass
	return f
}

// Bounds of the groups: harmed at no more than these when grown. A hard frost is
// 28 F (-2.2 C) and below (National Weather Service usage); group A stands well
// below it, B stands it, C a light frost of a degree or so, D none.
const (
	groupA quantity.Celsius = -4.4 // 24 F
	groupB quantity.Celsius = -2.2 // 28 F
	groupC quantity.Celsius = -0.5 // 31 F
)

// groupOf puts a crop into A-D by what it stands when grown; D where not known.
func groupOf(l limits) byte {
	t, ok := l.grown.Get()
	switch {
	case ok && t <= groupA:
		return 'A'
	case ok && t <= groupB:
		return 'B'
	case ok && t <= groupC:
		return 'C'
	}
	return 'D'
}
