package words

import "strings"

// phrase is a text with names in braces for what is put in. A guide says the same few
// hundred phrases a hundred thousand times, so that where the braces are is looked up once.
type phrase struct {
	text  string
	slots []slot // in order; none where a brace is not one of a pair
}

// slot is a name in braces: text[open] is the first, text[shut] the last.
type slot struct{ open, shut int }

func phraseOf(text string) phrase {
	p := phrase{text: text}
	for at := 0; ; {
		open := strings.IndexByte(text[at:], '{')
		if open < 0 {
			return p
		}
		open += at
		length := strings.IndexAny(text[open+1:], "{}")
		if length < 0 || text[open+1+length] == '{' {
			return phrase{text: text}
		}
		at = open + 1 + length + 1
		p.slots = append(p.slots, slot{open, at - 1})
	}
}

// filled is the phrase with values put in; pairs are names and values.
func (p *phrase) filled(pairs []string) string {
	if len(pairs) == 0 {
		return p.text
	}
	var room [6]string
	if len(p.slots) == 0 || len(p.slots) > len(room) {
		return fill(p.text, pairs)
	}
	values, long := room[:len(p.slots)], len(p.text)
	for k, s := range p.slots {
		name, i := p.text[s.open+1:s.shut], 0
		for i+1 < len(pairs) && pairs[i] != name {
			i += 2
		}
		if i+1 >= len(pairs) {
			return fill(p.text, pairs)
		}
		values[k] = pairs[i+1]
		long += len(values[k]) - (s.shut + 1 - s.open)
	}
	var out strings.Builder
	out.Grow(long)
	at := 0
	for k, s := range p.slots {
		out.WriteString(p.text[at:s.open])
		out.WriteString(values[k])
		at = s.shut + 1
	}
	out.WriteString(p.text[at:])
	return out.String()
}

// fill puts values into any text, in one pass, so that braces inside a value stay as they
// are; so do those around a name that no value has.
func fill(text string, pairs []string) string {
	if !strings.Contains(text, "{") {
		return text
	}
	var out strings.Builder
	for {
		open := strings.IndexByte(text, '{')
		if open < 0 {
			break
		}
		value, length := "{", 1
		if shut := strings.IndexByte(text[open:], '}'); shut > 0 {
			name := text[open+1 : open+shut]
			for i := 0; i+1 < len(pairs); i += 2 {
				if pairs[i] == name {
					value, length = pairs[i+1], shut+1
					break
				}
			}
		}
		out.WriteString(text[:open])
		out.WriteString(value)
		text = text[open+length:]
	}
	out.WriteString(text)
	return out.String()
}
