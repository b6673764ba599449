package render

import (
	"encoding/base64"
	"encoding/xml"
	"fmt"
	"maps"
	"slices"
	"strings"
	"sync"

	"github.com/carlos7ags/folio/core"
	"github.com/carlos7ags/folio/document"
	"github.com/carlos7ags/folio/font"
)

// pdfFaces are the two faces as the PDF library reads them, safe to share.
var pdfFaces = sync.OnceValue(func() [2]font.Face {
	var out [2]font.Face
	for i, f := range faces() {
		face, err := font.ParseTTF(f.ttf)
		if err != nil {
			panic("render: " + err.Error()) // the fonts are compiled in
		}
		out[i] = face
	}
	return out
})

// common is the letters that every cut-down font has whether a sheet uses them or not:
// one font then serves nearly all sheets, and is cut and packed once.
const common = " !\"#$%&'()*+,-./0123456789:;<=>?@ABCDEFGHIJKLMNOPQRSTUVWXYZ[]_abcdefghijklmnopqrstuvwxyz" +
	"\u00a0°·½×–—‘’“”…−≤≥ÁÉÍÑÓÚÜáéíñóúü¿¡"

// subset is a face cut down to common and the letters of a text.
type subset struct {
	woff string // for the web, in base64

	// For PDFs: the objects of the font, streams compressed, and the top one.
	objects []core.PdfObject
	top     *core.PdfDictionary
}

// mostSubsets is how many are kept: languages of other letters have a few.
const mostSubsets = 100

var subsets struct {
	sync.Mutex
	made map[string]*subset
}

// subsetOf finds or makes a subset.
func subsetOf(w weight, text string) (*subset, error) {
	letters := map[rune]bool{}
	for _, r := range common + text {
		letters[r] = true
	}
	// From the highest down: a glyph of two letters, such as the blank's, is read back as the
	// plain one.
	all := slices.Sorted(maps.Keys(letters))
	slices.Reverse(all)
	key := string(all)
	if w == bold {
		key = "bold " + key
	}
	subsets.Lock()
	defer subsets.Unlock()
	if s := subsets.made[key]; s != nil {
		return s, nil
	}
	s, err := makeSubset(w, string(all))
	if err != nil {
		return nil, err
	}
	if subsets.made == nil || len(subsets.made) >= mostSubsets {
		subsets.made = map[string]*subset{}
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
	s := &subset{woff: base64.StdEncoding.EncodeToString(woff)}
	f := font.NewEmbeddedFont(pdfFaces()[w])
	for _, r := range text {
		if pdfFaces()[w].GlyphIndex(r) != 0 {
			f.EncodeString(string(r))
		}
	}
	s.top = f.BuildObjects(func(o core.PdfObject) *core.PdfIndirectReference {
		if stream, ok := o.(*core.PdfStream); ok {
			stream.Data = pack(stream.Data)
		}
		s.objects = append(s.objects, o)
		return core.NewPdfIndirectReference(int(w)*fontObjects+len(s.objects), 0)
	})
	if len(s.objects)+1 != fontObjects {
		return nil, fmt.Errorf("a font of %d objects, not %d", len(s.objects)+1, fontObjects)
	}
	return s, nil
}

// addTo adds the font to a PDF and returns its reference.
func (s *subset) addTo(w *document.Writer) *core.PdfIndirectReference {
	for _, o := range s.objects {
		if stream, ok := o.(*core.PdfStream); ok {
			o = packedStream(stream.Data, stream.Dict) // the writer changes its streams
		}
		w.AddObject(o)
	}
	return w.AddObject(s.top)
}

// packedStream is a stream of compressed data with some entries in its dictionary.
func packedStream(data []byte, entries *core.PdfDictionary) *core.PdfStream {
	s := core.NewPdfStream(data)
	if entries != nil {
		for key, v := range entries.All() {
			s.Dict.Set(key, v)
		}
	}
	s.Dict.Set("Filter", core.NewPdfName("FlateDecode"))
	return s
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
	return font.Subset(faces()[w].ttf, used)
}

const producer = "shedwall"

// info is the document information dictionary. Dates are those of the edition,
// never the clock's.
func (f pdfFacts) info() *core.PdfDictionary {
	d := core.NewPdfDictionary()
	d.Set("Title", core.NewPdfTextString(f.title))
	if f.subject != "" {
		d.Set("Subject", core.NewPdfTextString(f.subject))
	}
	d.Set("Creator", core.NewPdfTextString(producer))
	d.Set("Producer", core.NewPdfTextString(producer))
	if f.dated != "" {
		date := core.NewPdfLiteralString("D:" + strings.ReplaceAll(f.dated, "-", "") + "000000Z")
		d.Set("CreationDate", date)
		d.Set("ModDate", date)
	}
	return d
}

// metadata is the same as an XMP packet.
func (f pdfFacts) metadata() *core.PdfStream {
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
	s := core.NewPdfStream([]byte(b.String()))
	s.Dict.Set("Type", core.NewPdfName("Metadata"))
	s.Dict.Set("Subtype", core.NewPdfName("XML"))
	return s
}
