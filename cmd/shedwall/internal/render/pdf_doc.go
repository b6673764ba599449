package render

import (
	"bytes"
	"crypto/sha256"
	"encoding/hex"
	"strconv"
	"sync"
)

// pdfDoc is a PDF being written, as ISO 32000-1 has it in 7.5: streams go straight into
// the file, all other objects into one object stream that is compressed as a whole. The
// library's writer builds a tree of values first, and took longer than laying a page out.
type pdfDoc struct {
	out    []byte
	places []pdfPlace // by the number of the object; number 0 is no object
	fixed  int        // so much of out is fonts, the same in nearly every file
	small  []byte     // the objects for the object stream, one after another
	index  []int      // of each of them its number and where it begins

	head, packed []byte // scratch
}

// docs are documents that were written, with their room.
var docs = sync.Pool{New: func() any { return &pdfDoc{} }}

// pdfPlace tells where an object is: at a place in the file, or the how-manieth in an
// object stream.
type pdfPlace struct {
	in int // number of the object stream; 0 = none
	at int
}

// book gives the number of an object that is written later.
func (f *pdfDoc) book() int {
	f.places = append(f.places, pdfPlace{})
	return len(f.places) - 1
}

// object begins an object of the object stream; its words are appended to f.small.
func (f *pdfDoc) object(n int) { f.index = append(f.index, n, len(f.small)) }

// stream writes a stream with some entries in its dictionary ("/Type /X"), compressed or
// as it is.
func (f *pdfDoc) stream(n int, entries string, data []byte, packed bool) {
	f.places[n].at = len(f.out)
	if packed {
		entries += " /Filter /FlateDecode"
		f.packed = pack(quick, f.packed[:0], data)
		data = f.packed
	}
	f.out = appendWhole(f.out, n)
	f.out = append(f.out, " 0 obj\n<< "...)
	f.out = append(f.out, entries...)
	f.out = append(f.out, " /Length "...)
	f.out = appendWhole(f.out, len(data))
	f.out = append(f.out, " >>\nstream\n"...)
	f.out = append(f.out, data...)
	f.out = append(f.out, "\nendstream\nendobj\n"...)
}

// pool writes the objects begun so far as an object stream.
func (f *pdfDoc) pool() {
	if len(f.index) == 0 {
		return
	}
	n := f.book()
	head := f.head[:0]
	for i := 0; i < len(f.index); i += 2 {
		f.places[f.index[i]] = pdfPlace{n, i / 2}
		head = appendWhole(head, f.index[i])
		head = append(head, ' ')
		head = appendWhole(head, f.index[i+1])
		head = append(head, ' ')
	}
	entries := "/Type /ObjStm /N " + strconv.Itoa(len(f.index)/2) + " /First " + strconv.Itoa(len(head))
	f.head = append(head, f.small...)
	f.stream(n, entries, f.head, true)
	f.small, f.index = f.small[:0], f.index[:0]
}

// leastPacked is the size in bytes below which the table of places is not worth packing.
const leastPacked = 2000

// end writes what is left and the table of all places (7.5.8), and returns the file. Its
// identifier is made from what it holds. The file lasts until the document is used again.
func (f *pdfDoc) end(root, info int) []byte {
	f.pool()
	table := f.book()
	f.places[table].at = len(f.out)
	most := 0
	for _, p := range f.places {
		most = max(most, p.at)
	}
	wide := 1
	for ; most>>(8*wide) > 0; wide++ {
	}
	put := func(b []byte, v int) []byte {
		for i := wide - 1; i >= 0; i-- {
			b = append(b, byte(v>>(8*i)))
		}
		return b
	}
	rows := f.head[:0]
	for i, p := range f.places {
		switch {
		case i == 0: // the head of the list of free numbers, of which there are none
			rows = put(put(append(rows, 0), 0), 0)
		case p.in > 0:
			rows = put(put(append(rows, 2), p.in), p.at)
		default:
			rows = put(put(append(rows, 1), p.at), 0)
		}
	}
	f.head = rows
	// The fonts' part is left out of the digest but for its length: it is long, and the
	// same font twice is no reason to be another file.
	sum := sha256.New()
	sum.Write(appendWhole(nil, f.fixed))
	sum.Write(f.out[f.fixed:])
	id := "<" + hex.EncodeToString(sum.Sum(nil)[:16]) + ">"
	columns := " " + strconv.Itoa(wide)
	f.stream(table, "/Type /XRef /Size "+strconv.Itoa(len(f.places))+" /W [1"+columns+columns+"] /Root "+strconv.Itoa(root)+
		" 0 R /Info "+strconv.Itoa(info)+" 0 R /ID ["+id+" "+id+"]", rows, len(rows) > leastPacked)
	f.out = append(f.out, "startxref\n"...)
	f.out = appendWhole(f.out, f.places[table].at)
	f.out = append(f.out, "\n%%EOF\n"...)
	return f.out
}

