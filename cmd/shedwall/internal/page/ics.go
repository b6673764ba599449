package page

import (
	"cmp"
	"net/url"
	"slices"
	"strconv"
	"strings"

	"shedwall/cmd/shedwall/internal/catalog"
	"shedwall/cmd/shedwall/internal/plan"
	"shedwall/cmd/shedwall/internal/quantity"
)

// Calendar is the work of a band for calendar programs. The same guide gives the same
// calendar; nothing in it comes from a clock.
type Calendar struct {
	Path     string // "bands/slopes/calendar.ics"
	Lang     string
	Name     string
	About    string       // what the dates are
	Address  string       // of the guide on the web; "" = none
	Stamp    quantity.Day // date of the edition
	Sequence int          // number of the edition: a later one overrules an earlier
	Events   []Event      // by UID
}

// Event is whole days, both included. UID stays the same from edition to edition, so that
// a program that has read the file before moves the event instead of adding one.
type Event struct {
	UID       string
	From, To  quantity.Day
	Summary   string
	About     string
	Kind      string // of work, in words
	Cancelled bool   // the edition before had it and this one has not
}

// calendarFor makes a band's calendar: an event for each line of its task list that is of
// one crop or of the whole band, on the first such days that are over no earlier than the
// day of the edition.
func (b *builder) calendarFor(m *bandPage) *Calendar {
	g := &b.Tables.Guide
	c := &Calendar{
		Path: ICSPath(m.row().ID), Lang: b.words.Language(), Name: b.t("ics.name", "band", m.row().Name, "guide", g.Title),
		About:   b.t("ics.about", "odds", b.words.Odds(quantity.Careful), "edition", firstUpper(b.edition()), "publisher", g.Publisher, "contact", g.Contact),
		Address: address(g.Address), Stamp: g.EditionDate, Sequence: g.Edition,
	}
	host := b.host()
	of := b.t("ics.careful", "band", m.row().Name, "odds", b.words.Odds(quantity.Careful))
	if a := address(g.Address); strings.HasPrefix(a, "http") {
		of += " " + strings.TrimSuffix(a, "/") + "/" + HTML(TasksPath(m.row().ID))
	}
	seen := make(map[string]int, len(m.work.tasks)) // by the beginning of the UID
	uid := func(crop, what, layers string) string {
		if crop == "" {
			crop = "band"
		}
		id := string(appendEventID(nil, m.row().ID, crop, what, layers)) + "@" + host
		key := id[:len(id)-len(host)-1]
		n := seen[key] + 1
		seen[key] = n
		if n > 1 {
			return key + "." + strconv.Itoa(n) + "@" + host
		}
		return id
	}
	c.Events = make([]Event, 0, len(m.work.tasks))
	for _, t := range m.work.tasks {
		e := Event{Kind: b.t("tasks.kind." + string(t.Kind)), About: b.eventAbout(t, of)}
		crop, what := "", string(t.Kind)
		if t.Crop != nil {
			crop = t.Crop.ID
		}
		switch {
		case t.Kind == plan.TaskLastChance:
			what = string(t.Action) + lastEnd
		case t.Action != "" && t.Kind != plan.TaskHarden:
			what = string(t.Action)
		case t.Cover != "":
			what += "." + t.Cover + "." + timeOf(t.From)
		}
		e.UID = uid(crop, what, t.Layers)
		e.From, e.To = b.nextDays(t)
		e.Summary = b.t("ics.summary", "kind", e.Kind, "what", b.eventText(t))
		c.Events = append(c.Events, e)
	}
	c.Events = append(c.Events, b.removed(m, host, seen)...)
	c.Events = eventsInOrder(c.Events)
	return c
}

// appendEventID appends what the UID of an event begins with.
func appendEventID(out []byte, band, crop, what, layers string) []byte {
	if layers == "" {
		layers = "open"
	}
	for _, part := range [...]string{band, crop, what} {
		out = append(append(out, part...), '.')
	}
	out = strconv.AppendInt(out, int64(percent(quantity.Careful)), 10)
	return append(append(out, '.'), layers...)
}

// lastEnd marks the key of a window's last day.
const lastEnd = "-last"

func percent(o quantity.Odds) int { return int(o*100 + 0.5) }

// timeOf tells the two times of a year apart in which a cover goes on.
func timeOf(s quantity.Slot) string {
	if s >= quantity.SlotsPerYear {
		return "fall"
	}
	return "spring"
}

// eventText is a task as the title of an event.
func (b *builder) eventText(t plan.Task) string {
	if t.Cover != "" && t.Crop != nil {
		return b.t("tasks.cover", "cover", b.layersName(t.Cover), "crops", t.Crop.Name)
	}
	return b.taskText(t, b.layersName)
}

