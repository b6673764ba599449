package render

import (
	"bytes"
	"strings"
	"testing"
	"time"

	ics "github.com/arran4/golang-ical"
	"pgregory.net/rapid"

	"shedwall/cmd/shedwall/internal/page"
	"shedwall/cmd/shedwall/internal/quantity"
)

// icsFixture is texts that break calendars: signs that are escaped, letters of several
// octets at the fold, line breaks and control characters from a cell of a table.
func icsFixture() *page.Calendar {
	long := strings.Repeat("ñandú;", 40) + `\` + strings.Repeat("ä", 200)
	return &page.Calendar{
		Path: "bands/a/calendar.ics", Lang: "en", Name: "A, B; C", About: "x\r\nATTENDEE:mailto:evil@example.org", Stamp: quantity.DayOf(2026, 2, 1), Sequence: 3,
		Events: []page.Event{
			{UID: "a.kale.sow-outside.10.tunnel+fabric@example.org", From: quantity.DayOf(2026, 2, 28), To: quantity.DayOf(2026, 2, 28), Summary: long, About: "one\ntwo\rthree\u2028four\x07\x00", Kind: "Sow, outside"},
			{UID: "a.kale.harden.10.open@example.org", From: quantity.DayOf(2027, 12, 28), To: quantity.DayOf(2028, 1, 3), Summary: "BEGIN:VEVENT", Kind: "Harden"},
			{UID: "a.pea.sow-outside.10.open@example.org", From: quantity.DayOf(2026, 4, 20), To: quantity.DayOf(2026, 4, 20), Summary: "Pea", Kind: "Sow", Cancelled: true},
		},
	}
}

func TestICSLines(t *testing.T) {
	out := ICS(icsFixture())
	if !bytes.HasSuffix(out, []byte("END:VCALENDAR\r\n")) {
		t.Error("the file does not end in a line")
	}
	for _, line := range strings.Split(strings.TrimSuffix(string(out), "\r\n"), "\r\n") {
		if len(line) > 75 { // RFC 5545, 3.1
			t.Errorf("a line of %d octets: %s", len(line), line)
		}
		if strings.ContainsAny(line, "\r\n\x00\x07") || strings.ToValidUTF8(line, "") != line {
			t.Errorf("the line %q", line)
		}
		if strings.HasSuffix(line, `\`) && !strings.HasSuffix(line, `\\`) {
			t.Errorf("an escape is parted: %q", line)
		}
		if strings.HasPrefix(line, "ATTENDEE") {
			t.Errorf("a cell wrote a line of its own: %q", line)
		}
	}
	again := ICS(icsFixture())
	if !bytes.Equal(out, again) {
		t.Error("two runs differ")
	}
}

// TestFoldingPartsNothing folds a text at every place: with one octet more before it each
// time, an escape and a letter of three octets come to stand on the fold.
func TestFoldingPartsNothing(t *testing.T) {
	for n := range 90 {
		text := strings.Repeat("x", n) + strings.Repeat(`\;€`, 60)
		w := icsWriter{}
		w.line("SUMMARY:", text)
		out := string(w.out)
		unfolded := strings.ReplaceAll(out, "\r\n ", "")
		if want := "SUMMARY:" + strings.Repeat("x", n) + strings.Repeat(`\\\;€`, 60) + "\r\n"; unfolded != want {
			t.Fatalf("%d: unfolded %q", n, unfolded)
		}
		for _, line := range strings.Split(out, "\r\n") {
			if len(line) > icsWidth || strings.ToValidUTF8(line, "") != line || backslashes([]byte(line))%2 == 1 {
				t.Fatalf("%d: the line %q", n, line)
			}
		}
	}
}

// TestICSText: a text comes out as it does by one rule after the other.
func TestICSText(t *testing.T) {
	breaks := strings.NewReplacer("\r\n", "\n", "\r", "\n", "\u2028", "\n", "\u2029", "\n", "\u0085", "\n")
	escapes := strings.NewReplacer(`\`, `\\`, ";", `\;`, ",", `\,`, "\n", `\n`, "\t", " ")
	piece := rapid.SampledFrom([]string{"kale", "\r", "\n", "\t", "\x00", "\x7f", `\`, ";", ",", "\u2028", "\u2029", "\u202a", "\u2019", "\u0085", "\u00a0", "é", "\xff", "\xe2", "\xc2"})
	rapid.Check(t, func(t *rapid.T) {
		s := strings.Join(rapid.SliceOfN(piece, 0, 8).Draw(t, "pieces"), "")
		want := strings.Map(func(r rune) rune {
			if r < ' ' && r != '\n' && r != '\t' || r == 0x7f {
				return -1
			}
			return r
		}, breaks.Replace(strings.ToValidUTF8(s, "\uFFFD")))
		want = escapes.Replace(want)
		if got := string(appendICSText(nil, s)); got != want {
			t.Errorf("%q is written %q, want %q", s, got, want)
		}
	})
}

// TestICSInASecondParser reads the file with a library of its own.
func TestICSInASecondParser(t *testing.T) {
	want := icsFixture()
	cal, err := ics.ParseCalendar(bytes.NewReader(ICS(want)))
	if err != nil {
		t.Fatal(err)
	}
	events := cal.Events()
	if len(events) != len(want.Events) {
		t.Fatalf("%d events, want %d", len(events), len(want.Events))
	}
	value := func(e *ics.VEvent, p ics.ComponentProperty) string {
		if x := e.GetProperty(p); x != nil {
			return x.Value
		}
		return ""
	}
	days := [][2]string{{"2026-02-28", "2026-03-01"}, {"2027-12-28", "2028-01-04"}, {"2026-04-20", "2026-04-21"}} // the end is the day after, 3.6.1
	status := []string{"CONFIRMED", "CONFIRMED", "CANCELLED"}
	for i, e := range events {
		from, err := e.GetAllDayStartAt()
		if err != nil {
			t.Fatal(err)
		}
		to, err := e.GetAllDayEndAt()
		if err != nil {
			t.Fatal(err)
		}
		if got := [2]string{from.Format(time.DateOnly), to.Format(time.DateOnly)}; got != days[i] {
			t.Errorf("event %d: days %v, want %v", i, got, days[i])
		}
		if value(e, ics.ComponentPropertyUniqueId) != want.Events[i].UID || value(e, ics.ComponentPropertySequence) != "3" ||
			value(e, ics.ComponentPropertyDtstamp) != "20260201T000000Z" || value(e, ics.ComponentPropertyTransp) != "TRANSPARENT" || value(e, ics.ComponentPropertyStatus) != status[i] {
			t.Errorf("event %d: %v", i, e.Properties)
		}
		if got := value(e, ics.ComponentPropertySummary); got != want.Events[i].Summary {
			t.Errorf("event %d: title %q, want %q", i, got, want.Events[i].Summary)
		}
	}
	if got, want := value(events[0], ics.ComponentPropertyDescription), "one\ntwo\nthree\nfour"; got != want {
		t.Errorf("text %q, want %q", got, want)
	}
}
