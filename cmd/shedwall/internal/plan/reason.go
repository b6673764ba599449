package plan

import (
	"fmt"

	"shedwall/cmd/shedwall/internal/figure"
)

// Gate is what decides one end of a window.
type Gate uint8

// The gates. NoGate: nothing holds this end back.
const (
	NoGate   Gate = iota
	Frost         // harm from a cold night
	Chill         // a week of cold nights checks it
	Soil          // soil too cold to emerge
	Maturity      // not enough days left before the last safe day
	Light         // not enough days left before days get too short to grow
	Raising       // weeks needed inside before setting out
	Heat          // it would be ready in hot weather
	Bolt          // early cold would make it run to seed
	Warmth        // not enough warmth left before the last safe day
	Growth        // days from sowing or setting out to harvest
	Exposed       // wind, snow or hail of a month rules the cover out
	Picking       // a planting is picked out
	Cooling       // the soil is still too warm: what is planted in fall would shoot
	Ground        // the ground freezes: roots need weeks before it does
	Spring        // what is planted in spring is planted within weeks of the first day
	Hardened      // too late to be ready by the last safe day, but hardened by cold it ripens on
)

var gateNames = [...]string{"", "frost", "chill", "soil", "maturity", "light", "raising", "heat", "bolt", "warmth", "growth", "exposed", "picking", "cooling", "ground", "spring", "hardened"}

// String is the gate's name in ledgers and word keys, "" of NoGate.
func (g Gate) String() string { return gateNames[g] }

// GateNamed is the gate of a name, NoGate where there is none.
func GateNamed(name string) Gate {
	for g, n := range gateNames {
		if n == name {
			return Gate(g)
		}
	}
	return NoGate
}

// Reason is one figure behind a date, in the order of the arithmetic. What is
// behind each station's part is in band.Answer; see Planner.Explain. A band has some
// hundred thousand of them, so it is kept small.
type Reason struct {
	Number float64 // in Unit
	Of     string  // id of the thing meant: a cover, a class
	cell   *figure.Cell
	Gate   Gate
	Kind   ReasonKind
	Unit   Unit
	By     figure.Owner
}

// At is the cell behind the figure; the zero Cell where it has none.
func (r Reason) At() figure.Cell {
	if r.cell == nil {
		return figure.Cell{}
	}
	return *r.cell
}

// String is all of it, as tests compare and show it.
func (r Reason) String() string {
	return fmt.Sprintf("{%v %v %v %v %q %v %v}", r.Kind, r.Number, r.Unit, r.Gate, r.Of, r.By, r.At())
}

// ReasonKind names what a figure is.
type ReasonKind uint8

// The kinds of reason.
const (
	ReasonLimit     ReasonKind = iota // harmed at (C)
	ReasonAllowance                   // leaf colder than air (K)
	ReasonGain                        // cover's gain (K)
	ReasonChill                       // mean night of a week (C)
	ReasonSoil                        // soil for emergence (C)
	ReasonEmerge                      // days from sowing to emergence
	ReasonWeeks                       // weeks raised inside
	ReasonDays                        // days to harvest
	ReasonLight                       // last day of ten hours (slot)
	ReasonSun                         // last day with sun before a ridge takes it (slot)
	ReasonHeat                        // mean maximum of a month's days (C)
	ReasonHeatMean                    // mean of a month (C)
	ReasonReady                       // days to harvest reckoned with to keep it out of heat
	ReasonBolt                        // mean of a cold day (C)
	ReasonBoltDays                    // so many of them (days)
	ReasonBase                        // degree days count above this (C)
	ReasonWarmth                      // degree days needed (K days)
	ReasonBest                        // monthly mean in which days to harvest are days (C)
	ReasonRipe                        // degree days of the days to harvest at that mean (K days)
	ReasonSnow                        // the soil's date lies in a month with snow (slot)
	ReasonWeather                     // last day of spring, or first of fall, of a month that rules a cover out (slot)
	ReasonCool                        // soil that has cooled so far (C), of what is planted in fall
	ReasonGround                      // weeks left before the ground freezes
	ReasonSpring                      // weeks of planting in spring
)

var reasonNames = [...]string{"limit", "allowance", "gain", "chill", "soil", "emerge", "weeks", "days", "light", "sun", "heat", "heat-mean", "ready",
	"bolt", "bolt-days", "base", "warmth", "best", "ripe", "snow", "weather", "cool", "ground", "spring"}

func (k ReasonKind) String() string { return reasonNames[k] }

// Unit tells what Number is.
type Unit uint8

// The units of Reason.Number.
const (
	NoUnit Unit = iota
	UnitCelsius
	UnitKelvins
	UnitDays
	UnitWeeks
	UnitSlot
	UnitDegreeDays
)
