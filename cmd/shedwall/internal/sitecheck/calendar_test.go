package sitecheck

import (
	"bytes"
	"encoding/csv"
	"encoding/json"
	"fmt"
	"os/exec"
	"path"
	"path/filepath"
	"regexp"
	"slices"
	"strings"
	"testing"
	"time"

	ics "github.com/arran4/golang-ical"
	"golang.org/x/net/html"

	"shedwall/cmd/shedwall/internal/proof"
)

// calendars are the calendar files of the demo guide in its own language.
func calendars(t *testing.T, s *site) []string {
	t.Helper()
	var out []string
	for _, name := range sorted(s.files) {
		if ok, _ := path.Match("bands/*/calendar.ics", name); ok {
			out = append(out, name)
		}
	}
	if len(out) == 0 {
		t.Fatal("no calendar")
	}
	return out
}

// TestDemoCalendars reads every calendar with ical.js: whole days, the end after the
// start, an identity once, the sequence of the edition, no day blocked.
func TestDemoCalendars(t *testing.T) {
	proof.Need(t, "ics")
	dir := demoSite(t)
	s := readSite(t, dir)
	args := []string{"calendar.mjs"}
	for _, name := range calendars(t, s) {
		args = append(args, filepath.Join(dir, filepath.FromSlash(name)))
	}
	var read []struct {
		File, Version string
		Events        []struct {
			UID, Start, End, Summary, Status, Stamp, Busy string
			Days                                          bool
			Sequence                                      int
		}
	}
	if err := json.Unmarshal(kit(t, nil, "node", args...), &read); err != nil {
		t.Fatal(err)
	}
	if len(read) != len(args)-1 {
		t.Fatalf("%d of %d calendars were read", len(read), len(args)-1)
	}
	seen, all := map[string]string{}, 0
	for _, c := range read {
		name := within(dir, c.File)
		if c.Version != "2.0" || len(c.Events) == 0 {
			t.Errorf("%s: version %q, %d events", name, c.Version, len(c.Events))
		}
		all += len(c.Events)
		for _, e := range c.Events {
			if other := seen[e.UID]; other != "" {
				t.Errorf("%s: %s stands in %s too", name, e.UID, other)
			}
			seen[e.UID] = name
			if !e.Days || e.End <= e.Start || e.Summary == "" || e.Sequence < 1 || e.Busy != "TRANSPARENT" || !strings.HasSuffix(e.Stamp, "T00:00:00Z") {
				t.Errorf("%s: %+v", name, e)
			}
		}
	}
	t.Logf("%d events in %d calendars", all, len(read))
}

// listed is a line of a task list: "Sow outside", "14 April", "Kale, until 2 June".
type listed struct{ kind, day, what string }

// listedOn is the lines of a tasks page, and its words as they stand.
func listedOn(t *testing.T, p *sitePage) (lines []listed, texts []string) {
	t.Helper()
	for _, dl := range p.elements("dl") {
		if class, _ := attr(dl, "class"); class != "ticks" {
			continue
		}
		kind := ""
		for n := range dl.Descendants() {
			switch {
			case n.Type == html.ElementNode && n.Data == "dt":
				kind = wordsOf(n)
			case n.Type == html.ElementNode && n.Data == "dd":
				text := wordsOf(n)
				texts = append(texts, text)
				day, what, ok := strings.Cut(text, ": ")
				if !ok {
					t.Errorf("%s: the line %q has no day", p.path, text)
				}
				lines = append(lines, listed{kind, day, what})
			}
		}
	}
	return lines, texts
}

// untilOf parts "Kale, until 2 June".
func untilOf(what string) (text, until string) {
	if i := strings.LastIndex(what, ", until "); i >= 0 {
		return what[:i], what[i+len(", until "):]
	}
	return what, ""
}

// mdBackslash is an escape in Markdown.
var mdBackslash = regexp.MustCompile(`\\([[:punct:]])`)

