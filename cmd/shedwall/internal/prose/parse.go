package prose

import (
	"bytes"
	"fmt"
	"strings"

	"github.com/yuin/goldmark/ast"
	"github.com/yuin/goldmark/extension"
	extast "github.com/yuin/goldmark/extension/ast"
	"github.com/yuin/goldmark/parser"
	"github.com/yuin/goldmark/text"
	"github.com/yuin/goldmark/util"

	"shedwall/cmd/shedwall/internal/diag"
)

// markdown is CommonMark with tables. Nothing else is added: ~ between numbers
// stays a sign for "about", and an address in the text stays text.
var markdown = parser.NewParser(
	parser.WithBlockParsers(parser.DefaultBlockParsers()...),
	parser.WithInlineParsers(parser.DefaultInlineParsers()...),
	parser.WithParagraphTransformers(append(parser.DefaultParagraphTransformers(),
		util.Prioritized(extension.NewTableParagraphTransformer(), 200))...),
	parser.WithASTTransformers(util.Prioritized(extension.NewTableASTTransformer(), 0)),
)

// Parse reads one Markdown file. id is its name for links and anchors, file the
// path shown in faults. A document is always returned; what was faulty is left
// out of it.
func Parse(id, file string, src []byte, faults *diag.List) *Doc {
	return parseIn("", id, file, src, faults)
}

// parseIn is Parse for a text in the folder of a language; its id is that of the text it
// translates, so that anchors and links are the same in every language.
func parseIn(lang, id, file string, src []byte, faults *diag.List) *Doc {
	d := &Doc{ID: id, File: file, lang: lang}
	src, ok := cleanSource(file, src, faults)
	if !ok {
		return d
	}
	r := &reader{doc: d, src: src, faults: faults}
	root := markdown.Parse(text.NewReader(src))
	d.Blocks = r.blocks(root)
	r.takeTitle(root)
	return d
}

// reader turns the parser's tree into blocks.
type reader struct {
	doc      *Doc
	src      []byte
	faults   *diag.List
	headings int
	level    int      // of the last heading
	last     []Inline // words of the last heading: a table's caption for want of a better
	told     int      // faults so far
}

// maxFaults is of one text; then one fault says that there are more.
const maxFaults = 200

func (r *reader) at(n ast.Node) diag.Position { return r.atOffset(offsetOf(n)) }

func (r *reader) atOffset(offset int) diag.Position {
	line, col := position(r.src, offset)
	return diag.Position{File: r.doc.File, Line: line, Column: col}
}

// offsetOf is where a node begins; nodes without a place of their own take that
// of their first line or child.
func offsetOf(n ast.Node) int {
	if n.Pos() >= 0 {
		return n.Pos()
	}
	if n.Type() == ast.TypeBlock && n.Lines().Len() > 0 {
		return n.Lines().At(0).Start
	}
	if c := n.FirstChild(); c != nil {
		return offsetOf(c)
	}
	if p := n.Parent(); p != nil && p.Pos() >= 0 {
		return p.Pos()
	}
	return 0
}

func (r *reader) fault(at diag.Position, severity diag.Severity, id, what, expected, cure string) {
	if r.told++; r.told > maxFaults {
		if r.told == maxFaults+1 {
			r.faults.Add(diag.Fault{At: at, ID: "faults-too-many", What: fmt.Sprintf("more than %d things to say about this text", maxFaults),
				Expected: "a text with a few mistakes at most", Cure: "mend the faults above and check again"})
		}
		return
	}
	r.faults.Add(diag.Fault{At: at, ID: id, Severity: severity, What: what, Expected: expected, Cure: cure})
}

// takeTitle removes the first heading from the blocks and makes it the title.
func (r *reader) takeTitle(root ast.Node) {
	missing := func() {
		r.fault(r.atOffset(0), diag.Error, "prose-title", "the text does not begin with a title", "a first line such as # Growing kale here", "put the title on the first line, after one # and a space")
	}
	if len(r.doc.Blocks) == 0 {
		missing()
		return
	}
	h, ok := r.doc.Blocks[0].(Heading)
	if !ok || h.Level != 1 {
		missing()
		return
	}
	r.doc.Title = strings.TrimSpace(Plain(h.Text))
	if r.doc.Title == "" {
		missing()
	}
	r.doc.Blocks = r.doc.Blocks[1:]
}

