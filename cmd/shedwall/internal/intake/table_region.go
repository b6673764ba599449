package intake

import (
	"fmt"
	"maps"
	"regexp"
	"slices"
	"strings"
	"unicode"
	"unicode/utf8"

	"shedwall/cmd/shedwall/internal/catalog"
	"shedwall/cmd/shedwall/internal/diag"
	"shedwall/cmd/shedwall/internal/figure"
	"shedwall/cmd/shedwall/internal/quantity"
	"shedwall/cmd/shedwall/internal/table"
)

// shortStatement is the most letters of the short statement: with a title before it it
// stands on one line at the foot of a page.
const shortStatement = 90

type settingRow struct {
	Setting table.Cell `csv:"setting" table:"name"`
	Value   table.Cell `csv:"value" table:"required"`
	Note    table.Cell `csv:"note"`
}

var settings = []string{
	"title", "publisher", "contact", "address", "edition", "edition_date", "language", "languages",
	"statement", "statement_short", "use_until", "units", "currency", "zone_map", "years", "present_climate", "pdf", "silence",
	"prepared_by", "reviewed_by",
	"tasks_start_month", "term_from", "term_to",
}

// requiredSettings says what is expected of the settings that no guide goes without.
var requiredSettings = []struct{ name, what string }{
	{"title", "the name of the guide"}, {"publisher", "who answers for it"}, {"contact", "an e-mail or web address"},
	{"edition", "a whole number from 1"}, {"edition_date", "a date such as 2026-03-05"}, {"language", "two letters such as en"},
}

func (l *loader) readGuide(g *catalog.Guide) {
	g.Cells = map[string]diag.Position{}
	rows := read[settingRow](l, "guide", figure.Own, required, table.Spec{})
	for i, r := range rows {
		name := r.Setting.Word(settings...)
		if r.Setting.Blank() {
			r.Setting.Missing("the name of a setting")
		}
		if name == "" {
			continue
		}
		if _, twice := g.Cells[name]; twice {
			repeated(r.Setting, g.Cells[name])
			continue
		}
		g.Cells[name] = r.Value.At()
		setting(g, name, rows[i].Value)
	}
	g.Languages = mainFirst(g.Language, g.Languages)
	if rows == nil {
		return // the file's own fault says more
	}
	for _, s := range requiredSettings {
		if _, given := g.Cells[s.name]; !given {
			l.faults.Add(diag.Fault{
				At: diag.Position{File: dataFolder + "/guide.csv"}, ID: "setting-missing", What: fmt.Sprintf("the setting %q is missing", s.name),
				Expected: s.what, Cure: fmt.Sprintf("add a row that starts with %s", s.name),
			})
		}
	}
}

var (
	reLanguage = regexp.MustCompile(`^[a-z]{2}$`)
	reYears    = regexp.MustCompile(`^([0-9]{4}) ?(?:-|–|—|to) ?([0-9]{4})$`)
)

// setting puts one setting into the guide.
func setting(g *catalog.Guide, name string, c table.Cell) {
	for _, s := range requiredSettings {
		if s.name == name && c.Text() == "" {
			c.Missing(s.what)
			return
		}
	}
	switch text := c.Text(); name {
	case "title":
		g.Title = text
	case "publisher":
		g.Publisher = text
	case "contact":
		g.Contact = contact(c)
	case "address":
		g.Address = webAddress(c)
	case "edition":
		if n, known := whole(wholeCount.within(1, 100_000), c).Get(); known {
			g.Edition = n
		}
	case "edition_date":
		if d, ok := dateOf(c, true); ok {
			g.EditionDate = quantity.DayOf(d.year, d.month, d.day)
		}
	case "language":
		if g.Language = strings.ToLower(text); !reLanguage.MatchString(g.Language) {
			c.Fault("setting-unreadable", fmt.Sprintf("%q is not a language code", text), "two letters such as en or es", "write the code")
		}
	case "languages":
		g.Languages = languagesOf(c)
	case "statement":
		g.Statement = text
	case "statement_short":
		if g.Short = text; utf8.RuneCountInString(text) > shortStatement {
			c.Fault("setting-unreadable", fmt.Sprintf("the short statement has %d letters", utf8.RuneCountInString(text)), fmt.Sprintf("at most %d, so that it fits on one line", shortStatement), "shorten it; the long one goes into statement")
		}
	case "prepared_by":
		g.PreparedBy = text
	case "reviewed_by":
		g.ReviewedBy = text
	case "use_until":
		g.UseUntil = text
	case "units":
		g.Units = map[string]catalog.Units{"c": catalog.UnitsC, "f": catalog.UnitsF}[c.Word("both", "c", "f")]
	case "currency":
		g.Currency = text
	case "zone_map":
		g.ZoneMap = text
	case "years":
		g.YearsFrom, g.YearsTo = recordYears(c)
	case "silence":
		g.Silence = silenced(c)
	case "tasks_start_month":
		g.Schedule.StartMonth = startMonth(c)
	case "term_from":
		g.Schedule.TermFrom = termDay(c)
	case "term_to":
		g.Schedule.TermTo = termDay(c)
	case "present_climate":
		g.PlainYears = c.Word("yes", "no") == "no"
	case "pdf":
		g.FirstPDF = c.Word("all", "first_sheet") == "first_sheet"
	}
}