// TestDatesAgree holds that every date of a band is the same wherever it stands: the
// events of its calendar against calendar.csv, the tasks page, its Markdown twin and, with
// the tools there, the words of its PDF.
func TestDatesAgree(t *testing.T) {
	dir := demoSite(t)
	s := readSite(t, dir)
	for _, name := range calendars(t, s) {
		folder := path.Dir(name)
		t.Run(path.Base(folder), func(t *testing.T) {
			cal, err := ics.ParseCalendar(bytes.NewReader(s.files[name]))
			if err != nil {
				t.Fatal(err)
			}
			windows := csvWindows(t, s.files[folder+"/calendar.csv"])
			lines, texts := listedOn(t, s.page(folder+"/tasks.html"))
			onPage := map[listed]int{}
			for _, l := range lines {
				l.what, _ = untilOf(l.what)
				onPage[l]++
			}
			paper := ""
			if _, err := exec.LookPath("pdftotext"); err == nil {
				out, err := exec.Command("pdftotext", "-enc", "UTF-8", filepath.Join(dir, filepath.FromSlash(folder), "tasks-letter.pdf"), "-").Output()
				if err != nil {
					t.Fatal(err)
				}
				paper = strings.Join(strings.Fields(string(out)), " ")
			}
			compared, crops := 0, 0
			for _, e := range cal.Events() {
				if status := e.GetProperty(ics.ComponentPropertyStatus); status != nil && status.Value == string(ics.ObjectStatusCancelled) {
					continue // of the edition before: no page of this one has it
				}
				from, err := e.GetAllDayStartAt()
				if err != nil {
					t.Fatal(err)
				}
				to, err := e.GetAllDayEndAt()
				if err != nil {
					t.Fatal(err)
				}
				to = to.AddDate(0, 0, -1) // the end is the day after the last
				id := strings.Split(strings.SplitN(e.Id(), "@", 2)[0], ".")
				summary := e.GetProperty(ics.ComponentPropertySummary).Value
				kind, what, _ := strings.Cut(summary, ": ")
				if len(id) < 5 || id[1] == "band" || strings.HasPrefix(id[2], "cover-") || strings.HasPrefix(id[2], "warm-") || id[2] == "insects" {
					continue // covers of several crops share a line
				}
				crops++
				if from.Format("01-02") == "03-01" && from.Equal(to) && onPage[listed{kind, "29 February", what}] > 0 {
					continue // a leap day on the page, in a year that has none
				}
				day := longDay(from)
				if !from.Equal(to) {
					day = longRange(from, to)
				}
				if onPage[listed{kind, day, what}] == 0 {
					t.Errorf("%s: no line %q %q %q on the tasks page", e.Id(), kind, day, what)
				}
				if crop, covers, under := strings.Cut(what, ", under "); paper != "" && from.Equal(to) {
					short := from.Format("2 Jan") + " " + what
					if under {
						short = from.Format("2 Jan") + " " + crop + ", under "
						_ = covers
					} else if crop, _, forCovers := strings.Cut(what, ", for under "); forCovers {
						short = from.Format("2 Jan") + " " + crop + ", for under "
					}
					if !strings.Contains(strings.ReplaceAll(paper, "\u00a0", " "), strings.TrimSpace(short)) {
						t.Errorf("%s: the PDF does not say %q", e.Id(), short)
					}
				}
				action, last := strings.CutSuffix(id[2], "-last")
				w, ok := windows[strings.Join([]string{id[1], action, id[3], id[4]}, ".")]
				if action == "harden" {
					continue
				}
				if !ok {
					t.Errorf("%s: calendar.csv has no such window", e.Id())
					continue
				}
				want := w.from
				if last {
					want = w.to
				}
				if got := from.Format("01-02"); got != want && !w.gap(got) {
					t.Errorf("%s: %s, and %s in calendar.csv", e.Id(), got, want)
				}
				compared++
			}
			if compared < 50 || crops < compared {
				t.Errorf("only %d dates compared", compared)
			}
			twin := string(s.files[folder+"/tasks.md"])
			var ticks []string
			for line := range strings.Lines(twin) {
				if text, ok := strings.CutPrefix(line, "- [ ] "); ok {
					ticks = append(ticks, strings.Join(strings.Fields(mdBackslash.ReplaceAllString(text, "$1")), " "))
				}
			}
			if len(ticks) != len(texts) {
				t.Fatalf("%d lines in Markdown, %d on the page", len(ticks), len(texts))
			}
			for i := range ticks {
				if ticks[i] != texts[i] {
					t.Errorf("Markdown says %q, the page %q", ticks[i], texts[i])
				}
			}
			t.Logf("%d dates of %d crop events, %d lines", compared, crops, len(texts))
		})
	}
}

