package render

import (
	"bytes"
	"encoding/binary"
	"encoding/xml"
	"fmt"
	"slices"
	"strings"
	"sync"

	"github.com/carlos7ags/folio/core"
	"github.com/carlos7ags/folio/font"
)

// Only this file knows the PDF library, which cuts fonts down and describes them.

// pdfFaces are the two faces as the PDF library reads them, safe to share.
var pdfFaces = sync.OnceValue(func() [2]font.Face {
	var out [2]font.Face
	for i, file := range fontFiles() {
		face, err := font.ParseTTF(file)
		if err != nil {
			panic("render: " + err.Error()) // the fonts are compiled in
		}
		out[i] = face
	}
	return out
})

// pdfGlyph is a letter as strings have it: the number of its glyph, two bytes, with a stroke
// before those that need one.
type pdfGlyph struct {
	inString
	common bool // in every cut-down font
}

// inString is up to four letters of a file, side by side, so that they are written in one
// go and those that are none taken back.
type inString struct {
	text uint32 // the first lowest
	n    uint8
}

func inStringOf(s []byte) inString {
	var four [4]byte
	return inString{n: uint8(copy(four[:], s)), text: binary.LittleEndian.Uint32(four[:])}
}

func (s inString) appendTo(b []byte) []byte {
	return binary.LittleEndian.AppendUint32(b, s.text)[:len(b)+int(s.n)]
}

// pdfGlyphs are the glyphs of letters; that of number 0 = the face has no such letter.
var pdfGlyphs = sync.OnceValue(func() (out [2]*[lastRune]pdfGlyph) {
	none := pdfGlyph{inString: inStringOf([]byte{0, 0})}
	for w, letters := range ready.letters {
		out[w] = new([lastRune]pdfGlyph)
		for r := range out[w] {
			out[w][r] = none
		}
		var room [4]byte
		for _, l := range letters {
			out[w][l.letter].inString = inStringOf(appendEscaped(appendEscaped(room[:0], byte(l.glyph>>8)), byte(l.glyph)))
		}
		for _, r := range common {
			out[w][r].common = true
		}
	}
	return out
})

// common is the letters that every cut-down font has whether a sheet uses them or not:
// one font then serves nearly all sheets, and is cut and packed once.
const common = " !\"#$%&'()*+,-./0123456789:;<=>?@ABCDEFGHIJKLMNOPQRSTUVWXYZ[]_abcdefghijklmnopqrstuvwxyz" +
	"\u00a0°·½×–—‘’“”…−≤≥ÁÉÍÑÓÚÜáéíñóúü¿¡"

// commons is the letters of common by themselves.
var commons = sync.OnceValue(func() *[lastRune]bool {
	var out [lastRune]bool
	for _, r := range common {
		out[r] = true
	}
	return &out
})

func isCommon(r rune) bool { return uint32(r) < lastRune && commons()[r] }

// subset is a face cut down to common and some rare letters.
type subset struct {
	face    string           // for the web: the rule of a style sheet that brings it
	objects []core.PdfObject // for PDFs, the top one last
}

// mostSubsets is how many are kept: languages of other letters have a few.
const mostSubsets = 100

var subsets struct {
	sync.Mutex
	made  map[string]*subset
	files map[[2]*subset]*pdfDoc // begun with these fonts
}

// faceOf is the rule that brings a face to a page with the rare letters given, in any order.
func faceOf(w weight, rare []rune) (rule string, err error) {
	if len(rare) == 0 {
		return readyRules()[w], nil
	}
	subsets.Lock()
	defer subsets.Unlock()
	s, err := findSubset(w, rare)
	if err != nil {
		return "", err
	}
	return s.face, nil
}