// recordYears reads FROM-TO; 0, 0 where nothing usable is given.
func recordYears(c table.Cell) (from, to int) {
	if c.Text() == "" {
		return 0, 0
	}
	m := reYears.FindStringSubmatch(c.Text())
	if m != nil {
		from, to = atoi(m[1]), atoi(m[2])
	}
	if m == nil || from > to || from < 1700 {
		c.Fault("setting-unreadable", fmt.Sprintf("%q are not years from and to", c.Text()), "years such as 1995-2024, the earlier first", "write them, or leave the cell empty for the last 30 years of each record")
		return 0, 0
	}
	return from, to
}

// contact is an e-mail address, a web address or a telephone number.
func contact(c table.Cell) string {
	t := c.Text()
	scheme := regexp.MustCompile(`^[A-Za-z][A-Za-z0-9+.-]*:`).FindString(t)
	digits := len(regexp.MustCompile(`[0-9]`).FindAllString(t, -1))
	switch {
	case scheme == "mailto:", scheme == "tel:", strings.HasPrefix(t, "http://"), strings.HasPrefix(t, "https://"):
		return t
	case scheme == "" && (strings.Contains(t, "@") || strings.Contains(t, ".") || digits >= 5):
		return t
	}
	c.Fault("setting-unreadable", fmt.Sprintf("%q is no way to reach anybody", t), "an e-mail address, a web address or a telephone number", "write one")
	return ""
}

type stationRow struct {
	Station     table.Cell `csv:"station" table:"key"`
	Name        table.Cell `csv:"name"`
	Latitude    table.Cell `csv:"latitude" table:"number"`
	Longitude   table.Cell `csv:"longitude" table:"number"`
	Elevation   table.Cell `csv:"elevation_m,elevation_ft" table:"number,required"`
	Position    table.Cell `csv:"position"`
	Offset      table.Cell `csv:"offset_k,offset_c,offset_f" table:"number"`
	Zone        table.Cell `csv:"zone"`
	ObservedAt  table.Cell `csv:"observed_at"`
	WhereToRead table.Cell `csv:"where_to_read"`
	Note        table.Cell `csv:"note"`
}

func (l *loader) readStations(t *catalog.Tables) {
	for _, j := range identify(l, layout[stationRow]{
		all: true,
		key: func(r *stationRow) table.Cell { return r.Station },
		id:  func(r *stationRow, known []string) string { return r.Station.KeyID(known) },
	}, read[stationRow](l, "stations", figure.Own, required, table.Spec{}), nil) {
		r := j.row
		mustHave(r.Elevation, "the height of the station above the sea")
		station := catalog.Station{
			ID: j.id, Name: nameOr(r.Name, j.id), Latitude: latitude.of(r.Latitude), Longitude: longitude.of(r.Longitude),
			Elevation: height.of(r.Elevation), Position: positionOf(r.Position), Offset: difference.within(-15, 15).of(r.Offset),
			ObservedAt: r.ObservedAt.Text(), WhereToRead: r.WhereToRead.Text(), DeclaredZone: zone(r.Zone), Cell: r.Station.At(),
		}
		if j.id != "" {
			t.Stations = append(t.Stations, station)
		}
	}
}

type bandRow struct {
	Band      table.Cell `csv:"band" table:"key"`
	Name      table.Cell `csv:"name"`
	Low       table.Cell `csv:"low_m,low_ft" table:"number,required"`
	High      table.Cell `csv:"high_m,high_ft" table:"number,required"`
	Position  table.Cell `csv:"position"`
	Zone      table.Cell `csv:"zone"`
	Latitude  table.Cell `csv:"latitude" table:"number"`
	Longitude table.Cell `csv:"longitude" table:"number"`
	Offset    table.Cell `csv:"offset_k,offset_c,offset_f" table:"number"`
	Hail      table.Cell `csv:"hail_months"`
	Windy     table.Cell `csv:"windy_months"`
	Snow      table.Cell `csv:"snow_months"`
	Wind      table.Cell `csv:"wind_kmh,wind_mph" table:"number"`
	SunFrom   table.Cell `csv:"sun_lost_from"`
	SunTo     table.Cell `csv:"sun_lost_to"`
	Note      table.Cell `csv:"note"`
}