func (r *reader) blocks(parent ast.Node) []Block {
	var out []Block
	for n := parent.FirstChild(); n != nil; n = n.NextSibling() {
		switch n := n.(type) {
		case *ast.Heading:
			out = append(out, r.heading(n))
		case *ast.Paragraph:
			out = append(out, Para{r.inlines(n)})
		case *ast.TextBlock:
			out = append(out, Para{r.inlines(n)})
		case *ast.List:
			out = append(out, r.list(n))
		case *ast.Blockquote:
			out = append(out, Quote{r.blocks(n)})
		case *ast.FencedCodeBlock, *ast.CodeBlock:
			out = append(out, Code{r.rawLines(n)})
		case *ast.ThematicBreak:
			out = append(out, Rule{})
		case *ast.HTMLBlock:
			r.rawHTML(r.at(n), r.rawLines(n))
		case *extast.Table:
			var caption []Inline
			out, caption = takeCaption(out)
			out = append(out, r.table(n, caption))
		}
	}
	return out
}

func (r *reader) heading(n *ast.Heading) Heading {
	h := Heading{Level: n.Level, Text: r.inlines(n)}
	switch {
	case strings.TrimSpace(Plain(h.Text)) == "":
		r.fault(r.at(n), diag.Error, "prose-heading", "a heading has no words", "words after the # signs", "write the heading or remove the line")
	case n.Level == 1 && r.headings > 0:
		r.fault(r.at(n), diag.Error, "prose-heading", "a second title stands in the text", "one # line, the first", "write ## for headings below the title")
	case n.Level > r.level+1 && r.headings > 0:
		r.fault(r.at(n), diag.Error, "prose-heading", fmt.Sprintf("a heading of level %d follows one of level %d", n.Level, r.level), fmt.Sprintf("level %d at most", r.level+1), "remove a # from the line")
	}
	r.level = n.Level
	if r.headings > 0 || n.Level > 1 {
		h.ID = fmt.Sprintf("text-%s-%d", strings.ReplaceAll(r.doc.ID, "/", "-"), r.headings)
	}
	r.headings++
	r.last = h.Text
	return h
}

func (r *reader) list(n *ast.List) List {
	l := List{Ordered: n.IsOrdered(), Start: n.Start, Tight: n.IsTight}
	if l.Ordered && l.Start >= 1000 {
		r.fault(r.at(n), diag.Warning, "prose-list-number", fmt.Sprintf("the line starting %d. is read as item number %d of a list", l.Start, l.Start), "a sentence that does not begin with a number and a full stop", fmt.Sprintf(`write %d\. if a year is meant`, l.Start))
	}
	for item := n.FirstChild(); item != nil; item = item.NextSibling() {
		l.Items = append(l.Items, r.blocks(item))
	}
	return l
}

func (r *reader) rawLines(n ast.Node) string {
	var b bytes.Buffer
	lines := n.Lines()
	for i := range lines.Len() {
		s := lines.At(i)
		b.Write(s.Value(r.src))
	}
	return b.String()
}

func (r *reader) rawHTML(at diag.Position, html string) {
	html = strings.TrimSpace(html)
	if strings.HasPrefix(html, "<!--") {
		r.fault(at, diag.Warning, "prose-raw-html", "a hidden remark is left out of the page", "", "remove it if the file is given to others")
		return
	}
	r.fault(at, diag.Error, "prose-raw-html", fmt.Sprintf("%s is HTML", quoteShort(html)), "Markdown only", `use Markdown marks, or write \< where a plain < is meant; what else stands in its lines is looked at afterwards`)
}

// quoteShort quotes the first line of s, cut to 40 characters.
func quoteShort(s string) string {
	s, _, _ = strings.Cut(s, "\n")
	if rs := []rune(s); len(rs) > 40 {
		s = string(rs[:40]) + "..."
	}
	return fmt.Sprintf("%q", s)
}
