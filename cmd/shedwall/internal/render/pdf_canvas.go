package render

import (
	"math"
	"slices"
	"sync"
)

// pdfCanvas draws a sheet as a tagged PDF of one page, a longer leaf as one of several.
//
// Structure: Document > H1, P, L > LI, Table > THead, TBody > TR > TH, TD > Figure. What
// carries no meaning of its own (grid, ticks, codes repeated at the right) is an
// artifact.
type pdfCanvas struct {
	paper   Paper
	facts   pdfFacts
	out     []byte    // the page's operators
	rare    [2][]rune // letters that not every cut-down font has
	root    *pdfNode
	nodes   []*[nodesAtOnce]pdfNode
	used    int // of them
	stack   []*pdfNode
	marked  *pdfNode   // whose marked content is open; nil and artifact unset: none
	artful  bool       // an artifact is open
	content []*pdfNode // owner of each piece of marked content, page after page
	done    []pdfPage  // pages before this one
	packed  []byte     // their operators
	pen
}

// pen is what was last set for lines, which each page sets anew.
type pen struct {
	width int
	round bool
	dash  dash
}

// canvases are canvases whose file is written, with their room: a canvas makes an element
// for each cell, and lists of what is in it.
var canvases = sync.Pool{New: func() any { return &pdfCanvas{} }}

// nodesAtOnce is how many elements get their room in one go.
const nodesAtOnce = 128

// pdfFacts are the properties of the document.
type pdfFacts struct {
	title, lang, subject string
	dated                string // YYYY-MM-DD or ""
	outline              []pdfMark
}

// pdfMark is an entry of the outline and the height on the page it leads to, in
// mm from the top. Page counts from 0.
type pdfMark struct {
	title string
	y     float64
	page  int
	deep  bool // stands under the entry before it that is not deep
}

// pdfPage is a page that has been drawn: where its packed operators end among those of all
// pages, and where the owners of its content.
type pdfPage struct{ packed, content int }

// pdfNode is an element of the structure tree.
type pdfNode struct {
	part  part
	kids  []pdfKid
	only  [1]pdfKid // where most have theirs
	ref   int       // number of its object
	first int       // the page on which it begins
}

// pdfKid is an element below another, or a piece of marked content.
type pdfKid struct {
	node     *pdfNode // nil: a piece
	page, id int      // of a piece: the page it is on and its number there
}

func newPDF(p Paper, facts pdfFacts) *pdfCanvas {
	c := canvases.Get().(*pdfCanvas)
	*c = pdfCanvas{paper: p, facts: facts, out: c.out[:0], rare: [2][]rune{c.rare[0][:0], c.rare[1][:0]},
		nodes: c.nodes, stack: c.stack[:0], content: c.content[:0], done: c.done[:0], packed: c.packed[:0]}
	c.root = c.node(part{tag: "Document"})
	c.stack = append(c.stack, c.root)
	return c
}

// node is a new element.
func (c *pdfCanvas) node(p part) *pdfNode {
	at := c.used / nodesAtOnce
	if at == len(c.nodes) {
		c.nodes = append(c.nodes, new([nodesAtOnce]pdfNode))
	}
	n := &c.nodes[at][c.used%nodesAtOnce]
	c.used++
	if n.part, n.kids = p, n.kids[:0]; cap(n.kids) == 0 {
		n.kids = n.only[:0]
	}
	return n
}

// pts turns mm into hundredths of a point: 0.004 mm.
func pts(mm float64) int { return int(math.Round(mm / point * 100)) }

func (c *pdfCanvas) x(mm float64) int { return pts(mm) }
func (c *pdfCanvas) y(mm float64) int { return pts(c.paper.Height - mm) }

// op writes an operator with its numbers, all in hundredths.
func (c *pdfCanvas) op(operator string, numbers ...int) {
	for _, n := range numbers {
		c.out = append(appendHundredths(c.out, n), ' ')
	}
	c.out = append(append(c.out, operator...), '\n')
}