// middle says why a band needs both its ends.
const middle = ": half dates are for its middle, careful dates for its colder edge"

func (l *loader) readBands(t *catalog.Tables) {
	for _, j := range identify(l, layout[bandRow]{
		all: true,
		key: func(r *bandRow) table.Cell { return r.Band },
		id:  func(r *bandRow, known []string) string { return r.Band.KeyID(known) },
	}, read[bandRow](l, "bands", figure.Own, required, table.Spec{}), nil) {
		r := j.row
		low, high := lowHigh(r.Low, r.High, height.of)
		mustHave(r.Low, "the height at which the band begins"+middle)
		if _, _, both := r.Low.Range(); !both {
			mustHave(r.High, "the height at which the band ends"+middle)
		}
		for _, c := range []struct {
			cell table.Cell
			f    figure.Of[quantity.Metres]
		}{{r.Low, low}, {r.High, high}} {
			if c.f.Known() && strings.ContainsAny(c.f.Qualifier, "<>") {
				c.cell.Fault("band-open", fmt.Sprintf("%q leaves the band open", c.cell.Text()), "a height", "write the height of the lowest or highest garden of the band")
			}
		}
		if !r.SunFrom.Blank() || !r.SunTo.Blank() { // a ridge that takes the sun gives it back
			mustHave(r.SunFrom, "the first day without sun, such as 11-10")
			mustHave(r.SunTo, "the last day without sun, such as 02-01")
		}
		band := catalog.Band{
			ID: j.id, Name: nameOr(r.Name, j.id), Low: low, High: high, Position: positionOf(r.Position),
			Latitude: latitude.of(r.Latitude), Longitude: longitude.of(r.Longitude), Offset: difference.within(-15, 15).of(r.Offset),
			DeclaredZone: zone(r.Zone), HailMonths: months(r.Hail), WindMonths: months(r.Windy), SnowMonths: months(r.Snow),
			Gust: speed.of(r.Wind), SunLostFrom: dayOfYear(r.SunFrom), SunLostTo: dayOfYear(r.SunTo), Cell: r.Band.At(),
		}
		if j.id != "" {
			t.Bands = append(t.Bands, band)
		}
	}
}

type placeRow struct {
	Place     table.Cell `csv:"place" table:"name"`
	Elevation table.Cell `csv:"elevation_m,elevation_ft" table:"number,required"`
	Position  table.Cell `csv:"position"`
	Latitude  table.Cell `csv:"latitude" table:"number"`
	Longitude table.Cell `csv:"longitude" table:"number"`
	Band      table.Cell `csv:"band"`
	Note      table.Cell `csv:"note"`
}

// readPlaces reads the places after the bands, one of which a place may name.
func (l *loader) readPlaces(t *catalog.Tables) {
	bands := idsOf(t.Bands, func(b *catalog.Band) string { return b.ID })
	for _, j := range identify(l, layout[placeRow]{
		key: func(r *placeRow) table.Cell { return r.Place },
		id:  func(r *placeRow, _ []string) string { return r.Place.Require("the name of a place") },
	}, read[placeRow](l, "places", figure.Own, advisable, table.Spec{}), nil) {
		r := j.row
		mustHave(r.Elevation, "the height of the place above the sea")
		if !r.Latitude.Blank() || !r.Longitude.Blank() {
			mustHave(r.Latitude, "the latitude of the place too, or neither")
			mustHave(r.Longitude, "the longitude of the place too, or neither")
		}
		p := catalog.Place{Name: j.id, Elevation: height.of(r.Elevation), Position: positionOf(r.Position),
			Latitude: latitude.of(r.Latitude), Longitude: longitude.of(r.Longitude), Cell: r.Place.At()}
		if !r.Band.Blank() {
			if id, ok := oneID(r.Band, bands); ok {
				p.Band = id
			} else if len(bands) > 0 { // without bands, their own fault says more
				r.Band.Fault("place-band", fmt.Sprintf("%s is given to the band %q, which is not in bands.csv", j.id, r.Band.Text()), "the id of a band", nearest(r.Band, bands, "write an id from bands.csv, or leave the cell empty"))
			}
		}
		t.Places = append(t.Places, p)
	}
}

