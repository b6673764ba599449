package catalog

import "strings"

// Texts visits every text of the tables that readers see, each with its key in
// words.csv: crop.tomato.name, cover.tunnel.note, hazard.wind.caution, guide.title.
// Names of places and titles of sources are names and stay as they are. A text may be
// visited under one key more than once: a structure in use stands among the covers too.
func (t *Tables) Texts(visit func(key string, text *string)) {
	for _, x := range []struct {
		name string
		text *string
	}{{"title", &t.Guide.Title}, {"publisher", &t.Guide.Publisher}, {"contact", &t.Guide.Contact}, {"address", &t.Guide.Address},
		{"statement", &t.Guide.Statement}, {"statement_short", &t.Guide.Short}, {"use_until", &t.Guide.UseUntil},
		{"prepared_by", &t.Guide.PreparedBy}, {"reviewed_by", &t.Guide.ReviewedBy}, {"zone_map", &t.Guide.ZoneMap}} {
		visit("guide."+x.name, x.text)
	}
	for i := range t.Stations {
		s := &t.Stations[i]
		visit("station."+s.ID+".name", &s.Name)
		visit("station."+s.ID+".observed_at", &s.ObservedAt)
		visit("station."+s.ID+".where_to_read", &s.WhereToRead)
	}
	for i := range t.Bands {
		visit("band."+t.Bands[i].ID+".name", &t.Bands[i].Name)
	}
	for i := range t.Crops {
		c := &t.Crops[i]
		visit("crop."+c.ID+".name", &c.Name)
		visit("crop."+c.ID+".also", &c.Also)
		visit("crop."+c.ID+".note", &c.Note)
	}
	for i := range t.Classes {
		visit("class."+t.Classes[i].ID+".name", &t.Classes[i].Name)
	}
	covers := func(c *Cover) {
		visit("cover."+c.ID+".name", &c.Name)
		visit("cover."+c.ID+".note", &c.Note)
	}
	for i := range t.Covers {
		covers(&t.Covers[i])
	}
	for i := range t.Structures {
		covers(&t.Structures[i].Cover)
	}
	for i := range t.Layers {
		visit("layers."+t.Layers[i].ID+".note", &t.Layers[i].Note)
	}
	for i := range t.Hazards {
		visit("hazard."+t.Hazards[i].ID+".caution", &t.Hazards[i].Caution)
		visit("hazard."+t.Hazards[i].ID+".defer", &t.Hazards[i].Defer)
	}
	for i := range t.Logged {
		visit("logged."+t.Logged[i].ID+".note", &t.Logged[i].Note)
	}
	for i := range t.Pots {
		visit("pot."+t.Pots[i].ID+".name", &t.Pots[i].Name)
		visit("pot."+t.Pots[i].ID+".note", &t.Pots[i].Note)
	}
	for i := range t.Sources {
		s := &t.Sources[i]
		if s.Unpublished() {
			visit("source."+s.ID+".title", &s.Title)
		}
		visit("source.read."+strings.ReplaceAll(s.Read, " ", "_"), &s.Read)
	}
}

// Unpublished says whether a source is no publication: its title says what it is.
func (s *Source) Unpublished() bool {
	return s.Kind == "memory" || s.Kind == "practice" || s.Kind == "own"
}

// textFields are the last parts of the keys of texts in tables, by their first.
var textFields = map[string][]string{
	"guide":   {"title", "publisher", "contact", "address", "statement", "statement_short", "use_until", "prepared_by", "reviewed_by", "zone_map"},
	"station": {"name", "observed_at", "where_to_read"},
	"band":    {"name"},
	"crop":    {"name", "also", "note"},
	"class":   {"name"},
	"cover":   {"name", "note"},
	"layers":  {"note"},
	"hazard":  {"caution", "defer"},
	"pot":     {"name", "note"},
	"logged":  {"note"},
	"source":  {"title"},
}

// IsTextKey says whether a key of words.csv is that of a text in a table, and not of
// a phrase of the pages.
func IsTextKey(key string) bool {
	if strings.HasPrefix(key, "source.read.") {
		return true
	}
	parts := strings.Split(key, ".")
	fields, ok := textFields[parts[0]]
	if !ok || len(parts) != 3 && (parts[0] != "guide" || len(parts) != 2) {
		return false
	}
	for _, f := range fields {
		if f == parts[len(parts)-1] {
			return true
		}
	}
	return false
}

// In is the tables as read in another language: say gives each text in it. Figures,
// ids and the order of rows are the same; the tables themselves are not changed.
func (t *Tables) In(say func(key, text string) string) *Tables {
	out := *t
	out.Stations = append([]Station(nil), t.Stations...)
	out.Bands = append([]Band(nil), t.Bands...)
	out.Crops = append([]Crop(nil), t.Crops...)
	out.Classes = append([]Class(nil), t.Classes...)
	out.Covers = append([]Cover(nil), t.Covers...)
	out.Structures = append([]Structure(nil), t.Structures...)
	out.Layers = append([]Layers(nil), t.Layers...)
	out.Hazards = append([]Hazard(nil), t.Hazards...)
	out.Logged = append([]Logged(nil), t.Logged...)
	out.Pots = append([]Pot(nil), t.Pots...)
	out.Sources = append([]Source(nil), t.Sources...)
	out.Texts(func(key string, text *string) {
		if *text != "" || strings.HasSuffix(key, ".also") {
			*text = say(key, *text)
		}
	})
	return &out
}
