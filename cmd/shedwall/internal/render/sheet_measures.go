package render

import "shedwall/cmd/shedwall/internal/page"

// Least sizes that any sheet keeps, in points.
const (
	leastTitle = 14.0 // the name of the band
	leastWhere = 8.0  // where it lies
	leastName  = 12.0 // names of crops
	leastType  = 7.0  // anything at all
)

// Line widths in mm. Nothing is thinner than 0.25: two dots of a 200 dpi copy.
const (
	lineThin   = 0.25
	lineHatch  = 0.3
	lineBar    = 0.4
	lineFreeze = 0.6
	lineRule   = 0.7
)

// leastScale is the scale below which nothing is tried: there the names, the
// dates and the foot have their least sizes.
const leastScale = 0.88

// measures are the sizes of one layout: type in points, the rest in mm. A layout
// is tried at several scales.
type measures struct {
	scale                          float64
	title, sheet, where, edition   float64
	lead, month, mark, head        float64
	code, name, dates              float64
	letter, coverLetter, key, foot float64

	breaks     bool    // long names and dates may take two lines
	runIn      bool    // dates begin on the line of the name where they fit there
	leading    float64 // line distance of running text over its size
	rowPad     float64 // blank above and below the contents of a row
	bar        float64 // height of a bar
	barDrop    float64 // how far bars reach below the row's line
	laneGap    float64 // between two lanes of bars
	letterGap  float64 // between a letter and its bar
	coverGap   float64 // from the bars to the nearest cover line
	coverPitch float64 // between cover lines
	coverLeg   float64 // the short ends turned down to the plant
	ownLane    float64 // height of the empty lane for own dates
	block      float64 // blank between the blocks of a sheet
}

// measuresAt gives the sizes at a scale. Type grows and shrinks between two
// limits of its own; at the least scale only the least sizes are left.
func measuresAt(scale float64, own bool) measures {
	t := func(least, size, most float64) float64 { return min(max(size*scale, least), most) }
	m := measures{
		scale: scale,
		title: t(18, 21, 30), sheet: t(11, 12.5, 17), where: t(9, 10.5, 14), edition: t(7.5, 8.5, 11),
		lead: t(8, 9, 12), month: t(8, 9, 13), mark: t(7.2, 8, 11), head: t(leastType, 7, 9),
		code: t(8.5, 9, 12.5), name: t(leastName, 12, 17), dates: t(leastType, 7.2, 10.5),
		letter: t(leastType, 7.3, 9.5), coverLetter: t(leastType, 7, 9), key: t(7.5, 8.5, 11), foot: t(leastType, 7.6, 10),
		leading: 1.22,
		rowPad:  0.2 + 1.9*(scale-leastScale),
		bar:     t(2, 2.3, 3.2),
		barDrop: 0.4,
		laneGap: 0.5, letterGap: 0.5,
		coverGap: t(1.25, 1.3, 1.7), coverPitch: t(1.95, 2.05, 2.6), coverLeg: 0.55,
		block: 2.2 + 4*(scale-1),
	}
	if own {
		m.ownLane = 3.8 * min(scale, 1.15)
	}
	return m
}

// letterHeight is the height in mm of the capitals at bars.
func (m *measures) letterHeight() float64 { return capHeight * m.letter * point }

// coverLetterHeight is the height in mm of the capitals at cover lines. Cover
// lines lie so far apart that the letters of two that begin on one day stand
// above each other.
func (m *measures) coverLetterHeight() float64 { return capHeight * m.coverLetter * point }

// insideLead is how far within a bar its letter begins when it stands inside: so
// much of the bar is seen before it.
func (m *measures) insideLead(k page.BarKind) float64 {
	switch k {
	case page.BarHarvest, page.BarOutside:
		return m.letterGap + lineBar
	case page.BarInside:
		return m.letterGap + dotWidth
	}
	return m.letterGap + 1.2
}

// markLine is the height of one row of labels of the freeze lines.
func (m *measures) markLine() float64 { return m.mark * point * 1.4 }
