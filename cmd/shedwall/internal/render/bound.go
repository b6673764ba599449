package render

import (
	"strings"
	"unicode"
	"unicode/utf8"
)

// noBreak is the space at which no line ends.
const noBreak = "\u00a0"

// boundWord stands between the parts of a date ("4 de mayo") and is bound to both.
const boundWord = "de"

// bound keeps a figure with the word behind it on one line: "4 May", "160 days",
// "2 °C", "4 de mayo". Markdown and every other format keep plain spaces.
func (v *viewer) bound(s string) string {
	if v.markdown {
		return s
	}
	return bindFigures(&v.store.words, s)
}

// bindFigures puts a space that does not break between a digit and a letter or degree
// sign behind it, and after a linking word there. Other text stays as it is.
func bindFigures(to *wordStore, s string) string {
	out := &to.b
	begin, done := 0, 0 // s[:done] stands in the store from begin
	for i := 1; i+1 < len(s); i++ {
		if s[i] != ' ' || s[i-1] < '0' || s[i-1] > '9' {
			continue
		}
		if r, _ := utf8.DecodeRuneInString(s[i+1:]); !unicode.IsLetter(r) && r != '°' {
			continue
		}
		if done == 0 {
			begin = to.begin(2 * len(s)) // a space becomes two bytes
		}
		out.WriteString(s[done:i])
		out.WriteString(noBreak)
		done = i + 1
		if strings.HasPrefix(s[done:], boundWord+" ") {
			out.WriteString(boundWord + noBreak)
			done += len(boundWord) + 1
			i = done - 1
		}
	}
	if done == 0 {
		return s
	}
	out.WriteString(s[done:])
	return to.since(begin)
}