// eventAbout says how long a start is right, then what is said of every event: at which odds,
// and where to read more.
func (b *builder) eventAbout(t plan.Task, of string) string {
	switch {
	case !saysUntil(t.Kind):
	case t.EndNotKnown && t.Until > 0:
		return b.t("ics.until_least", "date", b.words.Date(b.date(t.Until))) + " " + of
	case t.EndNotKnown:
		return b.t("ics.until_not_known") + " " + of
	case t.Until > 0:
		return b.t("ics.until", "date", b.words.Date(b.date(t.Until))) + " " + of
	}
	return of
}

// host ends the UIDs: where the guide is on the web, else its publisher's address, so that
// two guides with a band of one name do not meet.
func (b *builder) host() string {
	g := &b.Tables.Guide
	for _, a := range []string{address(g.Address), address(g.Contact)} {
		if _, at, ok := strings.Cut(a, "@"); ok && strings.HasPrefix(a, "mailto:") {
			return plainHost(at)
		}
		if u, err := url.Parse(a); err == nil && u.Host != "" {
			return plainHost(u.Hostname())
		}
	}
	return "guide.invalid"
}

// plainHost keeps what a host is made of.
func plainHost(s string) string {
	return strings.Map(func(r rune) rune {
		switch {
		case r >= 'a' && r <= 'z', r >= '0' && r <= '9', r == '.', r == '-':
			return r
		}
		return -1
	}, strings.ToLower(s))
}

// nextDays is the days of a task in the year after the edition: those of a window that is
// still open on the day of the edition lie in its own year, so that both ends of it stand
// side by side, others are the next to come.
func (b *builder) nextDays(t plan.Task) (from, to quantity.Day) {
	h, stamp := b.Region.Hemisphere, b.Tables.Guide.EditionDate
	last := max(t.To, t.From)
	if t.Until > 0 {
		last = max(last, t.Until)
	}
	year, _ := h.SeasonOf(stamp)
	for year -= 3; h.DayAt(year, last) < stamp; year++ {
	}
	return h.DayAt(year, t.From), h.DayAt(year, max(t.To, t.From))
}

// removed is what the sheets of the edition before had of this band and this one has not:
// cancelled for one edition, on the days it had. has is the events of now, by appendEventID.
func (b *builder) removed(m *bandPage, host string, has map[string]int) []Event {
	if b.Previous == nil {
		return nil
	}
	var out []Event
	var id []byte
	h := b.Region.Hemisphere
	rows := b.Previous.RowsOf(m.row().ID, "")
	for i := range rows {
		r := &rows[i]
		if r.Percent != percent(quantity.Careful) || r.Sheet == "" || slices.Contains(m.work.awayIDs, r.Crop) {
			continue
		}
		for _, end := range []struct {
			what  string
			bound catalog.EditionBound
		}{{r.Action, r.From}, {r.Action + lastEnd, r.To}} {
			if end.bound.State != catalog.EditionDated {
				continue
			}
			id = appendEventID(id[:0], r.Band, r.Crop, end.what, r.Layers)
			if has[string(id)] > 0 || !b.wasEvent(r, end.what == r.Action) {
				continue
			}
			from, _ := b.nextDays(plan.Task{From: h.SlotOf(end.bound.Date)})
			out = append(out, Event{UID: string(id) + "@" + host, From: from, To: from, Kind: b.t("action." + r.Action), Cancelled: true,
				Summary: b.t("ics.summary", "kind", b.t("action."+r.Action), "what", b.keptName(r)), About: b.t("ics.removed")})
		}
	}
	return out
}

// eventsInOrder is events in the order of their UIDs, which no date changes. An event is long: its
// place is moved about in its stead.
func eventsInOrder(events []Event) []Event {
	type place struct {
		uid string
		at  int
	}
	order := make([]place, len(events))
	for i := range events {
		order[i] = place{events[i].UID, i}
	}
	slices.SortFunc(order, func(a, c place) int { return cmp.Or(strings.Compare(a.uid, c.uid), a.at-c.at) })
	out := make([]Event, len(events))
	for i, p := range order {
		out[i] = events[p.at]
	}
	return out
}

// wasEvent says whether an end of a window that the edition before printed was an event of
// its own then, as plan.Tasks makes them.
func (b *builder) wasEvent(r *catalog.EditionRow, first bool) bool {
	switch plan.Action(r.Action) {
	case plan.LastSafeDay:
		return false
	case plan.Harvest:
		covered := slices.ContainsFunc(b.Previous.RowsOf(r.Band, r.Crop), func(o catalog.EditionRow) bool { return o.Layers != "" })
		return (first || r.From != r.To) && (r.Layers != "" || !covered)
	}
	if !first && r.From == r.To {
		return false
	}
	open := r.EditionKey
	open.Layers = ""
	o, there := b.Previous.Find(open)
	end, under := o.From, r.From
	if !first {
		end, under = o.To, r.To
	}
	return r.Layers == "" || !there || end.State != under.State || end.Date != under.Date
}
