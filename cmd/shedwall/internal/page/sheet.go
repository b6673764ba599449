package page

import "strings"

// Sheet is one wall sheet, complete: every word on it and every bar in days of
// its axis. Day 0 is the first day of the first month of the local season
// (1 January in the north, 1 July in the south); 29 February has a day of its own.
// Bars that cross the end of the axis come as two bars.
type Sheet struct {
	Path                                           string // "bands/slopes/sheet", "bands/slopes/sheet-2"
	Lang                                           string
	Band                                           string   // "Thessock Slopes"
	Where                                          string   // "680-880 m (2,230-2,890 ft) · slope · zone 6a"
	Name                                           string   // "Sheet 1: spring and summer"
	Edition                                        string   // "Thessock Valley growing guide · edition 3"
	Dated                                          string   // date of the edition, "2026-02-01", for the PDF's own dates; "" = none
	Code                                           string   // sheet code, from the content
	CodeText                                       string   // "sheet code K7QF"
	Lead                                           []string // what the dates promise, two or three lines
	Months                                         []Month
	Days                                           int // 366
	Marks                                          []SheetMark
	Warning                                        string // in bold where a freeze line would stand and there is none; may be empty
	Rows                                           []SheetRow
	Key                                            []KeyEntry // what the bars say
	CoverKey                                       []KeyEntry // covers that must be on
	KeyTitle, CoverKeyTitle                        string
	OwnDates                                       string         // label of the empty half lane for the reader's own dates
	Foot                                           []string       // rules for tonight, groups, records, use until, publisher, statement, cautions
	Twins                                          []SheetTwin    `json:"-"` // the same sheet in other languages
	Versions                                       []SheetVersion `json:"-"` // of a sheet in two languages: the same rows in each
	NoPDF                                          bool           `json:"-"` // only its page is made, to print from the browser
	HeadCode, HeadCrop, HeadCalendar, HeadSentence string         // column headings of the table behind the picture
}

// Title names the sheet among all documents of a guide.
func (s *Sheet) Title() string {
	var parts []string
	for _, p := range []string{s.Band, s.Name, s.Edition} {
		if p != "" {
			parts = append(parts, p)
		}
	}
	return strings.Join(parts, " · ")
}

// SheetVersion is a sheet in two languages as it stands in one of them, and the
// heading over its rows in words.
type SheetVersion struct {
	Sheet      *Sheet
	WordsTitle string
}

// SheetFrame is what stands around a sheet on its web page: seen on a screen,
// left out in print.
type SheetFrame struct {
	Links      []Inline // to the band's page and to the PDFs
	Hint       string   // how to print it; may be empty
	WordsTitle string   // heading of the table that says every row in words
	Site       *Site    // whose navigation and foot stand around the sheet; nil = nothing does
}

// Month is one month of an axis: days From up to, not including, To.
type Month struct {
	Name     string // "Jan"
	Full     string // "January"
	From, To int
}

// SheetMark is a heavy dashed vertical with its label ("careful last freeze 17 May").
type SheetMark struct {
	At    int
	Label string
}

// SheetRow is one crop.
type SheetRow struct {
	Code     string // "B4"
	Name     string // "Potato"
	Dates    string // in open ground: "out 12 May-27 Jul · ready 16 Jul-13 Oct"
	Covered  string // what covers change: "under X: out 5 May-27 Jul"; may be empty
	GroupEnd bool   // heavier line under the row: the group ends here
	Bars     []Bar
	Covers   []CoverLine
	Sentence string // sentence twin: the row in words
}

// BarKind is what a bar says; each has its own hatch and letter.
type BarKind uint8

// The bars of a sheet.
const (
	BarInside  BarKind = iota // sow inside: dots
	BarOutside                // sow outside: upright hatch
	BarSetOut                 // set out: solid
	BarGrowing                // growing: a line
	BarHarvest                // harvest: slanted hatch in a frame
)

// Bar covers days From to To of the axis, both inclusive. Letter may be empty
// (the second part of a bar cut at the end of the axis).
type Bar struct {
	Kind     BarKind
	From, To int
	Letter   string
}

// CoverLine is drawn above the bars while a layer must be on. Level 0 is the
// layer nearest the plant.
type CoverLine struct {
	Style    string // "fabric" dashed, "film" solid, "glass" double, "mulch" dotted
	Letter   string
	Level    int
	From, To int
}

// KeyEntry explains one bar (by Kind) or one cover line (by Style).
type KeyEntry struct {
	Kind   BarKind
	Style  string
	Letter string
	Text   string
}