func (c *pdfCanvas) open(p part) {
	top := c.stack[len(c.stack)-1]
	n := c.node(p)
	top.kids = append(top.kids, pdfKid{node: n})
	c.stack = append(c.stack, n)
}

func (c *pdfCanvas) shut() { c.stack = c.stack[:len(c.stack)-1] }

// mark opens the marked content that a following operator belongs to.
func (c *pdfCanvas) mark(decor bool) {
	top := c.stack[len(c.stack)-1]
	if decor && c.artful || !decor && c.marked == top {
		return
	}
	c.unmark()
	if decor {
		c.op("/Artifact BMC")
		c.artful = true
		return
	}
	id := len(c.content) - c.before()
	c.out = append(append(append(c.out, '/'), top.part.tag...), " <</MCID "...)
	c.out = append(appendWhole(c.out, id), ">> BDC\n"...)
	c.content = append(c.content, top)
	top.kids = append(top.kids, pdfKid{page: len(c.done), id: id})
	c.marked = top
}

// before is how many pieces of marked content are on the pages before.
func (c *pdfCanvas) before() int {
	if len(c.done) == 0 {
		return 0
	}
	return c.done[len(c.done)-1].content
}

// turn ends a page and begins the next. Elements that are open go on there.
func (c *pdfCanvas) turn() {
	c.unmark()
	c.packed = pack(quick, c.packed, c.out)
	c.done = append(c.done, pdfPage{len(c.packed), len(c.content)})
	c.out, c.pen = c.out[:0], pen{}
}

func (c *pdfCanvas) unmark() {
	if c.artful || c.marked != nil {
		c.op("EMC")
	}
	c.artful, c.marked = false, nil
}

func (c *pdfCanvas) strokes(s strokes) {
	c.mark(s.decor)
	if w := pts(s.width); w != c.width {
		c.op("w", w)
		c.width = w
	}
	if s.round != c.round {
		if s.round {
			c.op("1 J")
		} else {
			c.op("0 J")
		}
		c.round = s.round
	}
	if s.dash != c.dash {
		c.out = append(c.out, '[')
		if s.dash.on > 0 {
			c.out = append(appendHundredths(c.out, pts(s.dash.on)), ' ')
			c.out = appendHundredths(c.out, pts(s.dash.off))
		}
		c.op("] 0 d")
		c.dash = s.dash
	}
	if s.box { // as one line around it, which takes a quarter of the room
		x0, x1, y0, y1 := c.x(s.segs[2].x1), c.x(s.segs[3].x1), c.y(s.segs[1].y1), c.y(s.segs[0].y1)
		c.op("re", x0, y0, x1-x0, y1-y0)
		c.op("S")
		return
	}
	b := c.out
	for i := range s.segs {
		l := &s.segs[i]
		b = append(appendHundredths(b, c.x(l.x1)), ' ')
		b = append(appendHundredths(b, c.y(l.y1)), " m\n"...)
		b = append(appendHundredths(b, c.x(l.x2)), ' ')
		b = append(appendHundredths(b, c.y(l.y2)), " l\n"...)
	}
	c.out = append(b, "S\n"...)
}

func (c *pdfCanvas) fill(f fill) {
	c.mark(f.decor)
	c.op("re", c.x(f.box.x0), c.y(f.box.y1), pts(f.box.x1-f.box.x0), pts(f.box.y1-f.box.y0))
	c.op("f")
}

func (c *pdfCanvas) text(t run) {
	if t.s == "" {
		return
	}
	c.mark(t.decor)
	b := append(c.out, [2]string{"BT\n/R ", "BT\n/B "}[t.weight]...)
	b = append(appendHundredths(b, int(math.Round(t.size*100))), " Tf\n"...)
	b = append(appendHundredths(b, c.x(t.x)), ' ')
	c.out = append(appendHundredths(b, c.y(t.y)), " Td\n("...)
	c.encode(t.s, t.weight)
	if t.more {
		c.encode(" ", t.weight) // so that words of two lines stay two words when read aloud
	}
	c.out = append(c.out, ") Tj\nET\n"...)
}

