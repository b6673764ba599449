// Package catalog holds the typed rows of a guide's tables and how they join:
// the region (guide, stations, bands, places), what grows (crops, germination)
// and what covers (covers, layers, hazards). It is pure data: reading and
// checking are done elsewhere.
package catalog

import (
	"shedwall/cmd/shedwall/internal/diag"
	"shedwall/cmd/shedwall/internal/figure"
	"shedwall/cmd/shedwall/internal/quantity"
)

// Position is where cold air puts a garden or a station.
type Position uint8

// Cold air drains: a hollow is colder than its altitude says, a ridge warmer.
const (
	Slope Position = iota
	Hollow
	Floor
	Ridge
)

// Positions is every position with the word used in tables.
var Positions = map[string]Position{"slope": Slope, "hollow": Hollow, "floor": Floor, "ridge": Ridge}

func (p Position) String() string { return [...]string{"slope", "hollow", "floor", "ridge"}[p] }

// Units says which units a guide prints first.
type Units uint8

// UnitsBoth prints Celsius with Fahrenheit behind it, and metres with feet.
const (
	UnitsBoth Units = iota
	UnitsC
	UnitsF
)

// Guide is guide.csv: a setting a row (columns setting, value).
type Guide struct {
	Title       string // required
	Publisher   string // required
	Contact     string // required: e-mail or web address
	Address     string // web address of the guide, printed on sheets; may be empty
	Edition     int    // required, from 1
	EditionDate quantity.Day
	Language    string   // required, two letters
	Languages   []string // every language the guide is published in, Language first
	Statement   string   // required statement for printed pages; may be empty
	Short       string   // the same in one line, for the foot of further pages; may be empty
	PreparedBy  string   // who made this edition; may be empty
	ReviewedBy  string   // who looked it over; may be empty
	UseUntil    string   // free text, "February 2029"; may be empty
	Units       Units
	Currency    string // of prices, as printed: "$", "EUR"; may be empty
	ZoneMap     string // which hardiness map zones are declared by; may be empty

	Schedule Schedule // of task lists

	Silence []string // ids of warnings not to be shown; faults cannot be silenced

	// Years FROM-TO limit the record years used (calendar years, inclusive). Both 0:
	// the last 30 years of each record.
	YearsFrom, YearsTo int

	// PlainYears is the setting present_climate = no: dates are made from the years
	// as they were, with no shift to the present climate.
	PlainYears bool

	// FirstPDF is the setting pdf = first_sheet: of all that is made for paper, only the
	// first wall sheet of each band comes as PDF too; pages print the rest.
	FirstPDF bool

	Cells map[string]diag.Position // setting -> its value cell
}

// Station is a row of stations.csv.
type Station struct {
	ID, Name     string
	Latitude     figure.Of[float64] // degrees, north positive
	Longitude    figure.Of[float64] // degrees, east positive
	Elevation    figure.Of[quantity.Metres]
	Position     figure.Of[Position]
	Offset       figure.Of[quantity.Kelvins] // publisher's; negative = colder than its position says
	ObservedAt   string                      // hour of reading, free text
	WhereToRead  string                      // where a gardener reads this station
	DeclaredZone figure.Of[string]
	Cell         diag.Position // the id's cell
}

// Band is a row of bands.csv: one zone-and-altitude cell of the region.
type Band struct {
	ID, Name            string
	Low, High           figure.Of[quantity.Metres]
	Position            figure.Of[Position]
	Latitude, Longitude figure.Of[float64] // place used for distance weights; blank = the stations' middle
	Offset              figure.Of[quantity.Kelvins]
	DeclaredZone        figure.Of[string] // "6a"

	// Months in which hail, strong wind and snow are to be reckoned with, by the
	// publisher. Blank = not known; known and empty = declared none.
	HailMonths, WindMonths, SnowMonths figure.Of[Months]
	Gust                               figure.Of[float64] // km/h, the gust to reckon with in windy months; blank = not known

	// A ridge takes the winter's sun from the band from one day to another; blank = it does not.
	SunLostFrom, SunLostTo figure.Of[quantity.MonthDay]

	Cell diag.Position
}

// Place is a row of places.csv: a named place readers look up.
type Place struct {
	Name                string
	Elevation           figure.Of[quantity.Metres]
	Position            figure.Of[Position]
	Latitude, Longitude figure.Of[float64] // choose between bands that fit; blank = nothing does
	Band                string             // id of the band that the publisher gives it; "" = its height and position tell
	Cell                diag.Position
}

// Source is a row of sources.csv.
type Source struct {
	ID           string
	Kind         string // extension, handbook, fao, paper, records, grower, trade, practice, memory, own
	Organisation string
	Title        string
	Year         string // as published; may be empty
	Address      string
	Read         string // how it was read
	Cell         diag.Position
}

// Word is a row of words.csv: a phrase of the pages in each language.
type Word struct {
	Key    string
	Text   map[string]string // language -> text
	Review map[string]string // language -> "reviewed", "sourced", "unreviewed", ""
	Cell   diag.Position
}

// Tables is everything a guide's tables say, built-in rows joined with the
// publisher's own. Slices keep the order of the tables (built-in first, then
// the publisher's new rows); maps are indexes into them.
type Tables struct {
	Guide       Guide
	Hemisphere  quantity.Hemisphere
	Stations    []Station
	Bands       []Band
	Places      []Place
	Crops       []Crop
	Classes     []Class
	Covers      []Cover
	Layers      []Layers
	Structures  []Structure // those in use stand in Covers as well, without a gain
	Germination []Germination
	Logged      []Logged
	Pots        []Pot // tender plants that pass the winter inside
	Hazards     []Hazard
	Sheets      Choices  // crops and covers that the publisher chose for sheets
	Reports     []Report // of growers, in the order of the table
	Parked      []Parked // reports that cannot be placed
	Sources     []Source
	Words       []Word // phrases of the pages
	Spoken      []Word // texts of the tables in other languages, see IsTextKey

	// OwnText holds the keys of texts that stand in the publisher's own tables, in the
	// guide's language; the others are the program's, in English.
	OwnText map[string]bool
}
