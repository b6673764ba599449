package render

import (
	"encoding/xml"
	"strings"
	"sync"

	"github.com/carlos7ags/folio/core"
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
