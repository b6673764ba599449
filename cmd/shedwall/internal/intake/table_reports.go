package intake

import (
	"fmt"
	"regexp"
	"slices"
	"strings"

	"shedwall/cmd/shedwall/internal/catalog"
	"shedwall/cmd/shedwall/internal/diag"
	"shedwall/cmd/shedwall/internal/figure"
	"shedwall/cmd/shedwall/internal/quantity"
	"shedwall/cmd/shedwall/internal/table"
)

type reportRow struct {
	Date    table.Cell `csv:"date" table:"name"`
	Band    table.Cell `csv:"band" table:"required"`
	Crop    table.Cell `csv:"crop" table:"required"`
	Outcome table.Cell `csv:"outcome" table:"required"`
	Place   table.Cell `csv:"place"`
	Grower  table.Cell `csv:"grower"`
	Height  table.Cell `csv:"elevation_m,elevation_ft" table:"number"`
	Stage   table.Cell `csv:"stage"`
	Layers  table.Cell `csv:"layers"`
	Touched table.Cell `csv:"touched"`
	Outside table.Cell `csv:"outside_low_c,outside_low_f" table:"number"`
	Inside  table.Cell `csv:"inside_low_c,inside_low_f" table:"number"`
	Note    table.Cell `csv:"note"`
	More    table.More `csv:"-"`
}

// privateHeadings are columns that people keep beside reports and that go no further
// than the publisher's own table; so does every heading that begins with private_.
var privateHeadings = []string{"name", "surname", "first_name", "last_name", "phone", "telephone", "mobile", "email", "e_mail", "address", "street", "contact", "garden_address"}

func privateHeading(h string) bool {
	return strings.HasPrefix(h, "private_") || slices.Contains(privateHeadings, h)
}

// outcomeWords are further ways to write an outcome.
var outcomeWords = map[string]catalog.Outcome{
	"alive": catalog.Unhurt, "lived": catalog.Unhurt, "fine": catalog.Unhurt, "ok": catalog.Unhurt, "unharmed": catalog.Unhurt, "survived": catalog.Unhurt,
	"hurt": catalog.Harmed, "damaged": catalog.Harmed, "burned": catalog.Harmed, "burnt": catalog.Harmed, "tips burned": catalog.Harmed,
	"dead": catalog.Killed, "died": catalog.Killed, "lost": catalog.Killed,
	"cooked": catalog.Overheated, "too hot": catalog.Overheated, "collapsed": catalog.Crushed,
}

// readReports reads reports.csv. Growers write as they speak, so nothing in it stops a
// guide: what is clear is taken, and a report whose date, band, crop, covers or outcome
// is not is parked and told. Private columns are read no further than their heading.
func (l *loader) readReports(t *catalog.Tables) {
	r := reportReader{seen: map[string]int{}, bands: idsOf(t.Bands, func(b *catalog.Band) string { return b.ID }),
		crops:  idsOf(t.Crops, func(c *catalog.Crop) string { return c.ID }),
		covers: idsOf(t.Covers, func(c *catalog.Cover) string { return c.ID })}
	for _, row := range read[reportRow](l, "reports", figure.Own, optional, table.Spec{Open: privateHeading, Formulas: true}) {
		if report, ok := r.report(row); ok {
			t.Reports = append(t.Reports, report)
		}
	}
	t.Parked = r.parked
}

func idsOf[T any](rows []T, id func(*T) string) []string {
	out := make([]string, len(rows))
	for i := range rows {
		out[i] = id(&rows[i])
	}
	return out
}

type reportReader struct {
	bands, crops, covers []string
	parked               []catalog.Parked
	seen                 map[string]int // line of each report
}

// outcomes are the words for an outcome that are proposed for a mistyped one.
var outcomes = []string{"unhurt", "harmed", "killed", "overheated", "crushed"}

