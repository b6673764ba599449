package sitecheck

import (
	"bytes"
	"fmt"
	"math"
	"os"
	"os/exec"
	"path/filepath"
	"regexp"
	"slices"
	"strconv"
	"strings"
	"testing"
	"unicode"

	"shedwall/cmd/shedwall/internal/proof"
)

// inkLine is a straight line of a page of a PDF, in points from the lower left corner.
type inkLine struct{ x1, y1, x2, y2 float64 }

func (l inkLine) long() float64 { return math.Hypot(l.x2-l.x1, l.y2-l.y1) }

// inkGroup is lines drawn in one go, all of a width in points.
type inkGroup struct {
	lines  []inkLine
	width  float64
	dashed bool
	decor  bool // grid, ticks and rules: nothing that a reader's software tells
}

// inkPage is all that a page of a PDF draws.
type inkPage struct {
	groups []inkGroup
	fills  []inkLine // black boxes, by their lower left and upper right corners
	sizes  []float64 // of type, in points, as often as it is set
	high   float64   // of the paper, in points
}

var (
	operator  = regexp.MustCompile(`^[A-Za-z]+\*?$`)
	paperHigh = regexp.MustCompile(`(?s)/MediaBox \[\s*0\s+0\s+[\d.]+\s+([\d.]+)\s*\]`)
)

// readInk reads what the first page of a PDF draws. An operator that the program is not
// known to write ends the test: a line drawn by it would go unseen.
func readInk(t *testing.T, file string) inkPage {
	t.Helper()
	plain, err := exec.Command("qpdf", "--qdf", "--object-streams=disable", file, "-").Output()
	if err != nil {
		t.Fatalf("%s: %v", file, err)
	}
	var p inkPage
	high := paperHigh.FindSubmatch(plain)
	_, drawn, found := bytes.Cut(plain, []byte("%% Contents for page 1\n"))
	if high == nil || !found {
		t.Fatalf("%s: no page", file)
	}
	number := func(s string) float64 {
		v, err := strconv.ParseFloat(s, 64)
		if err != nil {
			t.Fatalf("%s: %v", file, err)
		}
		return v
	}
	p.high = number(string(high[1]))
	_, drawn, _ = bytes.Cut(drawn, []byte("stream\n"))
	drawn, _, _ = bytes.Cut(drawn, []byte("endstream"))
	g := inkGroup{width: 1}
	var from [2]float64
	var box *inkLine
	var args []string
	for _, token := range strings.Fields(string(drawn)) {
		if !operator.MatchString(token) {
			args = append(args, token)
			continue
		}
		last := func(i, n int) float64 { return number(args[len(args)-n+i]) }
		switch token {
		case "w":
			g.width = last(0, 1)
		case "d":
			g.dashed = args[0] != "[]" && args[0] != "["
		case "m":
			from = [2]float64{last(0, 2), last(1, 2)}
		case "l":
			g.lines = append(g.lines, inkLine{from[0], from[1], last(0, 2), last(1, 2)})
			from = [2]float64{last(0, 2), last(1, 2)}
		case "S":
			if b := box; b != nil { // its outline: four lines
				g.lines = append(g.lines, inkLine{b.x1, b.y1, b.x2, b.y1}, inkLine{b.x1, b.y2, b.x2, b.y2}, inkLine{b.x1, b.y1, b.x1, b.y2}, inkLine{b.x2, b.y1, b.x2, b.y2})
				box = nil
			}
			p.groups = append(p.groups, g)
			g.lines = nil
		case "re":
			x, y := last(0, 4), last(1, 4)
			box = &inkLine{x, y, x + last(2, 4), y + last(3, 4)}
		case "f":
			p.fills = append(p.fills, *box)
			box = nil
		case "Tf":
			p.sizes = append(p.sizes, last(0, 1))
		case "BMC":
			g.decor = true
		case "EMC":
			g.decor = false
		case "BDC", "BT", "ET", "Td", "Tj", "J":
		default:
			t.Fatalf("%s: draws by %q, which this test does not read", file, token)
		}
		args = args[:0]
	}
	return p
}

// copyDots is how many dots an inch of a cheap printer's copy has; there is no grey.
const copyDots = 200

// twoTone is a page as such a printer copies it.
type twoTone struct {
	wide, high int
	rows       []byte
	paper      float64 // height in points
}

