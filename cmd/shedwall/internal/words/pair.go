package words

import (
	"strings"
)

// Pair is a book that says every phrase in two languages side by side, for sheets
// that hang where both are read: "sow/sembrar {range}". Where both say the same, it
// is said once. It is meant for short phrases; sentences are better said one after
// the other. Numbers are written as in the first language.
func Pair(a, b *Book) *Book {
	out := &Book{language: a.language, units: a.units, text: map[string]phrase{}, known: a.known, plural: a.plural, missing: map[string]bool{}}
	for key, first := range a.text {
		second, ok := b.text[key]
		if !ok || strings.HasPrefix(key, "number.") {
			second = first
		}
		out.text[key] = phraseOf(Beside(first.text, second.text))
	}
	return out
}

// Beside is two phrases as one. Phrases that put the same values in, in the same
// order, share them: "in {range}" and "adentro {range}" are "in/adentro {range}".
func Beside(a, b string) string {
	if strings.EqualFold(a, b) {
		return a
	}
	x, y := pieces(a), pieces(b)
	if len(x) != len(y) || len(x) == 1 {
		return join(a, b)
	}
	for i := 1; i < len(x); i += 2 {
		if x[i] != y[i] {
			return join(a, b)
		}
	}
	var out strings.Builder
	for i := range x {
		if i%2 == 1 {
			out.WriteString("{" + x[i] + "}")
			continue
		}
		p, q := strings.TrimSpace(x[i]), strings.TrimSpace(y[i])
		switch {
		case strings.EqualFold(p, q) || q == "":
			out.WriteString(x[i])
		case p == "":
			out.WriteString(y[i])
		default:
			before, after, _ := strings.Cut(x[i], p)
			if strings.HasPrefix(p, ", ") && strings.HasPrefix(q, ", ") {
				before, p, q = before+", ", p[2:], q[2:]
			}
			out.WriteString(before + join(p, q) + after)
		}
	}
	return out.String()
}

// join sets single words close together and longer phrases apart. A mark that ends
// both is written once.
func join(a, b string) string {
	end := ""
	for _, mark := range []string{":", "."} {
		if strings.HasSuffix(a, mark) && strings.HasSuffix(b, mark) {
			a, b, end = strings.TrimSuffix(a, mark), strings.TrimSuffix(b, mark), mark
		}
	}
	if strings.Contains(a, " ") || strings.Contains(b, " ") {
		return a + " / " + b + end
	}
	return a + "/" + b + end
}

// pieces cuts a phrase at what is put in: words at even places, names at odd ones.
func pieces(text string) []string {
	var out []string
	for {
		before, after, ok := strings.Cut(text, "{")
		name, rest, closed := strings.Cut(after, "}")
		if !ok || !closed {
			return append(out, text)
		}
		out, text = append(out, before, name), rest
	}
}