// appendRef appends a reference to an object.
func appendRef(b []byte, n int) []byte {
	return append(appendWhole(b, n), " 0 R"...)
}

// wholes and fractions are how numbers are written, before the point and from it on.
var wholes, fractions = func() (w [1000]inString, h [100]inString) {
	for i := range w {
		w[i] = inStringOf(strconv.AppendInt(nil, int64(i), 10))
	}
	for i := 1; i < len(h); i++ {
		h[i] = inStringOf(bytes.TrimRight([]byte{'.', byte('0' + i/10), byte('0' + i%10)}, "0"))
	}
	return w, h
}()

// appendHundredths appends a number given in hundredths, without noughts at its end. Half
// of a page is such numbers.
func appendHundredths(b []byte, v int) []byte {
	if v < 0 {
		b, v = append(b, '-'), -v
	}
	return fractions[v%100].appendTo(appendWhole(b, v/100))
}

// appendWhole appends a whole number that is not below 0.
func appendWhole(b []byte, n int) []byte {
	if n < len(wholes) {
		return wholes[n].appendTo(b)
	}
	return append(appendWhole(b, n/1000), byte('0'+n/100%10), byte('0'+n/10%10), byte('0'+n%10))
}

// appendText appends a text string (7.9.2.2): in the encoding that PDF has of its own
// where that has all letters, else in UTF-16.
func appendText(b []byte, s string) []byte {
	b = append(b, '(')
	from := len(b)
	for _, r := range s {
		c, ok := docLetter(r)
		if !ok || len(b) == from && (r == 'þ' || r == 'ï') { // these two might begin another encoding's mark
			return append(appendUTF16(b[:from], s), ')')
		}
		b = appendEscaped(b, c)
	}
	return append(b, ')')
}

func appendUTF16(b []byte, s string) []byte {
	b = append(b, 0xfe, 0xff)
	unit := func(u rune) { b = appendEscaped(appendEscaped(b, byte(u>>8)), byte(u)) }
	for _, r := range s {
		switch {
		case r == 0x1b: // would begin a change of language and hide what follows
		case r > 0xffff:
			r -= 0x10000
			unit(0xd800 + r>>10)
			unit(0xdc00 + r&0x3ff)
		default:
			unit(r)
		}
	}
	return b
}

func appendEscaped(b []byte, c byte) []byte {
	switch c {
	case '(', ')', '\\':
		return append(b, '\\', c)
	case '\n':
		return append(b, '\\', 'n')
	case '\r':
		return append(b, '\\', 'r')
	}
	return append(b, c)
}

// docLetters is what PDFDocEncoding has besides ASCII and Latin-1 (ISO 32000-1, Annex D.2),
// from its code 0x80 on.
var docLetters = [...]rune{
	'•', '†', '‡', '…', '—', '–', 'ƒ', '⁄', '‹', '›', '−', '‰', '„', '“', '”', '‘',
	'’', '‚', '™', 'ﬁ', 'ﬂ', 'Ł', 'Œ', 'Š', 'Ÿ', 'Ž', 'ı', 'ł', 'œ', 'š', 'ž',
}

// docLetter is a letter in PDFDocEncoding.
func docLetter(r rune) (byte, bool) {
	switch {
	case r >= 0x20 && r < 0x7f, r == '\n', r == '\r', r == '\t', r > 0xa0 && r <= 0xff && r != 0xad:
		return byte(r), true
	case r == '€':
		return 0xa0, true
	}
	for i, d := range docLetters {
		if d == r {
			return byte(0x80 + i), true
		}
	}
	return 0, false
}
