package render

// Paper is a size of sheet, upright, in mm. Name is what file names carry
// ("letter", "a4").
type Paper struct {
	Name          string
	Title         string // what people call it
	Width, Height float64
}

// The papers a sheet is made for. At most 24 rows go on Letter and A4, 45 on
// Tabloid and A3.
var (
	Letter  = Paper{"letter", "Letter", 215.9, 279.4}
	A4      = Paper{"a4", "A4", 210, 297}
	Tabloid = Paper{"tabloid", "Tabloid", 279.4, 431.8}
	A3      = Paper{"a3", "A3", 297, 420}
)

// Margins in mm. The side margins take a punch or a staple; the top one takes a
// nail; the lower one is what every printer can leave blank (12.7 mm, half an inch).
const (
	marginSide   = 16.0
	marginTop    = 16.0
	marginBottom = 12.7
)

// sheetArea is what a layout may fill.
type sheetArea struct {
	name          string
	width, height float64 // of the whole drawing
	box           rect    // of the content
	nail          bool    // there is a top margin of our own for the nail
}

func (p Paper) area() sheetArea {
	return sheetArea{
		name:  p.Title,
		width: p.Width, height: p.Height,
		box:  rect{marginSide, marginTop, p.Width - marginSide, p.Height - marginBottom},
		nail: true,
	}
}

// The print page has to come out whole on Letter and on A4 from any browser: as
// wide as the narrower paper allows, as high as the lower one does between
// margins of half an inch, less 7 % because some browsers print a millimetre
// about 6 % too large.
const (
	printSlack  = 1.07
	printWidth  = 210 - 2*marginSide
	printHeight = (279.4 - 2*12.7) / printSlack
)

func printArea() sheetArea {
	return sheetArea{
		name:  "print page",
		width: printWidth, height: printHeight,
		box: rect{0, 0, printWidth, printHeight},
	}
}
