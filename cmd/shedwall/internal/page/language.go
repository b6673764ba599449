package page

import (
	"slices"
	"strconv"
	"strings"

	"shedwall/cmd/shedwall/internal/band"
	"shedwall/cmd/shedwall/internal/catalog"
	"shedwall/cmd/shedwall/internal/plan"
	"shedwall/cmd/shedwall/internal/prose"
)

// Language is one of the languages that a guide is published in. The guide's own lies
// at the top of the site, any other in a folder of its code, with the same file names.
type Language struct {
	Code   string // "es"
	Name   string // as its speakers write it: "Español"
	Folder string // "" or "es/"

	// Unreviewed is how many of All phrases no native speaker has looked over.
	Unreviewed, All int
}

// LanguageFolder is where the pages of a language lie in a site whose own is main.
func LanguageFolder(code, main string) string {
	if code == main {
		return ""
	}
	return code + "/"
}

// In is the input as read in another language: the same bands, stations and plans with
// the names that t gives them.
func (in Input) In(t *catalog.Tables) Input {
	out := in
	out.Tables = t
	region := *in.Region
	region.Stations = slices.Clone(in.Region.Stations)
	for i, s := range region.Stations {
		for k := range t.Stations {
			if t.Stations[k].ID == s.Row.ID {
				named := *s
				named.Row = &t.Stations[k]
				region.Stations[i] = &named
			}
		}
	}
	out.Region = &region
	out.Bands = slices.Clone(in.Bands)
	for i := range out.Bands {
		for k := range t.Bands {
			if t.Bands[k].ID == in.Bands[i].Climate.Band.ID {
				out.Bands[i].Climate = climateOf(in.Bands[i].Climate, &t.Bands[k], &region)
			}
		}
	}
	return out
}

// climateOf is a climate with the names of another language.
func climateOf(c *band.Climate, row *catalog.Band, region *band.Region) *band.Climate {
	named := *c
	named.Band, named.Region = row, region
	return &named
}

// named is plans with the crops of the builder's own tables: their names are in the
// builder's language.
func (b *builder) named(plans []plan.CropPlan) []plan.CropPlan {
	out := slices.Clone(plans)
	for i := range out {
		if c := b.cropRow[out[i].Crop.ID]; c != nil {
			out[i].Crop = c
		}
	}
	return out
}

// languageFrame adds to the frame of all pages what tells of the guide's languages.
func (b *builder) languageFrame(s *Site) {
	s.Language = b.Language
	s.Languages = b.Languages
	if b.has("frame.languages") {
		s.LanguageNav = b.t("frame.languages")
	}
	if n := b.Language.Unreviewed; n > 0 {
		s.Foot = append(s.Foot, b.say("frame.unreviewed", "n", b.words.Int(n), "all", b.words.Int(b.Language.All)))
	}
}

func (b *builder) has(key string) bool { return b.words.Has(key) }

// untranslated says in the page's language that a text is shown in another.
func (b *builder) untranslated(d *prose.Doc) []Block {
	if d.Foreign == "" {
		return nil
	}
	name := d.Foreign
	if key := "language." + d.Foreign; b.has(key) {
		name = b.t(key)
	}
	return []Block{para(Inline{Text: b.t("prose.untranslated", "language", name)})}
}

// Twins are the links from a file to the same file in every other language.
func (s *Site) Twins() []Language {
	return slices.DeleteFunc(slices.Clone(s.Languages), func(l Language) bool { return l.Code == s.Lang })
}

// TwinsOf gives each band's sheets a link to the same sheet in the other languages, or
// to the band's page where a language has cut its sheets in another way. parts are of
// one band, a language each.
func TwinsOf(parts []Part, languages []Language) {
	for i := range parts {
		for _, s := range parts[i].Sheets {
			s.Twins = nil
			for k := range parts {
				if k == i {
					continue
				}
				target := HTML(BandPath(bandOfSheet(s.Path))) + "#sheets"
				if slices.ContainsFunc(parts[k].Sheets, func(o *Sheet) bool { return o.Path == s.Path }) {
					target = HTML(s.Path)
				}
				s.Twins = append(s.Twins, SheetTwin{Language: languages[k], Path: target})
			}
		}
	}
}

// SheetTwin is where a sheet stands in another language. Path is from the top of that
// language's pages.
type SheetTwin struct {
	Language Language
	Path     string
}

// bothPath is sheet n (from 1) of a band in two languages, without extension.
func bothPath(band string, n int) string {
	p := "bands/" + band + "/sheet-both"
	if n > 1 {
		p += "-" + strconv.Itoa(n)
	}
	return p
}

// sourceLanguage is the language of a source's name where it is not the page's: the
// program's own table of sources is in English, a publisher's in the guide's language.
func (b *builder) sourceLanguage(s *catalog.Source) string {
	lang := "en"
	if !strings.Contains(s.Cell.File, "builtin") {
		lang = b.mainLanguage()
	}
	if s.Unpublished() || lang == b.words.Language() {
		return ""
	}
	return lang
}

// mainLanguage is the guide's own.
func (b *builder) mainLanguage() string {
	if len(b.Languages) > 0 {
		return b.Languages[0].Code
	}
	return b.words.Language()
}

// publisher is the publisher's name, in the guide's own language unless words.csv
// gives another.
func (b *builder) publisher() Inline {
	out := Inline{Text: b.Tables.Guide.Publisher}
	if main := b.mainLanguage(); main != b.words.Language() {
		out.Lang = main
	}
	return out
}