// encode writes a text as the numbers of its glyphs, two bytes each, and notes its rare
// letters. As a string of digits it would be twice as long, and so would packing it.
func (c *pdfCanvas) encode(s string, w weight) {
	glyphs, b := pdfGlyphs()[w], c.out
	for _, r := range s {
		g := &glyphs[0]
		if uint32(r) < lastRune {
			g = &glyphs[r]
		}
		if !g.common {
			c.rare[w] = append(c.rare[w], r)
		}
		b = g.appendTo(b)
	}
	c.out = b
}

func (c *pdfCanvas) finish() ([]byte, error) { return keptPDF(c.with) }

// keptPDF is a file that is handed out by with, to be kept.
func keptPDF(with func(use func(pdf []byte) error) error) (file []byte, err error) {
	err = with(func(pdf []byte) error { file = slices.Clone(pdf); return nil })
	return file, err
}

// with ends the document and hands the file to one that may keep nothing of it. The canvas
// may not be used any more.
func (c *pdfCanvas) with(use func(pdf []byte) error) error {
	c.turn()
	f, fonts, err := newPDFDoc(c.rare)
	if err != nil {
		return err
	}
	pages := f.book()
	refs := make([]int, len(c.done))
	for i := range refs {
		refs[i] = f.book()
	}
	f.object(pages)
	f.small = append(f.small, "<< /Type /Pages /Kids ["...)
	for i, ref := range refs {
		if i > 0 {
			f.small = append(f.small, ' ')
		}
		f.small = appendRef(f.small, ref)
	}
	f.small = append(f.small, "] /Count "...)
	f.small = append(appendWhole(f.small, len(c.done)), " >>\n"...)
	from := 0
	for i, p := range c.done {
		contents := f.book()
		f.stream(contents, " /Filter /FlateDecode", c.packed[from:p.packed], false)
		from = p.packed
		f.object(refs[i])
		f.small = appendRef(append(f.small, "<< /Type /Page /Parent "...), pages)
		f.small = appendHundredths(append(f.small, " /MediaBox [0 0 "...), pts(c.paper.Width))
		f.small = appendHundredths(append(f.small, ' '), pts(c.paper.Height))
		f.small = appendRef(append(f.small, "] /Resources << /Font << /R "...), fonts[regular])
		f.small = appendRef(append(f.small, " /B "...), fonts[bold])
		f.small = appendRef(append(f.small, " >> >> /Contents "...), contents)
		f.small = append(f.small, " /Tabs /S /StructParents "...)
		f.small = append(appendWhole(f.small, i), " >>\n"...)
	}

	tree := c.structure(f, refs)
	metadata := f.book()
	f.stream(metadata, "/Type /Metadata /Subtype /XML", c.facts.metadata(), false)
	outline := 0
	if len(c.facts.outline) > 0 {
		outline = c.outline(f, refs)
	}
	root, info := f.book(), f.book()
	f.object(root)
	f.small = appendRef(append(f.small, "<< /Type /Catalog /Pages "...), pages)
	f.small = appendText(append(f.small, " /Lang "...), c.facts.lang)
	f.small = append(f.small, " /MarkInfo << /Marked true >> /ViewerPreferences << /DisplayDocTitle true >> /StructTreeRoot "...)
	f.small = appendRef(f.small, tree)
	f.small = appendRef(append(f.small, " /Metadata "...), metadata)
	if outline > 0 {
		f.small = appendRef(append(f.small, " /Outlines "...), outline)
	}
	f.small = append(f.small, " >>\n"...)
	f.object(info)
	f.small = c.facts.appendInfo(f.small)
	err = use(f.end(root, info))
	docs.Put(f)
	canvases.Put(c)
	return err
}
