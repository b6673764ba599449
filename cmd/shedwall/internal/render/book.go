package render

import (
	"fmt"
	"slices"
	"strconv"
	"strings"

	"shedwall/cmd/shedwall/internal/page"
)

// A book is the whole guide to be bound: a cover, contents with page numbers, and a
// page's blocks set in columns of type with running feet. Its paper is as wide as A4 and
// as high as Letter, so that it prints whole on both.
var bookPaper = Paper{Name: "book", Title: "book page", Width: A4.Width, Height: Letter.Height}

// Places and sizes of a book's pages, in mm and points. The inner margin is as wide as
// the outer one: sheets may be bound or stapled on either side.
const (
	bookMargin = 19.0
	bookTop    = 18.0
	bookFoot   = 12.7 // below the running foot
	bookText   = 9.5
	bookSmall  = 8.0
	bookTable  = 8.0
)

// bookItem is a piece that is not broken: a paragraph's line, a row of a table, a
// heading. Marks of open and shut elements travel with the items that begin and end them.
type bookItem struct {
	height  float64
	before  float64 // blank above it unless it is the first of its page
	keep    bool    // stays with the next item
	fresh   bool    // begins a page
	heading *bookHeading
	head    func(d *drawing, y float64) // drawn again, as decor, where a table goes on on a new page
	headUp  float64                     // its height
	draw    func(d *drawing, y float64)
}

type bookHeading struct {
	level int
	text  string
}

// bookEntry is a heading with its place.
type bookEntry struct {
	bookHeading
	page int // from 0, of the body
	y    float64
}

// book sets blocks one after the other.
type book struct {
	facts page.BookFacts
	items []bookItem
	err   error
	x, w  float64
}

// BookPDF is the whole guide as one tagged PDF. The same guide gives the same bytes.
func BookPDF(facts page.BookFacts, whole *page.Page) ([]byte, error) {
	b := &book{facts: facts, x: bookMargin, w: bookPaper.Width - 2*bookMargin}
	b.blocks(body(whole), page.Prose{})
	if b.err != nil {
		return nil, fmt.Errorf("the booklet: %w", b.err)
	}
	if facts.Dated != "" && !isoDate.MatchString(facts.Dated) {
		return nil, fmt.Errorf("the booklet is dated %q, not year-month-day", facts.Dated)
	}
	body, entries := b.paginate()
	contents := b.contents(entries)
	front := 1 + len(contents)
	marks := []pdfMark{{title: facts.Title}}
	for _, e := range entries {
		if e.level <= 3 {
			marks = append(marks, pdfMark{title: e.text, page: front + e.page, y: e.y, deep: e.level == 3})
		}
	}
	pdf := newPDF(bookPaper, pdfFacts{title: facts.Title, lang: facts.Lang, subject: facts.Publisher, dated: facts.Dated, outline: marks})
	pages := append([]*drawing{b.cover()}, contents...)
	pages = append(pages, body...)
	for i, d := range pages {
		if i > 0 {
			pdf.turn()
			b.runningFoot(d, i+1)
		}
		d.marksTo(pdf)
	}
	return pdf.finish()
}

// body is a page without its main heading and lead, which stand on the cover, and without what
// stands before its list of contents: that leads from the page to other papers.
func body(p *page.Page) []page.Block {
	out := p.Blocks[1:]
	if lead, ok := out[0].(page.Para); ok && lead.Lead {
		out = out[1:]
	}
	if i := slices.IndexFunc(out, func(x page.Block) bool { _, ok := x.(page.Contents); return ok }); i > 0 {
		out = out[i:]
	}
	return out
}

// fail keeps the first error.
func (b *book) fail(err error) {
	if b.err == nil && err != nil {
		b.err = err
	}
}

// clean is a text in the letters of the type; a sign that is missing is an error.
func (b *book) clean(s string) string {
	out, err := printable(s)
	b.fail(err)
	return out
}

