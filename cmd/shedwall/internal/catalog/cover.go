package catalog

import (
	"strings"

	"shedwall/cmd/shedwall/internal/diag"
	"shedwall/cmd/shedwall/internal/figure"
	"shedwall/cmd/shedwall/internal/quantity"
)

// CoverKind decides how a cover is drawn: dashed fabric, solid film, double glass.
type CoverKind uint8

// The kinds of cover.
const (
	Fabric CoverKind = iota
	Film
	Glass
	Mulch
)

// CoverKinds is every kind with the word used in tables.
var CoverKinds = map[string]CoverKind{"fabric": Fabric, "film": Film, "glass": Glass, "mulch": Mulch}

func (k CoverKind) String() string { return [...]string{"fabric", "film", "glass", "mulch"}[k] }

// Gain is how much warmer at night a covered plant is than an uncovered one at
// the same height: low, typical and high are the 10, 50 and 90 % of near-limit
// nights. It may be below zero. Stated marks a published range that does not say
// which nights.
type Gain struct {
	Low, Typical, High figure.Of[quantity.Kelvins]
	Stated             bool
}

// Cover is a row of covers.csv.
type Cover struct {
	ID, Name string
	Kind     CoverKind
	Letter   string // one capital for cover lines
	Weight   int    // rank from light to heavy work: 1 = laid by hand in a minute
	Gain     Gain
	Winter   Gain                        // for nights far below freezing; blank = not known
	SoilGain figure.Of[quantity.Kelvins] // mean of the soil under it at sowing depth; blank = not known

	LightPercent figure.Of[float64]
	Vent         figure.Of[quantity.Celsius] // open at this temperature
	VentInside   bool                        // ... read inside, else outside
	Touches      bool                        // lies on the leaves: touching leaves get gain 0
	WindLimit    figure.Of[float64]          // km/h of gusts, stated by a source; blank = not known
	Snow         figure.Of[SnowRule]         // what it asks for when snow comes; blank = not known
	Hail         figure.Of[HailRule]         // what hail does to it; blank = not known
	InsectsOut   figure.Of[bool]
	Years        figure.Of[float64] // years of use
	Price        figure.Of[float64] // of all that one bed or house of it takes, in Guide.Currency; blank = not known
	Offered      bool               // planned on its own in this guide
	Hoops        bool               // stands on hoops over a bed: it has a cut list
	Note         string
	Cell         diag.Position
}

// Layers is a row of layers.csv: covers used together, outermost first.
type Layers struct {
	ID       string // cover ids joined by +, outermost first: tunnel+fabric
	Covers   []string
	Gain     Gain // blank = not measured: estimated from the covers
	Measured bool
	Offered  bool
	Note     string
	Cell     diag.Position
}

// SplitLayers gives the cover ids of a set of layers, outermost first. The empty
// id is open ground.
func SplitLayers(id string) []string {
	if id == "" {
		return nil
	}
	return strings.Split(id, "+")
}

// Hazard is a row of hazards.csv: a caution and where it is printed.
type Hazard struct {
	ID      string
	On      []string // cover ids, or words for some: all, food; structure (of structures.csv), house (heavier than hand work), film, glass (by kind), water, heat, lamps (in a structure)
	Caution string
	Defer   string // to whom it defers
	Source  string
	Cell    diag.Position
	OnCell  diag.Position // where On is named
}

// Logged is a row of logged.csv: what thermometers inside and outside found under covers,
// on nights of one kind. Differences are inside less outside; below zero = colder inside.
type Logged struct {
	ID     string
	On     []string // ids of covers and structures
	Nights figure.Of[int]
	Which  LoggedNights
	Spread LoggedSpread

	Low, Middle, High figure.Of[quantity.Kelvins] // by Spread
	Note              string
	Cell              diag.Position
	OnCell            diag.Position
}

// LoggedNights says which nights were counted.
type LoggedNights uint8

// AllNights; FreezingNights: at or below 0 C outside; ColdestNights: the few coldest.
const (
	AllNights LoggedNights = iota
	FreezingNights
	ColdestNights
)

// LoggedWhich is every kind of nights with the word used in tables.
var LoggedWhich = map[string]LoggedNights{"all": AllNights, "freezing": FreezingNights, "coldest": ColdestNights}

func (n LoggedNights) String() string { return [...]string{"all", "freezing", "coldest"}[n] }

// LoggedSpread says what low and high are.
type LoggedSpread uint8

// Quarters: a quarter of the nights lie below low, a quarter above high; Ends: the least
// and the most seen.
const (
	Quarters LoggedSpread = iota
	Ends
)

// LoggedSpreads is every spread with the word used in tables.
var LoggedSpreads = map[string]LoggedSpread{"quarters": Quarters, "ends": Ends}

func (s LoggedSpread) String() string { return [...]string{"quarters", "ends"}[s] }

// HandWork is the heaviest cover (Weight) that a gardener puts up and takes down by hand.
// What is heavier stands all season and is walked into.
const HandWork = 12

// ByHand says whether a cover is put up and taken down by hand.
func (c *Cover) ByHand() bool { return c.Weight <= HandWork }