func copied(t *testing.T, file string, high float64) twoTone {
	t.Helper()
	out := filepath.Join(t.TempDir(), "copy")
	if said, err := exec.Command("pdftoppm", "-r", strconv.Itoa(copyDots), "-mono", "-singlefile", file, out).CombinedOutput(); err != nil {
		t.Fatalf("%s: %v %s", file, err, said)
	}
	data, err := os.ReadFile(out + ".pbm")
	if err != nil {
		t.Fatal(err)
	}
	c := twoTone{paper: high}
	if _, err := fmt.Sscanf(string(data[:min(len(data), 40)]), "P4\n%d %d\n", &c.wide, &c.high); err != nil {
		t.Fatal(err)
	}
	c.rows = data[len(data)-(c.wide+7)/8*c.high:]
	return c
}

// dot tells whether the dot at a column and row is black.
func (c twoTone) dot(x, y int) bool {
	if x < 0 || y < 0 || x >= c.wide || y >= c.high {
		return false
	}
	return c.rows[y*((c.wide+7)/8)+x/8]>>(7-x%8)&1 == 1
}

// at tells whether the dot at a place of the paper, in points, is black.
func (c twoTone) at(x, y float64) bool {
	return c.dot(int(x*copyDots/72), int((c.paper-y)*copyDots/72))
}

// share is the share of black of a box, in points.
func (c twoTone) share(b inkLine) float64 {
	black, all := 0, 0
	for y := int((c.paper - b.y2) * copyDots / 72); y < int((c.paper-b.y1)*copyDots/72); y++ {
		for x := int(b.x1 * copyDots / 72); x < int(b.x2*copyDots/72); x++ {
			all++
			if c.dot(x, y) {
				black++
			}
		}
	}
	return float64(black) / float64(max(all, 1))
}

// hatchTone is how a bar looks in a copy: its share of black, and the shares of its
// columns of dots that are black or white from top to bottom.
type hatchTone struct{ share, black, white float64 }

func (c twoTone) tone(b inkLine) hatchTone {
	tone := hatchTone{share: c.share(b)}
	columns := 0.0
	for x := b.x1; x < b.x2; x += 72.0 / copyDots {
		columns++
		switch share := c.share(inkLine{x, b.y1, x + 72.0/copyDots, b.y2}); share {
		case 0:
			tone.white++
		case 1:
			tone.black++
		}
	}
	tone.black, tone.white = tone.black/columns, tone.white/columns
	return tone
}

// hatchOf is the hatch that a group of lines is: dots, upright or slanted lines that stand
// side by side in one bar; "" for anything else. The hatches are known by their form, as
// the key of a sheet shows them.
func hatchOf(g inkGroup) string {
	all := func(is func(l inkLine) bool) bool {
		return !slices.ContainsFunc(g.lines, func(l inkLine) bool { return !is(l) })
	}
	const few = 3 // two lines are the ends of a cover, not a hatch
	switch first := g.lines[0]; {
	case g.decor || len(g.lines) < few:
	case all(func(l inkLine) bool { return l.long() == 0 && l.y1 == first.y1 }) && g.width > 2:
		return "dots"
	case all(func(l inkLine) bool { return l.x1 == l.x2 && l.y1 == first.y1 && l.y2 == first.y2 }):
		return "upright"
	case all(func(l inkLine) bool { return l.x1 != l.x2 && l.y1 != l.y2 }):
		return "slanted"
	}
	return ""
}