func longDay(d time.Time) string { return d.Format("2 January") }

// longRange is days as pages write them: "3–9 May", "28 April to 4 May".
func longRange(from, to time.Time) string {
	if from.Month() == to.Month() {
		return fmt.Sprintf("%d\u2013%s", from.Day(), longDay(to))
	}
	return longDay(from) + " to " + longDay(to)
}

// window is a row of calendar.csv: both ends as MM-DD, and the days between which
// nothing is done, where there are such.
type window struct{ from, to, gapFrom, gapTo string }

// gap says whether a date is the last day before a gap or the first after it.
func (w window) gap(day string) bool {
	beside := func(s string, by int) string {
		d, err := time.Parse("2006-01-02", "2024-"+s)
		if err != nil {
			return ""
		}
		return d.AddDate(0, 0, by).Format("01-02")
	}
	return w.gapFrom != "" && (day == beside(w.gapFrom, -1) || day == beside(w.gapTo, 1))
}

// csvWindows is the windows of calendar.csv by crop.action.odds.covers.
func csvWindows(t *testing.T, content []byte) map[string]window {
	t.Helper()
	rows, err := csv.NewReader(bytes.NewReader(content)).ReadAll()
	if err != nil {
		t.Fatal(err)
	}
	col := func(name string) int { return slices.Index(rows[0], name) }
	at := func(row []string, name string) string {
		if i := col(name); i >= 0 {
			return row[i]
		}
		return ""
	}
	out := map[string]window{}
	for _, row := range rows[1:] {
		covers := at(row, "covers")
		if covers == "" {
			covers = "open"
		}
		key := strings.Join([]string{at(row, "crop"), at(row, "action"), at(row, "odds_percent"), covers}, ".")
		if _, twice := out[key]; twice {
			t.Errorf("calendar.csv has %s twice", key)
		}
		out[key] = window{at(row, "from"), at(row, "to"), at(row, "gap_from"), at(row, "gap_to")}
	}
	return out
}

// TestTableCellsAreText: what spreadsheets would run as a formula does not reach them, and
// lines end as RFC 4180 has it.
func TestTableCellsAreText(t *testing.T) {
	s := readSite(t, demoSite(t))
	n := 0
	for _, name := range sorted(s.files) {
		if ok, _ := path.Match("bands/*/calendar.csv", name); !ok {
			continue
		}
		n++
		content := s.files[name]
		if bytes.Count(content, []byte("\n")) != bytes.Count(content, []byte("\r\n")) || !bytes.HasSuffix(content, []byte("\r\n")) {
			t.Errorf("%s: lines do not end in CR LF", name)
		}
		rows, err := csv.NewReader(bytes.NewReader(content)).ReadAll()
		if err != nil {
			t.Fatal(err)
		}
		for _, row := range rows {
			for _, cell := range row {
				if cell != "" && strings.ContainsRune("=+@\t\r", rune(cell[0])) {
					t.Errorf("%s: the cell %q", name, cell)
				}
			}
		}
	}
	if n == 0 {
		t.Error("no calendar.csv")
	}
}

// TestDemoLists looks at the papers of several pages: sound, tagged, with title, language
// and fonts.
func TestDemoLists(t *testing.T) {
	proof.Need(t, "pdf")
	dir := demoSite(t)
	s := readSite(t, dir)
	n := 0
	for _, name := range sorted(s.files) {
		base := path.Base(name)
		if path.Ext(name) != ".pdf" || !strings.HasPrefix(base, "tasks-") && !strings.HasPrefix(base, "slips-") && !strings.HasPrefix(base, "fall-") {
			continue
		}
		n++
		stem := strings.TrimSuffix(strings.TrimSuffix(name, "-a4.pdf"), "-letter.pdf")
		p := s.page(stem + ".html")
		if p == nil {
			t.Errorf("%s: no page beside it", name)
			continue
		}
		lang, _ := attr(p.elements("html")[0], "lang")
		for _, w := range pdfFaults(t, filepath.Join(dir, filepath.FromSlash(name)), lang) {
			if !strings.HasSuffix(w, " pages") {
				t.Errorf("%s/%s", path.Dir(name), w)
			}
		}
	}
	if n == 0 {
		t.Error("no list on paper")
	}
}
