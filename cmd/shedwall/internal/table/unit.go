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

	SquareMetre Unit = "m2"
	SquareFoot  Unit = "ft2"
	Litre       Unit = "l"
	Gallon      Unit = "gal"   // US
	Watt        Unit = "watts" // "W" alone in a column of watts
	UMetric     Unit = "wm2k"  // W/m2K
	UBtu        Unit = "btu"   // Btu/h ft2 F
)

// headingUnits are the units that end a heading after an underscore. Counts such
// as days and percent are part of the name: emerge_days has no other unit.
var headingUnits = []Unit{Celsius, Fahrenheit, Kelvin, Metre, Foot, Centimetre, Inch, KmPerHour, MilePerH,
	SquareMetre, SquareFoot, Litre, Gallon, UMetric, UBtu}

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
	"m2": SquareMetre, "m²": SquareMetre, "sq m": SquareMetre, "ft2": SquareFoot, "ft²": SquareFoot, "sq ft": SquareFoot, "sqft": SquareFoot,
	"l": Litre, "litre": Litre, "litres": Litre, "liter": Litre, "liters": Litre, "gal": Gallon, "gallon": Gallon, "gallons": Gallon,
	"watt": Watt, "watts": Watt, "w/m2k": UMetric, "w/m²k": UMetric, "btu/h ft2 f": UBtu,
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
	case SquareMetre:
		return "m²"
	case SquareFoot:
		return "ft²"
	case Watt:
		return "W"
	case UMetric:
		return "W/m²K"
	case UBtu:
		return "Btu/h ft² F"
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
