package table

import (
	"cmp"
	"fmt"
	"regexp"
	"slices"
	"strings"
	"unicode"

	"golang.org/x/text/unicode/norm"

	"shedwall/cmd/shedwall/internal/diag"
	"shedwall/cmd/shedwall/internal/figure"
)

// An id becomes a file name of the site, so it holds only what every host and
// every disk takes.
var reID = regexp.MustCompile(`^[a-z0-9][a-z0-9_-]{0,59}$`)

// reserved are names that Windows keeps for devices.
var reserved = regexp.MustCompile(`^(con|prn|aux|nul|com[0-9]|lpt[0-9])$`)

// foldID makes ids that look alike equal: small letters, full-width forms made
// ordinary, no white space around.
func foldID(s string) string { return strings.ToLower(plain(s)) }

// ID reads the cell as an id: small letters, digits, - and _. Other case, spaces
// around and full-width letters are folded and told. known are ids that a
// mistyped one may have meant. A blank or unknown cell gives "" and no fault.
func (c Cell) ID(known []string) string {
	if c.Blank() || c.Unknown() {
		return ""
	}
	id := foldID(c.text)
	if !c.goodID(id, known) {
		return ""
	}
	c.tellFolded(id)
	return id
}

// IDs reads the cell as several ids with sep between them: tunnel+fabric. For a
// space as sep, commas and semicolons separate too.
func (c Cell) IDs(sep string, known []string) []string {
	if c.Blank() || c.Unknown() {
		return nil
	}
	text := foldID(c.text)
	var parts []string
	if sep == " " {
		parts = strings.FieldsFunc(text, func(r rune) bool { return r == ' ' || r == ',' || r == ';' })
	} else {
		parts = strings.Split(text, sep)
	}
	var ids []string
	for _, p := range parts {
		p = strings.TrimSpace(p)
		if !c.goodID(p, known) {
			return nil
		}
		ids = append(ids, p)
	}
	c.tellFolded(strings.Join(ids, sep))
	return ids
}

// KeyID is ID for the cell that identifies its row: there a blank is a fault.
func (c Cell) KeyID(known []string) string {
	if c.Blank() || c.Unknown() {
		c.missingKey()
		return ""
	}
	return c.ID(known)
}

func (c Cell) missingKey() {
	if c.saidMissing() {
		return
	}
	c.Fault("id-missing", "the row has no "+c.Heading(), "an id of small letters, digits, - and _", "write one, or empty the whole row")
}

func (c Cell) goodID(id string, known []string) bool {
	if reserved.MatchString(id) {
		c.Fault("id-unreadable", fmt.Sprintf("%q cannot be a file name on Windows", id), "an id that can be a file name", "choose another id")
		return false
	}
	if reID.MatchString(id) {
		return true
	}
	cure := ""
	if near := diag.Nearest(id, known); near != "" {
		cure = fmt.Sprintf("did you mean %q?", near)
	} else if slug := slugOf(id); reID.MatchString(slug) && !reserved.MatchString(slug) {
		cure = fmt.Sprintf("write %q", slug)
	}
	c.Fault("id-unreadable", fmt.Sprintf("%q is not an id", short(id)), "small letters a-z, digits, - and _, 60 at most", cure)
	return false
}

func (c Cell) tellFolded(id string) {
	if written := clean(c.text); written != id || strings.TrimSpace(c.text) != clean(c.text) {
		c.Note("id-read", fmt.Sprintf("%s read as %s", c.quoted(), id))
	}
}

// slugOf proposes an id for a text: accents off, everything else an underscore.
func slugOf(s string) string {
	var b strings.Builder
	for _, r := range norm.NFD.String(s) {
		switch {
		case r >= 'a' && r <= 'z' || r >= '0' && r <= '9' || r == '-':
			b.WriteRune(r)
		case unicode.Is(unicode.Mn, r):
		default:
			b.WriteByte('_')
		}
	}
	return strings.Trim(b.String(), "_-")
}

// Word reads the cell as one of a few words. A blank or unknown cell gives "";
// any other word is a fault that proposes the nearest.
func (c Cell) Word(words ...string) string { return c.WordMeaning(nil, words...) }

// joined writes a word of several parts as ids have it.
var joined = strings.NewReplacer(" ", "_", "-", "_")

// WordMeaning is Word for a column of which people use other words too: meant leads from
// these, in small letters with _ between words, to the word that is proposed in their
// place. None is taken for it.
func (c Cell) WordMeaning(meant map[string]string, words ...string) string {
	if c.Blank() || c.Unknown() {
		return ""
	}
	w := joined.Replace(foldID(c.text))
	for _, known := range words {
		if strings.ReplaceAll(known, "-", "_") == w {
			return known
		}
	}
	cure := "choose one of them"
	if near := cmp.Or(meant[w], diag.Nearest(w, words)); near != "" {
		cure = fmt.Sprintf("did you mean %q?", near)
	}
	c.Fault("word-unknown", c.quoted()+" is not a word of this column", strings.Join(words, ", "), cure)
	return ""
}

// YesNo reads the cell as yes or no. Anything else is reported and unknown.
func (c Cell) YesNo() figure.Of[bool] {
	f := figure.Of[bool]{Owner: c.Owner(), Cell: c.At(), Source: c.source}
	if c.Blank() {
		return f
	}
	if c.Unknown() {
		f.State = figure.Unknown
		return f
	}
	w := foldID(c.text)
	yes := slices.Contains([]string{"yes", "y", "true"}, w)
	if !yes && !slices.Contains([]string{"no", "n", "false"}, w) {
		c.Fault("word-unknown", c.quoted()+" is neither yes nor no", "yes or no", "write yes or no, or leave the cell empty")
		f.State = figure.Unknown
		return f
	}
	g := figure.Is(yes, f.Cell, f.Source)
	g.Owner = f.Owner
	return g
}
