package render

import (
	"fmt"
	"strings"
	"unicode/utf8"

	"shedwall/cmd/shedwall/internal/page"
	"shedwall/cmd/shedwall/internal/quantity"
)

// ICS writes a calendar as iCalendar (RFC 5545): whole days, of which the end is the day
// after the last (3.6.1), busy time left free, lines of at most 75 octets, which end in
// CR LF (3.1). Of the texts nothing but letters, signs and escaped line breaks gets
// through, so that no cell of a table can write a line of its own.
func ICS(c *page.Calendar) []byte {
	w := icsWriter{}
	stamp := icsDay(c.Stamp) + "T000000Z"
	w.line("BEGIN", "VCALENDAR")
	w.line("VERSION", "2.0")
	w.line("PRODID", "-//shedwall//growing guide//"+icsText(strings.ToUpper(c.Lang)))
	w.line("CALSCALE", "GREGORIAN")
	w.line("METHOD", "PUBLISH")
	w.line("X-WR-CALNAME", icsText(c.Name))
	w.line("X-WR-CALDESC", icsText(c.About))
	for _, e := range c.Events {
		w.line("BEGIN", "VEVENT")
		w.line("UID", icsText(e.UID))
		w.line("DTSTAMP", stamp)
		w.line("LAST-MODIFIED", stamp)
		w.line("SEQUENCE", fmt.Sprint(c.Sequence))
		w.line("DTSTART;VALUE=DATE", icsDay(e.From))
		w.line("DTEND;VALUE=DATE", icsDay(e.To+1))
		w.line("SUMMARY", icsText(e.Summary))
		w.line("DESCRIPTION", icsText(e.About))
		w.line("CATEGORIES", icsText(e.Kind))
		if e.Cancelled {
			w.line("STATUS", "CANCELLED")
		} else {
			w.line("STATUS", "CONFIRMED")
		}
		w.line("TRANSP", "TRANSPARENT")
		w.line("END", "VEVENT")
	}
	w.line("END", "VCALENDAR")
	return []byte(w.out.String())
}

// icsDay is a day as YYYYMMDD.
func icsDay(d quantity.Day) string {
	y, m, day := d.Date()
	return fmt.Sprintf("%04d%02d%02d", y, m, day)
}

// lineBreaks makes one kind of all.
var lineBreaks = strings.NewReplacer("\r\n", "\n", "\r", "\n", "\u2028", "\n", "\u2029", "\n", "\u0085", "\n")

// icsText escapes a text (3.3.11). Control characters go; a line break of any kind becomes
// an escaped one.
func icsText(s string) string {
	s = lineBreaks.Replace(strings.ToValidUTF8(s, "\uFFFD"))
	var b strings.Builder
	b.Grow(len(s) + 8)
	for _, r := range s {
		switch {
		case r == '\n':
			b.WriteString(`\n`)
		case r == '\\' || r == ';' || r == ',':
			b.WriteByte('\\')
			b.WriteRune(r)
		case r == '\t':
			b.WriteByte(' ')
		case r < ' ' || r == 0x7f:
		default:
			b.WriteRune(r)
		}
	}
	return b.String()
}

// icsWriter folds content lines.
type icsWriter struct{ out strings.Builder }

// icsWidth is the most octets of a line without its CR LF.
const icsWidth = 75

// line writes a property whose value is ready. Lines that are too long go on in the next
// after a blank, never within a letter nor within an escape.
func (w *icsWriter) line(name, value string) {
	s, room := name+":"+value, icsWidth
	for len(s) > room {
		n := room
		for n > 0 && !utf8.RuneStart(s[n]) {
			n--
		}
		if backslashes(s[:n])%2 == 1 {
			n--
		}
		w.out.WriteString(s[:n])
		w.out.WriteString("\r\n ")
		s, room = s[n:], icsWidth-1
	}
	w.out.WriteString(s)
	w.out.WriteString("\r\n")
}

// backslashes is how many stand at the end of s: after an odd number the next letter
// belongs to them.
func backslashes(s string) int { return len(s) - len(strings.TrimRight(s, `\`)) }
