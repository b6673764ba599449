package render

import (
	"bytes"
	"crypto/sha256"
	"encoding/base64"
	"html"
	"regexp"
	"strings"
	"testing"

	"shedwall/cmd/shedwall/internal/page"
)

func sheetFrame() page.SheetFrame {
	return page.SheetFrame{
		Links: []page.Inline{
			{Text: "Thessock Slopes: all dates", Href: "bands/slopes/index.html"},
			{Text: "PDF for Letter paper", Href: page.SheetPDF("bands/slopes/sheet", "letter")},
			{Text: "PDF for A4 paper", Href: page.SheetPDF("bands/slopes/sheet", "a4")},
		},
		Hint:       "Prints on one page, upright, at 100 %.",
		WordsTitle: "The sheet in words",
	}
}

func TestSheetHTML(t *testing.T) {
	for _, c := range sheetCases() {
		if c.name == "45 rows" {
			continue // for larger paper only
		}
		out, err := SheetHTML(c.sheet, sheetFrame())
		if err != nil {
			t.Errorf("%s: %v", c.name, err)
			continue
		}
		again, err := SheetHTML(c.sheet, sheetFrame())
		if err != nil || !bytes.Equal(out, again) {
			t.Errorf("%s: a second run gave other bytes (%v)", c.name, err)
		}
		if len(out) > maxSheetHTML {
			t.Errorf("%s: %d bytes", c.name, len(out))
		}
		// Every row is there in words: the cells of the table are the sheet's own texts.
		text := string(out)
		for i := range c.sheet.Rows {
			r := &c.sheet.Rows[i]
			dates := r.Dates
			if r.Covered != "" {
				dates += "; " + r.Covered
			}
			for _, cell := range []string{
				">" + html.EscapeString(r.Code) + "</td>",
				`<th scope="row">` + html.EscapeString(r.Name) + "</th>",
				"</span>" + html.EscapeString(dates) + "</td>",
				"<td>" + html.EscapeString(r.Sentence) + "</td>",
			} {
				if !strings.Contains(text, cell) {
					t.Errorf("%s: %s is not on the page", c.name, cell)
				}
			}
		}
		for _, lines := range [][]string{c.sheet.Lead, c.sheet.Foot} {
			for _, l := range lines {
				if !strings.Contains(text, "<p>"+html.EscapeString(l)+"</p>") {
					t.Errorf("%s: %q is not on the page", c.name, l)
				}
			}
		}
	}
}

// TestSheetHTMLStandsAlone: the page loads nothing, its links are relative, its
// policy allows its own style only, and what a publisher typed stays text.
func TestSheetHTMLStandsAlone(t *testing.T) {
	s := slopes()
	s.Rows[0].Name = `Bean & <b>"pea"</b>`
	s.Band = "Slopes </title><script>alert(1)</script>"
	out, err := SheetHTML(s, sheetFrame())
	if err != nil {
		t.Fatal(err)
	}
	text := string(out)
	for _, bad := range []string{"<script", "<b>", "http:", "https:", "<img", "<link", "@import", "ZgotmplZ", "<pattern", "<image"} {
		if strings.Contains(text, bad) {
			t.Errorf("%s is on the page", bad)
		}
	}
	for _, want := range []string{`href="index.html"`, `href="sheet-letter.pdf"`, `href="sheet-a4.pdf"`, `<html lang="en">`} {
		if !strings.Contains(text, want) {
			t.Errorf("%s is not on the page", want)
		}
	}
	style := regexp.MustCompile(`(?s)<style>(.*?)</style>`).FindStringSubmatch(text)
	if style == nil {
		t.Fatal("no style")
	}
	sum := sha256.Sum256([]byte(style[1]))
	if want := "'sha256-" + base64.StdEncoding.EncodeToString(sum[:]) + "'"; !strings.Contains(html.UnescapeString(text), want) {
		t.Errorf("the policy does not hold %s, the sum of the style", want)
	}
	// Black only, and at its real size.
	for _, m := range regexp.MustCompile(`(stroke|fill|color):\s*([^;}]+)`).FindAllStringSubmatch(drawingRules(style[1]), -1) {
		if m[2] != "#000" && m[2] != "none" {
			t.Errorf("the drawing has the colour %s", m[2])
		}
	}
	if !strings.Contains(style[1], ".sheet{width:178.00mm}") {
		t.Error("the drawing is not 178 mm wide, A4 less 16 mm on both sides")
	}

	frame := sheetFrame()
	frame.Links[0].Href = "javascript:alert(1)"
	if _, err := SheetHTML(slopes(), frame); err == nil {
		t.Error("an address with a forbidden scheme was written")
	}
}

// drawingRules is the part of the style that dresses the drawing.
func drawingRules(style string) string {
	_, rules, _ := strings.Cut(style, ".sheet{")
	rules, _, _ = strings.Cut(rules, "@font-face")
	return rules
}

func TestSheetHTMLNamesRow(t *testing.T) {
	s := slopes()
	s.Rows[20].Name = strings.Repeat("Pepper, ", 30)
	if _, err := SheetHTML(s, sheetFrame()); err == nil || !strings.Contains(err.Error(), "row D3 (Pepper,") {
		t.Errorf("%v: does not name the row", err)
	}
}

func BenchmarkSheetHTML(b *testing.B) {
	s, f := slopes(), sheetFrame()
	for b.Loop() {
		out, err := SheetHTML(s, f)
		if err != nil {
			b.Fatal(err)
		}
		b.ReportMetric(float64(len(out)), "bytes/sheet")
	}
}

func BenchmarkSheetFits(b *testing.B) {
	s := slopes()
	for b.Loop() {
		if err := NewFitting().Fits(s); err != nil {
			b.Fatal(err)
		}
	}
}