// The longest name, and the longest word of one, that every sheet, card and column has room
// for, in letters.
const (
	maxName     = 48
	maxNameWord = 26
)

// nameOr is the printed name, the id where none is given.
func nameOr(c table.Cell, id string) string {
	name := id
	if n := c.Text(); n != "" {
		name = n
	}
	shortName(c, name)
	return name
}

// shortName sees that sheets have room for a name.
func shortName(c table.Cell, name string) {
	if n := utf8.RuneCountInString(name); n > maxName {
		c.Fault("name-too-long", fmt.Sprintf("%q is %d letters long", name, n), fmt.Sprintf("%d letters at most", maxName), "shorten it; there is room for more in the column note")
		return
	}
	for word := range strings.FieldsFuncSeq(name, func(r rune) bool { return unicode.IsSpace(r) || r == '-' }) {
		if n := utf8.RuneCountInString(word); n > maxNameWord {
			c.Fault("name-too-long", fmt.Sprintf("the word %q is %d letters long", word, n), fmt.Sprintf("words of %d letters at most", maxNameWord), "shorten it, or part it with a blank or a hyphen")
			return
		}
	}
}

// positionsMeant are words that people use for a position, with the one proposed.
var positionsMeant = map[string]string{
	"valley": "floor", "valley_floor": "floor", "valley_bottom": "floor", "bottom": "floor", "flat": "floor", "plain": "floor", "valle": "floor", "fondo": "floor",
	"hill": "ridge", "hilltop": "ridge", "top": "ridge", "summit": "ridge", "crest": "ridge", "peak": "ridge", "loma": "ridge", "cima": "ridge", "cumbre": "ridge",
	"dip": "hollow", "frost_pocket": "hollow", "bowl": "hollow", "basin": "hollow", "hondonada": "hollow",
	"hillside": "slope", "mountainside": "slope", "side": "slope", "incline": "slope", "bench": "slope", "ladera": "slope",
}

func positionOf(c table.Cell) figure.Of[catalog.Position] {
	return oneOfMeaning(c, catalog.Positions, positionsMeant)
}

// oneOf reads one of a few words as a figure. Another word is reported and unknown.
func oneOf[T any](c table.Cell, words map[string]T) figure.Of[T] {
	return oneOfMeaning(c, words, nil)
}

// oneOfMeaning is oneOf with the words that people use for them.
func oneOfMeaning[T any](c table.Cell, words map[string]T, meant map[string]string) figure.Of[T] {
	f := figure.Of[T]{Owner: c.Owner(), Cell: c.At(), Source: c.Source()}
	if c.Unknown() {
		f.State = figure.Unknown
		return f
	}
	w := c.WordMeaning(meant, slices.Sorted(maps.Keys(words))...)
	if w == "" {
		if !c.Blank() {
			f.State = figure.Unknown
		}
		return f
	}
	g := figure.Is(words[w], f.Cell, f.Source)
	g.Owner = f.Owner
	return g
}

var reZone = regexp.MustCompile(`^(1[0-3]|[1-9])[ab]$`)

// zone reads a half zone such as 6a.
func zone(c table.Cell) figure.Of[string] {
	f := figure.Of[string]{Owner: c.Owner(), Cell: c.At()}
	switch z := strings.ToLower(strings.ReplaceAll(c.Text(), " ", "")); {
	case c.Unknown():
		f.State = figure.Unknown
	case z == "":
	case !reZone.MatchString(z):
		c.Fault("zone-unreadable", fmt.Sprintf("%q is not a half zone", c.Text()), "1a to 13b", "write one half zone, or leave the cell empty: it is worked out from the records")
		f.State = figure.Unknown
	default:
		f = figure.Is(z, f.Cell, "")
		f.Owner = c.Owner()
	}
	return f
}

// silenced is the ids of the warnings a publisher has read and does not want to
// read again. An id that is not explained anywhere is a fault: it would silence
// nothing and nobody would notice.
func silenced(c table.Cell) []string {
	ids := strings.Fields(c.Text())
	for _, id := range ids {
		if _, known := diag.Explain(id); !known {
			c.Fault("silence-unknown", fmt.Sprintf("there is no warning %q", id), "ids as they stand in brackets behind warnings", nearestID(id))
		}
	}
	return ids
}

func nearestID(id string) string {
	if near := diag.Nearest(id, diag.IDs()); near != "" {
		return fmt.Sprintf("did you mean %q?", near)
	}
	return "copy the id from the warning"
}
