package render

import (
	_ "embed"
	"encoding/base64"
	"encoding/binary"
	"fmt"
	"sync"

	"golang.org/x/image/font/gofont/gobold"
	"golang.org/x/image/font/gofont/goregular"
)

// What is asked of the two faces in every run is worked out beforehand: reading the fonts,
// cutting them down to the common letters and packing those took 15 ms, each time the same.
// TestReadyType works it out again, and writes it: -update-type.

//go:embed type.bin
var readyFile []byte

// readyType is what readyFile holds, numbers with the lowest byte first.
type readyType struct {
	letters [2][]readyLetter // of each face, the lowest first: how many (2 bytes), then 10 bytes each
	woff    [2][]byte        // each face with the common letters, for the web: 4 bytes for its length
	begun   *pdfDoc          // a PDF begun with both: how many places (2 bytes), 4 + 4 bytes each, then the file
}

// readyLetter is a letter of a face in the font's own units, 2048 an em. Plain is the
// highest bit of letter.
type readyLetter struct {
	letter, glyph         uint16
	plain                 bool
	advance, above, below int16
}

const readyPlain = 1 << 15

// unitsPerEm is that of both faces.
const unitsPerEm = 2048

var ready = func() *readyType {
	r, b := &readyType{}, readyFile
	u16 := func() (v uint16) { v, b = binary.LittleEndian.Uint16(b), b[2:]; return v }
	u32 := func() (v int) { v, b = int(binary.LittleEndian.Uint32(b)), b[4:]; return v }
	for w := range r.letters {
		r.letters[w] = make([]readyLetter, u16())
		for i := range r.letters[w] {
			letter := u16()
			r.letters[w][i] = readyLetter{letter &^ readyPlain, u16(), letter&readyPlain > 0, int16(u16()), int16(u16()), int16(u16())}
		}
	}
	for w := range r.woff {
		n := u32()
		r.woff[w], b = b[:n], b[n:]
	}
	r.begun = &pdfDoc{places: make([]pdfPlace, u16())}
	for i := range r.begun.places {
		r.begun.places[i] = pdfPlace{u32(), u32()}
	}
	r.begun.out = b
	return r
}()

// readyRules are the rules that bring the common letters to a page.
var readyRules = sync.OnceValue(func() (rules [2]string) {
	for w, woff := range ready.woff {
		rules[w] = faceRule(weight(w), woff)
	}
	return rules
})

// faceRule is the rule of a style sheet that brings a face.
func faceRule(w weight, woff []byte) string {
	return fmt.Sprintf("@font-face{font-family:wall;font-weight:%d;src:url(data:font/woff;base64,%s) format(\"woff\")}\n",
		400+300*int(w), base64.StdEncoding.EncodeToString(woff))
}

// fontFiles are the fonts as files without hint programs. They are compiled in, so that a
// failure is our own bug.
var fontFiles = sync.OnceValue(func() (files [2][]byte) {
	for w, ttf := range [2][]byte{goregular.TTF, gobold.TTF} {
		var err error
		if files[w], err = trimFont(ttf); err != nil {
			panic("render: " + err.Error())
		}
	}
	return files
})