// findSubset finds or makes a subset.
func findSubset(w weight, rare []rune) (*subset, error) {
	rare = slices.Clone(rare)
	slices.Sort(rare)
	key := string(slices.Compact(rare))
	if w == bold {
		key = "bold " + key
	}
	if s := subsets.made[key]; s != nil {
		return s, nil
	}
	// From the highest down: a glyph of two letters, such as the blank's, is read back as the
	// plain one.
	all := append([]rune(common), rare...)
	slices.Sort(all)
	all = slices.Compact(all)
	slices.Reverse(all)
	s, err := makeSubset(w, string(all))
	if err != nil {
		return nil, err
	}
	if subsets.made == nil || len(subsets.made) >= mostSubsets {
		subsets.made, subsets.files = map[string]*subset{}, map[[2]*subset]*pdfDoc{}
	}
	subsets.made[key] = s
	return s, nil
}

// fontObjects is how many objects a font has in a PDF, the top one with them. Fonts come
// first in the file, regular and then bold, so that their numbers are always the same.
const fontObjects = 5

func makeSubset(w weight, text string) (*subset, error) {
	ttf, err := subsetFont(w, text)
	if err != nil {
		return nil, err
	}
	woff, err := packWOFF(ttf)
	if err != nil {
		return nil, err
	}
	s := &subset{face: faceRule(w, woff)}
	f := font.NewEmbeddedFont(pdfFaces()[w])
	for _, r := range text {
		if pdfFaces()[w].GlyphIndex(r) != 0 {
			f.EncodeString(string(r))
		}
	}
	top := f.BuildObjects(func(o core.PdfObject) *core.PdfIndirectReference {
		s.objects = append(s.objects, o)
		return core.NewPdfIndirectReference(int(w)*fontObjects+len(s.objects), 0)
	})
	if s.objects = append(s.objects, top); len(s.objects) != fontObjects {
		return nil, fmt.Errorf("a font of %d objects, not %d", len(s.objects), fontObjects)
	}
	return s, nil
}

// newPDFDoc begins a file with both fonts, which are most of it: they are written once
// and copied into each. fonts is the numbers of their objects.
func newPDFDoc(rare [2][]rune) (f *pdfDoc, fonts [2]int, err error) {
	fonts = [2]int{fontObjects, 2 * fontObjects}
	begun, err := begunDoc(rare)
	if err != nil {
		return nil, fonts, err
	}
	f = docs.Get().(*pdfDoc)
	f.out, f.places = append(f.out[:0], begun.out...), append(f.places[:0], begun.places...)
	f.fixed, f.small, f.index = len(begun.out), f.small[:0], f.index[:0]
	return f, fonts, nil
}

func begunDoc(rare [2][]rune) (*pdfDoc, error) {
	if len(rare[regular])+len(rare[bold]) == 0 {
		return ready.begun, nil
	}
	subsets.Lock()
	defer subsets.Unlock()
	var pair [2]*subset
	for w := range pair {
		var err error
		if pair[w], err = findSubset(weight(w), rare[w]); err != nil {
			return nil, err
		}
	}
	if f := subsets.files[pair]; f != nil {
		return f, nil
	}
	f, err := beginDoc(pair)
	if err == nil {
		subsets.files[pair] = f
	}
	return f, err
}

// beginDoc writes the beginning of a file with two fonts.
func beginDoc(pair [2]*subset) (*pdfDoc, error) {
	// The second line's signs tell programs that the file is not plain text.
	f := &pdfDoc{out: []byte("%PDF-1.7\n%\xe2\xe3\xcf\xd3\n"), places: make([]pdfPlace, 1+2*fontObjects)}
	for w, s := range pair {
		for i, o := range s.objects {
			n := w*fontObjects + i + 1
			if err := f.fontObject(n, o); err != nil {
				return nil, err
			}
		}
	}
	f.pool()
	return f, nil
}

