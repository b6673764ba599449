package table

import "strings"

// Unit is a unit of a heading or a cell.
type Unit string

// The units that tables use. Whether "c" is a temperature or a difference is
// decided by the column's figure, not by the unit.
const (
	NoUnit     Unit = ""
	Celsius    Unit = "c"
	Fahrenheit Unit = "f"
	Kelvin     Unit = "k" // differences only
	Metre      Unit = "m"
	Foot       Unit = "ft"
	Centimetre Unit = "cm"
	Inch       Unit = "in"
	KmPerHour  Unit = "kmh"
	MilePerH   Unit = "mph"
	Percent    Unit = "percent"
	Days       Unit = "days"
	Weeks      Unit = "weeks"
	Years      Unit = "years"
)

// headingUnits are the units that end a heading after an underscore. Counts such
// as days and percent are part of the name: emerge_days has no other unit.
var headingUnits = []Unit{Celsius, Fahrenheit, Kelvin, Metre, Foot, Centimetre, Inch, KmPerHour, MilePerH}

// splitUnit takes the unit off a folded heading.
func splitUnit(heading string) (base string, unit Unit) {
	for _, u := range headingUnits {
		if b, ok := strings.CutSuffix(heading, "_"+string(u)); ok && b != "" {
			return b, u
		}
	}
	return heading, NoUnit
}

// spellings are the ways to write a unit in a cell, in small letters.
var spellings = map[string]Unit{
	"c": Celsius, "°c": Celsius, "ºc": Celsius, "℃": Celsius, "deg c": Celsius, "degc": Celsius, "celsius": Celsius,
	"f": Fahrenheit, "°f": Fahrenheit, "ºf": Fahrenheit, "℉": Fahrenheit, "deg f": Fahrenheit, "degf": Fahrenheit, "fahrenheit": Fahrenheit,
	"k": Kelvin, "kelvin": Kelvin,
	"°": NoUnit, "º": NoUnit, "deg": NoUnit,
	"m": Metre, "metre": Metre, "metres": Metre, "meter": Metre, "meters": Metre,
	"ft": Foot, "ft.": Foot, "foot": Foot, "feet": Foot,
	"cm": Centimetre, "in": Inch, "in.": Inch, "inch": Inch, "inches": Inch,
	"km/h": KmPerHour, "kmh": KmPerHour, "kph": KmPerHour, "mph": MilePerH,
	"%": Percent, "percent": Percent,
	"d": Days, "day": Days, "days": Days, "w": Weeks, "wk": Weeks, "wks": Weeks, "week": Weeks, "weeks": Weeks,
	"y": Years, "yr": Years, "yrs": Years, "year": Years, "years": Years,
}

// String is the unit as people write it.
func (u Unit) String() string {
	switch u {
	case Celsius:
		return "°C"
	case Fahrenheit:
		return "°F"
	case Kelvin:
		return "K"
	case KmPerHour:
		return "km/h"
	case Percent:
		return "%"
	}
	return string(u)
}

// unitOf reads a spelled unit; an empty text is no unit.
func unitOf(s string) (Unit, bool) {
	s = strings.ToLower(strings.TrimSpace(s))
	if s == "" {
		return NoUnit, true
	}
	if r, ok := strings.CutPrefix(s, "° "); ok {
		s = "°" + r
	}
	u, ok := spellings[s]
	return u, ok
}