func (r *reportReader) report(row reportRow) (catalog.Report, bool) {
	parked := false
	park := func(c table.Cell, what, cure string) {
		r.park(c, what, cure, parked)
		parked = true
	}
	d, what, _ := readDate(row.Date.Text(), true)
	if what != "" {
		park(row.Date, what, "ask the grower for the day, and write it with its month as a word")
	}
	out := catalog.Report{Year: d.year, On: quantity.MonthDay{Month: d.month, Day: d.day},
		Place: row.Place.Text(), Grower: row.Grower.Text(), Cell: row.Date.At()}
	var ok bool
	if out.Band, ok = oneID(row.Band, r.bands); !ok && len(r.bands) == 0 {
		parked = true // a guide without bands has been told of that
		r.parked = append(r.parked, catalog.Parked{Cell: row.Band.At(), Why: "report-parked"})
	} else if !ok {
		park(row.Band, fmt.Sprintf("%q is no band of this guide", row.Band.Text()), nearest(row.Band, r.bands, "write the id of the band in which the garden lies now"))
	}
	if out.Crop, ok = oneID(row.Crop, r.crops); !ok {
		park(row.Crop, fmt.Sprintf("%q is no crop of this guide", row.Crop.Text()), nearest(row.Crop, r.crops, "write the id of the crop"))
	}
	if row.Layers.Text() != "" && row.Layers.Text() != openGround {
		var ids []string
		for _, id := range strings.Split(row.Layers.Text(), "+") {
			if id = strings.ToLower(strings.TrimSpace(id)); !slices.Contains(r.covers, id) {
				cure := "write ids of covers joined by +, the outermost first"
				if n := diag.Nearest(id, r.covers); n != "" {
					cure = fmt.Sprintf("did you mean %q? else %s", n, cure)
				}
				park(row.Layers, fmt.Sprintf("%q is no cover of this guide", id), cure)
			}
			ids = append(ids, id)
		}
		out.Layers = strings.Join(ids, "+")
	}
	if out.Outcome, ok = outcomeOf(row.Outcome.Text()); !ok {
		park(row.Outcome, fmt.Sprintf("%q does not say what became of the plants", row.Outcome.Text()), nearest(row.Outcome, outcomes, "write unhurt, harmed, killed, overheated or crushed"))
	}
	if !parked {
		if first, again := r.repeated(&out, row.Note.Text()); again {
			park(row.Date, fmt.Sprintf("the same report of the same garden stands on line %d already", first), "delete one of the two; if there were two plantings, say so in the note of each")
		}
	}
	out.Height = clear(row.Height, reHeight, height, "an altitude")
	out.Outside, out.Inside = clear(row.Outside, reReading, temperature, likeReading), clear(row.Inside, reReading, temperature, likeReading)
	out.Young = strings.EqualFold(row.Stage.Text(), "young")
	out.Touched = strings.EqualFold(row.Touched.Text(), "yes")
	out.Note, out.Place, out.Grower = impersonal(row.Note), impersonal(row.Place), impersonal(row.Grower)
	return out, !parked
}

// repeated finds the line of an equal report from the same garden, so that one that was
// sent twice is not counted twice. Where nothing says whose garden it is no two are one.
func (r *reportReader) repeated(x *catalog.Report, note string) (line int, again bool) {
	if x.Place == "" && x.Grower == "" {
		return 0, false
	}
	key := fmt.Sprintf("%q %q %d %v %s %s %s %s %q", x.Place, x.Grower, x.Year, x.On, x.Band, x.Crop, x.Layers, x.Outcome, note)
	if line, again = r.seen[key]; !again {
		r.seen[key] = x.Cell.Line
	}
	return line, again
}

// impersonal is the text of a cell that is published, or nothing, told, where it seems to
// hold an address.
func impersonal(c table.Cell) string {
	text := c.Text()
	if !personal(text) {
		return text
	}
	what := "the " + c.Heading()
	c.Warn("report-personal", what+" seems to hold a telephone number or an e-mail address, and is not published",
		"texts without anything personal", "take it out, or move it to a column whose heading begins with private_")
	return ""
}

// park tells a report that cannot be placed. again says that it was told for another
// cell: it is counted once.
func (r *reportReader) park(c table.Cell, what, cure string, again bool) {
	c.Warn("report-parked", what+": the report is parked, neither printed nor counted", "a report that says day, band, crop and outcome", cure)
	if !again {
		r.parked = append(r.parked, catalog.Parked{Cell: c.At(), Why: "report-parked"})
	}
}

func oneID(c table.Cell, known []string) (string, bool) {
	id := strings.ReplaceAll(strings.ToLower(c.Text()), " ", "_")
	return id, slices.Contains(known, id)
}

func nearest(c table.Cell, known []string, otherwise string) string {
	if n := diag.Nearest(strings.ToLower(c.Text()), known); n != "" {
		return fmt.Sprintf("did you mean %q? else %s", n, otherwise)
	}
	return otherwise
}

func outcomeOf(text string) (catalog.Outcome, bool) {
	text = strings.ToLower(text)
	if o, ok := catalog.Outcomes[text]; ok {
		return o, true
	}
	o, ok := outcomeWords[text]
	return o, ok
}

var (
	reReading  = regexp.MustCompile(`^[-−–]?[0-9]+(?:[.,][0-9]+)? *°? *[CcFf]?$`)
	reHeight   = regexp.MustCompile(`^[0-9]+(?:[., ][0-9]+)? *(?:m|ft)?$`)
	rePersonal = regexp.MustCompile(`[^ ]+@[^ ]+\.[a-z]|(?:[0-9][ ()./-]{0,2}){7,}`)
)

const likeReading = "the reading of a thermometer beside the plants"

// clear is a number that a grower wrote; one with words beside it ("28F on porch") was
// read elsewhere or is a guess, and is told and not used.
func clear[T ~float64](c table.Cell, plain *regexp.Regexp, m measure[T], what string) figure.Of[T] {
	if text := c.Text(); text != "" && !plain.MatchString(text) {
		c.Warn("report-reading", fmt.Sprintf("%q is not %s, and is not used", text, what), m.like, "write the number alone where it is certain")
		return figure.Of[T]{State: figure.Unknown, Owner: figure.Own, Cell: c.At()}
	}
	return m.of(c)
}

// personal says that a text holds what looks like a telephone number or an address.
func personal(text string) bool { return rePersonal.MatchString(text) }