func (b *book) add(it bookItem) { b.items = append(b.items, it) }

const bookBottom = 8.0 // between the text and the running foot

func bookRoom() float64 { return bookPaper.Height - bookTop - bookFoot - bookBottom - 3 }

// paginate places the items on pages.
func (b *book) paginate() (pages []*drawing, entries []bookEntry) {
	room := bookRoom()
	var d *drawing
	y, empty := 0.0, true
	turn := func() {
		d = &drawing{width: bookPaper.Width, height: bookPaper.Height}
		pages = append(pages, d)
		y, empty = bookTop, true
	}
	turn()
	for i := 0; i < len(b.items); {
		// What must stay together is placed together.
		end := i
		for end < len(b.items)-1 && b.items[end].keep {
			end++
		}
		need := 0.0
		for k := i; k <= end; k++ {
			need += b.items[k].height
			if k > i || !empty {
				need += b.items[k].before
			}
		}
		it := b.items[i]
		if !empty && (it.fresh || y+need > bookTop+room) {
			turn()
			if it.head != nil {
				it.head(d, y)
				y += it.headUp
				empty = false
			}
		}
		for k := i; k <= end; k++ {
			it := b.items[k]
			if !empty {
				y += it.before
			}
			if it.heading != nil {
				entries = append(entries, bookEntry{*it.heading, len(pages) - 1, y})
			}
			if it.draw != nil {
				it.draw(d, y)
			}
			y += it.height
			empty = empty && it.height == 0
		}
		i = end + 1
	}
	return pages, entries
}

// runningFoot is the guide, its edition and the number of the page; the short statement
// where there is one. It repeats on every page and is read on none.
func (b *book) runningFoot(d *drawing, number int) {
	y := bookPaper.Height - bookFoot
	d.strokes(strokes{role: roleRule, width: lineThin, decor: true, segs: []seg{{b.x, y - 4.6, b.x + b.w, y - 4.6}}})
	right := b.clean(strings.ReplaceAll(b.facts.Page, "{n}", strconv.Itoa(number)))
	left := b.clean(strings.Join(nonEmpty(b.facts.Title, b.facts.Edition), " · "))
	d.text(run{x: b.x, y: y - 1.2, size: bookSmall, decor: true, s: left})
	d.text(run{x: b.x + b.w - textWidth(right, bold, bookSmall), y: y - 1.2, size: bookSmall, weight: bold, decor: true, s: right})
	if b.facts.StatementShort != "" {
		lines, size, _ := setText(b.clean(b.facts.StatementShort), regular, bookSmall, leastType, b.w, 2)
		for i, l := range lines {
			d.text(run{x: b.x, y: y + 2.4 + float64(i)*2.9, size: size, decor: true, s: l})
		}
	}
}

func nonEmpty(parts ...string) []string {
	var out []string
	for _, p := range parts {
		if p != "" {
			out = append(out, p)
		}
	}
	return out
}

// cover is the first page: title, edition, publisher, how to ask, the statement.
func (b *book) cover() *drawing {
	d := &drawing{width: bookPaper.Width, height: bookPaper.Height}
	d.fill(fill{role: roleRule, decor: true, box: rect{b.x, 34, b.x + b.w, 35.4}})
	for i := range 13 { // the twelve months, as on the pages
		x := b.x + b.w*float64(i)/12
		d.strokes(strokes{role: roleGrid, width: lineThin, decor: true, segs: []seg{{x, 36.4, x, 40}}})
	}
	y := 62.0
	para := func(tag, text string, w weight, size float64, gap float64) {
		if text == "" {
			return
		}
		lines, ok := balanced(b.clean(text), w, size, b.w)
		if !ok {
			b.fail(fmt.Errorf("a word of %q is wider than the cover", text))
		}
		d.in(part{tag: tag}, func() {
			for i, l := range lines {
				y += size * point * 1.2
				d.text(run{x: b.x, y: y, size: size, weight: w, more: i < len(lines)-1, s: l})
			}
		})
		y += gap
	}
	para("H1", b.facts.Title, bold, 34, 8)
	para("P", firstCapital(b.facts.Edition), regular, 15, 2)
	para("P", b.facts.Publisher, regular, 15, 4)
	if s, ok := sketchOf("tunnel", "film"); ok {
		strokesOf(d, s, rect{b.x, y + 14, b.x + 120, y + 14 + 75})
	}
	y = bookPaper.Height - 62
	para("P", b.facts.Until, regular, 10.5, 1.5)
	para("P", b.facts.Contact, regular, 10.5, 1.5)
	para("P", b.facts.Statement, regular, 9, 0)
	return d
}

