package page

import (
	"strconv"
	"strings"
)

// InputFile is a file that the guide was made from, as it lies in the published folder.
type InputFile struct {
	Path   string // in the guide folder: "data/crops.csv"
	Bytes  int
	SHA256 string // of the published copy, hexadecimal
}

// Made says what a guide was made by and from.
type Made struct {
	Version string // of the program
	BuiltIn string // checksum of the tables that come with it, hexadecimal
	Inputs  []InputFile
}

// shortSum is how many digits of a checksum a table shows; checksums.txt has all.
const shortSum = 16

// handover is the page for whoever makes the next edition: what this one was made from, by
// whom, what to do next year, and how to make the same pages again.
func (b *builder) handover() *Page {
	g := b.Tables.Guide
	p := b.newPage(HandoverPath, "", b.t("handover.title"), b.t("handover.description", "guide", g.Title))
	p.add(Para{Lead: true, Text: b.say("handover.lead")})
	made := b.madeFromFiles()
	facts := Facts{Name: b.t("band.facts")}
	fact := func(key, value string, detail string) {
		facts.Items = append(facts.Items, Fact{Name: b.t("handover.fact." + key), Value: plain(value), Detail: plain(detail)})
	}
	fact("edition", strconv.Itoa(g.Edition), b.words.DateFull(g.EditionDate))
	fact("prepared", b.orNot(g.PreparedBy, "handover.nobody"), g.Publisher)
	fact("reviewed", b.orNot(g.ReviewedBy, "handover.not_reviewed"), b.t("handover.reviewed.detail"))
	fact("program", b.t("handover.version", "version", made.Version), b.t("handover.builtin", "sum", cutSum(made.BuiltIn)))
	p.add(facts)
	if d := b.Texts.Doc(HandoverPath); d != nil {
		p.add(b.prose(HandoverPath, 0)...)
	}
	p.add(Contents{Name: b.t("frame.contents"), Items: []Inline{link(b.t("handover.h.next"), "#next"), link(b.t("handover.h.again"), "#again"), link(b.t("handover.h.inputs"), "#inputs")}})
	p.add(b.heading(2, "next", "handover.h.next"), b.steps("next", 8))
	if b.movedKept() {
		p.add(para(link(b.t("handover.moved"), HTML(MovedPath))))
	}
	p.add(b.heading(2, "again", "handover.h.again"), b.steps("again", 4))
	p.add(b.heading(2, "inputs", "handover.h.inputs"), para(Inline{Text: b.t("handover.inputs.intro") + " "}, link(b.t("handover.sums"), b.shared(SumsFile))), b.inputTable(made.Inputs))
	p.add(para(Inline{Text: b.t("handover.private")}))
	return p
}

// madeFromFiles is what the guide was made by and from; nothing where nobody says.
func (b *builder) madeFromFiles() Made {
	if b.Made == nil {
		return Made{}
	}
	return b.Made()
}

// orNot is a text, or the phrase for its absence.
func (b *builder) orNot(text, key string) string {
	if text == "" {
		return b.t(key)
	}
	return text
}

// steps is a numbered list of phrases KEY.1 to KEY.n.
func (b *builder) steps(key string, n int) List {
	l := List{Ordered: true}
	for i := 1; i <= n; i++ {
		l.Items = append(l.Items, b.say("handover."+key+"."+strconv.Itoa(i), "edition", strconv.Itoa(b.Tables.Guide.Edition), "next", strconv.Itoa(b.Tables.Guide.Edition+1)))
	}
	return l
}

func (b *builder) inputTable(files []InputFile) Block {
	if len(files) == 0 {
		return para(Inline{Text: b.t("handover.no_inputs")})
	}
	t := Table{ID: "input-table", Caption: b.t("handover.inputs.caption"), RowHeads: true,
		Head: []string{b.t("handover.head.file"), b.t("handover.head.bytes"), b.t("handover.head.sum")}}
	for _, f := range files {
		t.Rows = append(t.Rows, [][]Inline{{link(f.Path, b.shared(InputFilePath(f.Path)))}, plain(b.words.Int(f.Bytes)), plain(cutSum(f.SHA256))})
	}
	return t
}

// cutSum is the first digits of a checksum.
func cutSum(s string) string { return s[:min(len(s), shortSum)] }

// shared is the way to a file of the site that all languages have in common.
func (b *builder) shared(file string) string {
	return strings.Repeat("../", strings.Count(b.Language.Folder, "/")) + file
}