// copyFaults is what a copy in two tones loses of a page: lines under 0.25 mm, two dots of
// the copy; type under 7 points; lines and boxes that are not black all along; lines of a
// hatch that run into each other. It gives the tone of the bars of each hatch.
func copyFaults(p inkPage, c twoTone) (wrong []string, tones map[string][]hatchTone) {
	say := func(format string, args ...any) { wrong = append(wrong, fmt.Sprintf(format, args...)) }
	const leastWidth, leastSize = 0.25 / 25.4 * 72, 7.0
	const oneDot = 72.0 / copyDots
	const rounded = 0.005 // of a point: the file gives hundredths
	for _, size := range p.sizes {
		if size < leastSize-rounded {
			say("type of %g points", size)
		}
	}
	tones = map[string][]hatchTone{}
	for _, f := range p.fills {
		// Its edges may fall within a dot.
		tone := c.tone(inkLine{f.x1 + oneDot, f.y1 + oneDot, f.x2 - oneDot, f.y2 - oneDot})
		if tone.share < 1 {
			say("a solid box at %.0f, %.0f is black in %.2f of it", f.x1, f.y1, tone.share)
		}
		tones["solid"] = append(tones["solid"], tone)
	}
	for _, g := range p.groups {
		if g.width < leastWidth-rounded {
			say("lines of %.3f mm at %.0f, %.0f", g.width/72*25.4, g.lines[0].x1, g.lines[0].y1)
		}
		for _, l := range g.lines {
			for _, part := range []float64{0.25, 0.5, 0.75} {
				x, y := l.x1+(l.x2-l.x1)*part, l.y1+(l.y2-l.y1)*part
				if !g.dashed && !c.at(x, y) {
					say("a line of %.2f mm is lost at %.1f, %.1f", g.width/72*25.4, x, y)
				}
			}
		}
		kind := hatchOf(g)
		if kind == "" {
			continue
		}
		const apart = 3.0 / 25.4 * 72 // further: the bar's letter stands between
		box := inkLine{math.Inf(1), math.Inf(1), math.Inf(-1), math.Inf(-1)}
		whole := true
		reach := -oneDot // edges may fall within a dot
		if kind == "dots" {
			reach = g.width/2 + 2*oneDot // the white above and below a dot tells it from a line
		}
		for i, l := range g.lines {
			box.x1, box.x2 = min(box.x1, l.x1, l.x2), max(box.x2, l.x1, l.x2)
			box.y1, box.y2 = min(box.y1, l.y1, l.y2), max(box.y2, l.y1, l.y2)
			if i == 0 {
				continue
			}
			before := g.lines[i-1]
			x, next := (l.x1+l.x2)/2, (before.x1+before.x2)/2
			if x-next > apart {
				whole = false
				continue
			}
			if y := ((l.y1+l.y2)/2 + (before.y1+before.y2)/2) / 2; c.at((x+next)/2, y) {
				say("two lines of a hatch (%s) run into each other at %.1f, %.1f", kind, (x+next)/2, y)
			}
		}
		if whole && box.x2-box.x1 > apart {
			box.y1, box.y2 = box.y1-reach, box.y2+reach
			tones[kind] = append(tones[kind], c.tone(box))
		}
	}
	return wrong, tones
}

// looksLike is the hatch that a tone in a copy is taken for, "" for none: no tone fits two.
// Solid is black throughout. Upright lines of 0.4 mm, 1.15 mm apart, are whole columns,
// black in 0.35. Dots of 0.95 mm, 1.7 mm apart, leave 0.44 of the columns white and none
// black. Slanted lines of 0.3 mm, 1.13 mm apart, and the dots that they touch on both sides
// (0.127 mm across the corner each) are black in 0.27 to 0.43 and meet every column. What
// is granted beyond is for bars so short that one line more or less counts.
func looksLike(tone hatchTone) string {
	within := func(v, least, most float64) bool { return v >= least && v <= most }
	switch {
	case tone.black == 1:
		return "solid"
	case within(tone.share, 0.25, 0.45) && within(tone.black, 0.25, 0.45) && tone.black+tone.white > 0.95:
		return "upright"
	case within(tone.share, 0.25, 0.5) && tone.black == 0 && within(tone.white, 0.2, 0.55):
		return "dots"
	case within(tone.share, 0.25, 0.5) && tone.black <= 0.1 && tone.white <= 0.1:
		return "slanted"
	}
	return ""
}

// palesOrBlots finds words of a PDF of one page that a copy leaves blank or fills: the
// narrowest letters are black in a twentieth of a word's box, which holds the room of the
// tallest too, and a bold H, the fullest, in 0.57 of it. A blot would be black in more.
func palesOrBlots(t *testing.T, file string, c twoTone) (wrong []string, words int) {
	t.Helper()
	out, err := exec.Command("pdftotext", "-bbox", file, "-").Output()
	if err != nil {
		t.Fatalf("%s: %v", file, err)
	}
	for _, m := range wordBox.FindAllStringSubmatch(string(out), -1) {
		var v [4]float64
		for i := range v {
			if v[i], err = strconv.ParseFloat(m[i+1], 64); err != nil {
				t.Fatal(err)
			}
		}
		if !strings.ContainsFunc(m[5], unicode.IsLetter) {
			continue
		}
		words++
		if share := c.share(inkLine{v[0], c.paper - v[3], v[2], c.paper - v[1]}); share < 0.05 || share > 0.65 {
			wrong = append(wrong, fmt.Sprintf("the word %q is black in %.2f of its box", m[5], share))
		}
	}
	return wrong, words
}

