package intake

import (
	"maps"
	"slices"
	"strings"

	"shedwall/cmd/shedwall/internal/catalog"
	"shedwall/cmd/shedwall/internal/figure"
	"shedwall/cmd/shedwall/internal/table"
)

// textTables gives the first part of a text's key for each table that has built-in
// rows.
var textTables = map[string]string{
	"crops": "crop", "classes": "class", "covers": "cover", "structures": "cover", "layers": "layers", "hazards": "hazard", "pots": "pot",
}

// rememberText notes which texts of a row stand in the publisher's own table: those
// are in the guide's language, the built-in ones in English.
func (l *loader) rememberText(name, id string, row any) {
	kind, ok := textTables[name]
	if !ok {
		return
	}
	table.Each(row, func(c *table.Cell) {
		key := kind + "." + id + "." + c.Heading()
		if c.Owner() == figure.Own && !c.Blank() && catalog.IsTextKey(key) {
			l.ownText[key] = true
		}
	})
}

// inBuiltinTable says whether a text of the guide could stand in a built-in table.
func (l *loader) inBuiltinTable(key string) bool {
	kind, _, _ := strings.Cut(key, ".")
	return slices.Contains([]string{"crop", "class", "cover", "layers", "hazard", "logged", "pot", "source"}, kind)
}

func keysOf(set map[string]bool) []string { return slices.Sorted(maps.Keys(set)) }

// languagesOf reads the languages that a guide is published in: "en es".
func languagesOf(c table.Cell) []string {
	var out []string
	for _, code := range strings.FieldsFunc(strings.ToLower(c.Text()), func(r rune) bool { return r == ' ' || r == ',' || r == ';' }) {
		if !reLanguage.MatchString(code) {
			c.Fault("setting-unreadable", "\""+code+"\" is not a language code", "codes of two letters with spaces between them, such as en es", "write the codes")
			return nil
		}
		if !slices.Contains(out, code) {
			out = append(out, code)
		}
	}
	return out
}

// mainFirst puts the guide's own language before its others.
func mainFirst(own string, all []string) []string {
	if own == "" {
		return nil
	}
	return append([]string{own}, slices.DeleteFunc(slices.Clone(all), func(l string) bool { return l == own })...)
}
