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
	r := reportReader{bands: idsOf(t.Bands, func(b *catalog.Band) string { return b.ID }),
		crops:  idsOf(t.Crops, func(c *catalog.Crop) string { return c.ID }),
		covers: idsOf(t.Covers, func(c *catalog.Cover) string { return c.ID })}
	for _, row := range read[reportRow](l, "reports", figure.Own, optional, table.Spec{Open: privateHeading}) {
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
}

func (r *reportReader) report(row reportRow) (catalog.Report, bool) {
	d, what, _ := readDate(row.Date.Text())
	if what != "" {
		return r.park(row.Date, what, "ask the grower for the day, and write it with its month as a word")
	}
	out := catalog.Report{Year: d.year, On: quantity.MonthDay{Month: d.month, Day: d.day},
		Place: row.Place.Text(), Grower: row.Grower.Text(), Cell: row.Date.At()}
	var ok bool
	if out.Band, ok = oneID(row.Band, r.bands); !ok {
		return r.park(row.Band, fmt.Sprintf("%q is no band of this guide", row.Band.Text()), nearest(row.Band, r.bands, "write the id of the band in which the garden lies now"))
	}
	if out.Crop, ok = oneID(row.Crop, r.crops); !ok {
		return r.park(row.Crop, fmt.Sprintf("%q is no crop of this guide", row.Crop.Text()), nearest(row.Crop, r.crops, "write the id of the crop"))
	}
	if row.Layers.Text() != "" && row.Layers.Text() != openGround {
		var ids []string
		for _, id := range strings.Split(row.Layers.Text(), "+") {
			if id = strings.ToLower(strings.TrimSpace(id)); !slices.Contains(r.covers, id) {
				return r.park(row.Layers, fmt.Sprintf("%q is no cover of this guide", id), "write ids of covers joined by +, the outermost first")
			}
			ids = append(ids, id)
		}
		out.Layers = strings.Join(ids, "+")
	}
	if out.Outcome, ok = outcomeOf(row.Outcome.Text()); !ok {
		return r.park(row.Outcome, fmt.Sprintf("%q does not say what became of the plants", row.Outcome.Text()), "write unhurt, harmed, killed, overheated or crushed")
	}
	out.Height = clear(row.Height, reHeight, height, "an altitude")
	out.Outside, out.Inside = clear(row.Outside, reReading, temperature, likeReading), clear(row.Inside, reReading, temperature, likeReading)
	out.Young = strings.EqualFold(row.Stage.Text(), "young")
	out.Touched = strings.EqualFold(row.Touched.Text(), "yes")
	if out.Note = row.Note.Text(); personal(out.Note) {
		row.Note.Warn("report-personal", "the note seems to hold a telephone number or an e-mail address, and is not published",
			"notes without anything personal", "take it out, or move it to a column whose heading begins with private_")
		out.Note = ""
	}
	return out, true
}

// park tells a report that cannot be placed.
func (r *reportReader) park(c table.Cell, what, cure string) (catalog.Report, bool) {
	c.Warn("report-parked", what+": the report is parked, neither printed nor counted", "a report that says day, band, crop and outcome", cure)
	r.parked = append(r.parked, catalog.Parked{Cell: c.At(), Why: "report-parked"})
	return catalog.Report{}, false
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
