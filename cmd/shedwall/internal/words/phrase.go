package words

import "strings"

// phrase is a text with names in braces for what is put in. A guide says the same few
// hundred phrases a hundred thousand times, so that where the braces are is looked up once.
type phrase struct {
	text  string
	slots []slot // in order
}

// slot is a name in braces, with no brace inside: text[open] is the first, text[shut] the last.
type slot struct{ open, shut int }

func phraseOf(text string) phrase {
	p := phrase{text: text}
	open := -1
	for i := range len(text) {
		switch {
		case text[i] == '{':
			open = i
		case text[i] == '}' && open >= 0:
			p.slots = append(p.slots, slot{open, i})
			open = -1
		}
	}
	return p
}

// filled is the phrase with values put in; pairs are names and values. Braces inside a value
// stay as they are; so do those around a name that no value has.
func (p *phrase) filled(pairs []string) string {
	if len(pairs) == 0 || len(p.slots) == 0 {
		return p.text
	}
	long := len(p.text)
	for i := 1; i < len(pairs); i += 2 {
		long += len(pairs[i])
	}
	var out strings.Builder
	out.Grow(long)
	at := 0
	for _, s := range p.slots {
		name := p.text[s.open+1 : s.shut]
		for i := 0; i+1 < len(pairs); i += 2 {
			if pairs[i] == name {
				out.WriteString(p.text[at:s.open])
				out.WriteString(pairs[i+1])
				at = s.shut + 1
				break
			}
		}
	}
	out.WriteString(p.text[at:])
	return out.String()
}