// TestCopiesStayReadable: of a wall sheet, a card and a worksheet, copied at 200 dots an
// inch without grey, no line, box or letter is lost, and the hatches stay four.
func TestCopiesStayReadable(t *testing.T) {
	proof.Need(t, "pdf")
	folder := filepath.Join(bookletSite(t), "bands", "vellick_heights")
	for _, name := range []string{"sheet-a4.pdf", "tonight-letter.pdf", "worksheet-a4.pdf"} {
		file := filepath.Join(folder, name)
		p := readInk(t, file)
		c := copied(t, file, p.high)
		wrong, tones := copyFaults(p, c)
		pale, words := palesOrBlots(t, file, c)
		for _, w := range append(wrong, pale...) {
			t.Errorf("%s: %s", name, w)
		}
		for _, kind := range sorted(tones) {
			for _, tone := range tones[kind] {
				if looks := looksLike(tone); looks != kind {
					t.Errorf("%s: a bar of hatch %q looks like %q: %.2f", name, kind, looks, tone)
				}
			}
			t.Logf("%s: %d bars of hatch %q, as %.2f", name, len(tones[kind]), kind, tones[kind][0])
		}
		if isSheet(name) && len(tones) != 4 {
			t.Errorf("%s: bars of hatches %v, want all four", name, sorted(tones))
		}
		if least := 10; len(p.groups) < least || words < 200 {
			t.Errorf("%s: only %d groups of lines and %d words were looked at", name, len(p.groups), words)
		}
		t.Logf("%s: %d groups of lines, %d words", name, len(p.groups), words)
	}
}

// TestCopyFaultsAreSeen draws a page with each fault by hand, and sets a sound page beside
// a copy of an empty one.
func TestCopyFaultsAreSeen(t *testing.T) {
	proof.Need(t, "pdf")
	draw := func(operators string) (inkPage, twoTone) {
		file := filepath.Join(t.TempDir(), "page.pdf")
		writeFile(t, file, handPDF(
			"<< /Type /Catalog /Pages 2 0 R >>",
			"<< /Type /Pages /Kids [3 0 R] /Count 1 >>",
			"<< /Type /Page /Parent 2 0 R /MediaBox [0 0 200 200] /Resources << /Font << /F 4 0 R >> >> /Contents 5 0 R >>",
			"<< /Type /Font /Subtype /Type1 /BaseFont /Helvetica >>",
			fmt.Sprintf("<< /Length %d >>\nstream\n%s\nendstream", len(operators)+1, operators),
		))
		p := readInk(t, file)
		return p, copied(t, file, p.high)
	}
	hatch := func(step float64) string {
		b := "1.13 w\n"
		for i := range 12 {
			x := 50 + float64(i)*step
			b += fmt.Sprintf("%.2f 100 m\n%.2f 106.5 l\n", x, x)
		}
		return b + "S\n"
	}
	sound := hatch(3.26) + "50 50 20 6 re\nf\nBT\n/F 7 Tf\n50 150 Td\n(Kale) Tj\nET"
	_, empty := draw("")
	for _, c := range []struct{ operators, want string }{
		{sound, ""},
		{"0.3 w\n20 100 m\n120 100 l\nS", "lines of 0.106 mm"},
		{"BT\n/F 6.9 Tf\n50 150 Td\n(Kale) Tj\nET", "type of 6.9 points"},
		{hatch(1.3), "run into each other"},
	} {
		p, copy := draw(c.operators)
		wrong, tones := copyFaults(p, copy)
		if said := strings.Join(wrong, "\n"); c.want == "" && said != "" || !strings.Contains(said, c.want) {
			t.Errorf("%q: said %q, want %q", c.operators, said, c.want)
		}
		if c.operators != sound {
			continue
		}
		if got := sorted(tones); !slices.Equal(got, []string{"solid", "upright"}) || looksLike(tones["upright"][0]) != "upright" {
			t.Errorf("hatches %v: %v", got, tones)
		}
		wrong, tones = copyFaults(p, empty)
		said := strings.Join(wrong, "\n")
		for _, want := range []string{"a line of 0.40 mm is lost at 50.0, ", "a solid box at 50, 50 is black in 0.00"} {
			if !strings.Contains(said, want) {
				t.Errorf("beside an empty copy: said %q, want %q", said, want)
			}
		}
		if looks := looksLike(tones["upright"][0]); looks != "" {
			t.Errorf("an empty bar looks like %q", looks)
		}
	}
}