// fontObject writes an object as the library made it.
func (f *pdfDoc) fontObject(n int, o core.PdfObject) error {
	var words bytes.Buffer
	stream, ok := o.(*core.PdfStream)
	if !ok {
		f.object(n)
		_, err := o.WriteTo(&words)
		f.small = append(append(f.small, words.Bytes()...), '\n')
		return err
	}
	var entries []string
	for key, v := range stream.Dict.All() {
		words.Reset()
		if _, err := v.WriteTo(&words); err != nil {
			return err
		}
		if key != "Length" && key != "Filter" {
			entries = append(entries, "/"+key+" "+words.String())
		}
	}
	f.stream(n, strings.Join(entries, " ")+" /Filter /FlateDecode", pack(thorough, nil, stream.Data), false)
	return nil
}

// subsetFont is a face cut down to the letters of a text, as a TrueType file.
func subsetFont(w weight, text string) ([]byte, error) {
	face := pdfFaces()[w]
	used := map[uint16]rune{}
	for _, r := range text {
		if id := face.GlyphIndex(r); id != 0 {
			used[id] = r
		}
	}
	return font.Subset(fontFiles()[w], used)
}

const producer = "shedwall"

// appendInfo appends the document information dictionary. Dates are those of the
// edition, never the clock's.
func (f pdfFacts) appendInfo(b []byte) []byte {
	b = appendText(append(b, "<< /Title "...), f.title)
	if f.subject != "" {
		b = appendText(append(b, " /Subject "...), f.subject)
	}
	b = append(b, " /Creator ("+producer+") /Producer ("+producer+")"...)
	if f.dated != "" {
		date := strings.ReplaceAll(f.dated, "-", "") + "000000Z00'00')"
		b = append(b, " /CreationDate (D:"+date+" /ModDate (D:"+date...)
	}
	return append(b, " >>\n"...)
}

// metadata is the same as an XMP packet.
func (f pdfFacts) metadata() []byte {
	text := func(s string) string {
		var b strings.Builder
		_ = xml.EscapeText(&b, []byte(s)) // a Builder never fails
		return b.String()
	}
	var b strings.Builder
	b.WriteString("<?xpacket begin=\"\ufeff\" id=\"W5M0MpCehiHzreSzNTczkc9d\"?>\n")
	b.WriteString(`<x:xmpmeta xmlns:x="adobe:ns:meta/"><rdf:RDF xmlns:rdf="http://www.w3.org/1999/02/22-rdf-syntax-ns#">` + "\n")
	b.WriteString(`<rdf:Description rdf:about="" xmlns:dc="http://purl.org/dc/elements/1.1/" xmlns:pdf="http://ns.adobe.com/pdf/1.3/" xmlns:xmp="http://ns.adobe.com/xap/1.0/">` + "\n")
	b.WriteString(`<dc:format>application/pdf</dc:format>` + "\n")
	b.WriteString(`<dc:title><rdf:Alt><rdf:li xml:lang="x-default">` + text(f.title) + `</rdf:li></rdf:Alt></dc:title>` + "\n")
	b.WriteString(`<dc:language><rdf:Bag><rdf:li>` + text(f.lang) + `</rdf:li></rdf:Bag></dc:language>` + "\n")
	if f.subject != "" {
		b.WriteString(`<dc:description><rdf:Alt><rdf:li xml:lang="x-default">` + text(f.subject) + `</rdf:li></rdf:Alt></dc:description>` + "\n")
	}
	b.WriteString(`<pdf:Producer>` + producer + `</pdf:Producer><xmp:CreatorTool>` + producer + `</xmp:CreatorTool>` + "\n")
	if f.dated != "" {
		date := text(f.dated) + "T00:00:00Z"
		b.WriteString(`<xmp:CreateDate>` + date + `</xmp:CreateDate><xmp:ModifyDate>` + date + `</xmp:ModifyDate>` + "\n")
	}
	b.WriteString(`</rdf:Description></rdf:RDF></x:xmpmeta>` + "\n<?xpacket end=\"r\"?>")
	return []byte(b.String())
}