func firstCapital(s string) string {
	if s == "" {
		return s
	}
	r := []rune(s)
	return strings.ToUpper(string(r[:1])) + string(r[1:])
}

// strokesOf draws a sketch as decoration into a box of its own proportions.
func strokesOf(d *drawing, s *sketch, box rect) {
	scale := (box.x1 - box.x0) / sketchWidth
	for _, l := range s.lines {
		st := strokes{role: roleGrid, width: max(lineThin, l.w*scale), round: true, decor: true}
		if l.dash {
			st.dash = dash{11 * scale, 8 * scale}
		}
		for i := 1; i < len(l.pts); i++ {
			a, c := l.pts[i-1], l.pts[i]
			st.segs = append(st.segs, seg{box.x0 + a.x*scale, box.y0 + a.y*scale, box.x0 + c.x*scale, box.y0 + c.y*scale})
		}
		d.strokes(st)
	}
}

// contents are the pages that list the chapters with their numbers. Their own count is
// known from the number of lines before the numbers are.
func (b *book) contents(entries []bookEntry) []*drawing {
	var lines []bookEntry
	for _, e := range entries {
		if e.level <= 3 {
			lines = append(lines, e)
		}
	}
	const lineHigh, heading = 5.3, 14.0
	perPage := int((bookRoom() - heading) / lineHigh)
	count := max(1, (len(lines)+perPage-1)/perPage)
	var out []*drawing
	for p := range count {
		d := &drawing{width: bookPaper.Width, height: bookPaper.Height}
		y := bookTop + 7
		if p == 0 {
			d.in(part{tag: "H1"}, func() { d.text(run{x: b.x, y: y, size: 20, weight: bold, s: b.clean(b.facts.Contents)}) })
			d.open(part{tag: "TOC"})
		}
		y = bookTop + heading
		for _, e := range lines[min(p*perPage, len(lines)):min((p+1)*perPage, len(lines))] {
			size, w, x := 10.0, bold, b.x
			if e.level > 2 {
				size, w, x = 9.5, regular, b.x+6
			}
			y += lineHigh
			number := strconv.Itoa(1 + count + e.page + 1)
			wide := textWidth(number, regular, size)
			text := shortened(b.clean(e.text), w, size, b.w-(x-b.x)-wide-8)
			d.in(part{tag: "TOCI"}, func() {
				d.text(run{x: x, y: y, size: size, weight: w, more: true, s: text})
				d.text(run{x: b.x + b.w - wide, y: y, size: size, s: number})
			})
			from := x + textWidth(text, w, size) + 2
			d.strokes(strokes{role: roleGrid, width: lineThin, dash: dash{0.3, 1.4}, decor: true, segs: []seg{{from, y, b.x + b.w - wide - 2, y}}})
		}
		if p == count-1 {
			d.shut()
		}
		out = append(out, d)
	}
	return out
}

// shortened cuts a text at a blank so that it fits, with three dots.
func shortened(s string, w weight, size, width float64) string {
	for textWidth(s, w, size) > width {
		cut := strings.LastIndex(strings.TrimSuffix(s, " ..."), " ")
		if cut <= 0 {
			return s
		}
		s = s[:cut] + " ..."
	}
	return s
}
