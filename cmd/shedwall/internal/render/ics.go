package render

import (
	"bytes"
	"fmt"
	"slices"
	"strconv"
	"strings"
	"unicode/utf8"

	"shedwall/cmd/shedwall/internal/page"
	"shedwall/cmd/shedwall/internal/quantity"
)

// ICS is a calendar as a file, to be kept.
func ICS(c *page.Calendar) (file []byte) {
	_ = WithICS(c, func(ics []byte) error { file = bytes.Clone(ics); return nil })
	return file
}

// WithICS writes a calendar as iCalendar (RFC 5545) and hands it to use, which may keep
// nothing of it: whole days, of which the end is the day after the last (3.6.1), busy time
// left free, lines of at most 75 octets, which end in CR LF (3.1). Of the texts nothing but
// letters, signs and escaped line breaks gets through, so that no cell of a table can write
// a line of its own. The error is that of use.
func WithICS(c *page.Calendar, use func(ics []byte) error) error {
	size := 1 << 10
	for i := range c.Events {
		e := &c.Events[i]
		size += icsFrame + (len(e.UID)+len(e.Summary)+len(e.About)+len(e.Kind))*9/8 // a part more for escapes and folds
	}
	return withFile(func(b []byte) ([]byte, error) {
		w := icsWriter{out: slices.Grow(b, size)}
		w.calendar(c)
		return w.out, nil
	}, "", use)
}

// calendar writes a calendar.
func (w *icsWriter) calendar(c *page.Calendar) {
	stamp := string(appendICSDay(nil, c.Stamp)) + "T000000Z"
	w.ready("BEGIN:VCALENDAR")
	w.ready("VERSION:2.0")
	w.line("PRODID:-//shedwall//growing guide//", strings.ToUpper(c.Lang))
	w.ready("CALSCALE:GREGORIAN")
	w.ready("METHOD:PUBLISH")
	w.line("X-WR-CALNAME:", c.Name)
	w.line("X-WR-CALDESC:", c.About)
	stamps := "DTSTAMP:" + stamp + "\r\nLAST-MODIFIED:" + stamp + "\r\nSEQUENCE:" + strconv.Itoa(c.Sequence)
	for i := range c.Events {
		e := &c.Events[i]
		w.ready("BEGIN:VEVENT")
		w.line("UID:", e.UID)
		w.ready(stamps)
		w.day("DTSTART;VALUE=DATE:", e.From)
		w.day("DTEND;VALUE=DATE:", e.To+1)
		w.line("SUMMARY:", e.Summary)
		w.line("DESCRIPTION:", e.About)
		w.line("CATEGORIES:", e.Kind)
		if e.Cancelled {
			w.ready("STATUS:CANCELLED")
		} else {
			w.ready("STATUS:CONFIRMED")
		}
		w.ready("TRANSP:TRANSPARENT")
		w.ready("END:VEVENT")
	}
	w.ready("END:VCALENDAR")
}

// icsFrame is about how many octets an event takes beside its texts.
const icsFrame = 300

// appendICSDay appends a day as YYYYMMDD.
func appendICSDay(b []byte, d quantity.Day) []byte {
	y, m, day := d.Date()
	if y < 0 || y > 9999 {
		return fmt.Appendf(b, "%04d%02d%02d", y, m, day)
	}
	for _, two := range [...]int{y / 100, y % 100, m, day} {
		b = append(b, byte('0'+two/10), byte('0'+two%10))
	}
	return b
}

// icsSigns are the octets that appendICSText looks at: those of signs that are escaped, of
// control characters and the first of the letters beyond ASCII that break lines.
var icsSigns = func() (signs [256]bool) {
	for c := range signs {
		signs[c] = c < ' ' || strings.IndexByte("\x7f\\;,\xc2\xe2", byte(c)) >= 0
	}
	return signs
}()

// appendICSText appends a text with its escapes (3.3.11). Control characters go; a line
// break of any kind becomes an escaped one.
func appendICSText(b []byte, s string) []byte {
	if !utf8.ValidString(s) {
		s = strings.ToValidUTF8(s, "\uFFFD")
	}
	done := 0 // s[:done] is written
	for i := 0; i < len(s); i++ {
		if !icsSigns[s[i]] {
			continue
		}
		r, size := utf8.DecodeRuneInString(s[i:])
		if r == '\r' && strings.HasPrefix(s[i+1:], "\n") {
			size = 2
		}
		var is string
		switch r {
		case '\n', '\r', '\u0085', '\u2028', '\u2029':
			is = `\n`
		case '\\':
			is = `\\`
		case ';':
			is = `\;`
		case ',':
			is = `\,`
		case '\t':
			is = " "
		default:
			if r >= utf8.RuneSelf {
				i += size - 1
				continue // a letter as any other
			}
		}
		b = append(append(b, s[done:i]...), is...)
		done = i + size
		i = done - 1
	}
	return append(b, s[done:]...)
}

// icsWriter folds content lines.
type icsWriter struct {
	out []byte
	one []byte // the line at work
}

// icsWidth is the most octets of a line without its CR LF.
const icsWidth = 75

// ready writes lines that are short enough.
func (w *icsWriter) ready(s string) { w.out = append(append(w.out, s...), "\r\n"...) }

// day writes a property that is a day.
func (w *icsWriter) day(name string, d quantity.Day) {
	w.out = append(appendICSDay(append(w.out, name...), d), "\r\n"...)
}

// line writes a property: its name and what stands before the text, then the text. Lines
// that are too long go on in the next after a blank, never within a letter nor within an
// escape.
func (w *icsWriter) line(name, text string) {
	w.one = appendICSText(append(w.one[:0], name...), text)
	s, room := w.one, icsWidth
	for len(s) > room {
		n := room
		for n > 0 && !utf8.RuneStart(s[n]) {
			n--
		}
		if backslashes(s[:n])%2 == 1 {
			n--
		}
		w.out = append(append(w.out, s[:n]...), "\r\n "...)
		s, room = s[n:], icsWidth-1
	}
	w.out = append(append(w.out, s...), "\r\n"...)
}

// backslashes is how many stand at the end of s: after an odd number the next letter
// belongs to them.
func backslashes(s []byte) int { return len(s) - len(bytes.TrimRight(s, `\`)) }
