package catalog

import (
	"shedwall/cmd/shedwall/internal/diag"
	"shedwall/cmd/shedwall/internal/figure"
	"shedwall/cmd/shedwall/internal/quantity"
)

// LimitBasis says where a cold limit was measured.
type LimitBasis uint8

// Air is screen height, as most bulletins mean; Plant is a leaf or a chamber.
const (
	Air LimitBasis = iota
	Plant
)

// Start is how a crop is usually begun.
type Start uint8

// Outside: sown where it grows; Inside: raised inside and set out; Either;
// Planted: tubers, sets, cloves, crowns and slips, planted outside like a seed.
const (
	Outside Start = iota
	Inside
	Either
	Planted
)

// Starts is every start with the word used in tables.
var Starts = map[string]Start{"outside": Outside, "inside": Inside, "either": Either, "planted": Planted}

func (s Start) String() string { return [...]string{"outside", "inside", "either", "planted"}[s] }

// PlantSeason is when a planted crop (Start Planted) goes into the ground.
type PlantSeason uint8

// SpringPlanted is meant where nothing is said. FallPlanted stands through the winter
// and is harvested in the next summer; EitherSeason may be planted in both.
const (
	SpringPlanted PlantSeason = iota
	FallPlanted
	EitherSeason
)

// PlantSeasons is every season of planting with the word used in tables.
var PlantSeasons = map[string]PlantSeason{"spring": SpringPlanted, "fall": FallPlanted, "either": EitherSeason}

func (s PlantSeason) String() string { return [...]string{"spring", "fall", "either"}[s] }

// Crop is a row of crops.csv. Every figure may be unknown.
type Crop struct {
	ID     string // starts with the plain name: lettuce_leaf
	Name   string
	Also   string // other names that readers know it by, as words.csv gives them; may be empty
	Latin  string
	Family string
	Group  string // vegetable, herb, flower, fruit
	Cycle  string // annual, biennial, perennial
	Class  string // id in classes.csv
	Start  Start

	YoungDamage figure.Of[quantity.Celsius] // harmed at, until 4 weeks after emergence or setting out
	YoungKill   figure.Of[quantity.Celsius]
	GrownDamage figure.Of[quantity.Celsius] // harmed at, thereafter
	GrownKill   figure.Of[quantity.Celsius]
	WinterKill  figure.Of[quantity.Celsius] // killed at, once hardened by cold
	Basis       LimitBasis                  // of the limits above

	Chill    figure.Of[quantity.Celsius] // 7-day mean of minima below this checks growth or harms
	SoilMin  figure.Of[quantity.Celsius] // soil at sowing depth, least for emergence
	SoilBest figure.Of[quantity.Celsius]
	SoilMax  figure.Of[quantity.Celsius]

	Germination string         // id in germination.csv, "" = none
	EmergeDays  figure.Of[int] // where there is no germination table: days to emerge in fair soil

	WeeksInsideLow, WeeksInsideHigh figure.Of[float64]
	DaysLow, DaysHigh               figure.Of[int] // to first harvest
	DaysFromSetOut                  bool           // DaysLow/High count from setting out, else from sowing
	PickDays                        figure.Of[int] // how long a planting is picked

	Heat figure.Of[quantity.Celsius] // daily maximum above which growth or set suffers

	Base     figure.Of[quantity.Celsius] // degree days are counted above this daily mean
	Ceiling  figure.Of[quantity.Celsius] // and no further above this
	Bolt     figure.Of[quantity.Celsius] // BoltDays days with a mean below this make plants run to seed
	BoltDays figure.Of[int]
	HeatMean figure.Of[quantity.Celsius] // mean of a month above which growth and quality fall

	// BestMeanLow and BestMeanHigh are the means of a month between which it grows best; days
	// to harvest are those of such weather.
	BestMeanLow, BestMeanHigh figure.Of[quantity.Celsius]

	// Fall planting: weeks before the ground freezes, and the soil that has cooled to.
	Season                      PlantSeason
	FallWeeksLow, FallWeeksHigh figure.Of[float64]
	FallSoil                    figure.Of[quantity.Celsius]
	FirstYear                   figure.Of[int] // year of the first harvest, 1 = the year of planting; perennials

	SpacingCm   figure.Of[float64]
	DepthCm     figure.Of[float64]
	NeedsInsect figure.Of[bool] // covers must come off at flowering
	FruitDays   figure.Of[int]  // from an open flower to the first fruit picked

	Note string
	Cell diag.Position

	ClassCell, GerminationCell diag.Position // where Class and Germination are named
}

// Class is a row of classes.csv: cold figures of a hardiness class, used for a
// crop without its own and never to make a date earlier.
type Class struct {
	ID, Name                            string
	YoungDamage, GrownDamage, GrownKill figure.Of[quantity.Celsius]
	SoilMin                             figure.Of[quantity.Celsius]
	Base                                figure.Of[quantity.Celsius] // for degree days; never for a first date
	Cell                                diag.Position
}

// Germination is the emergence table of one kind of seed: days to emerge at a
// constant soil temperature, ordered by temperature.
type Germination struct {
	ID     string
	Points []GerminationPoint
}

// GerminationPoint is one column of the table. Days is not known where no seed
// emerged at that temperature.
type GerminationPoint struct {
	Soil quantity.Celsius
	Days figure.Of[float64]
}
