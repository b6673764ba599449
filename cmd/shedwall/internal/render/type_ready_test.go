package render

import (
	"bytes"
	"compress/zlib"
	"encoding/base64"
	"encoding/binary"
	"flag"
	"io"
	"os"
	"slices"
	"strings"
	"testing"

	"golang.org/x/image/font"
	"golang.org/x/image/font/sfnt"
	"golang.org/x/image/math/fixed"
	"golang.org/x/text/unicode/norm"
)

var updateType = flag.Bool("update-type", false, "write type.bin anew")

// lettersOf measures the letters of a face by two readers of fonts: golang.org/x/image for
// how large they are, the PDF library for the numbers of their glyphs.
func lettersOf(t *testing.T, w weight) (out []readyLetter) {
	f, err := sfnt.Parse(fontFiles()[w])
	if err != nil {
		t.Fatal(err)
	}
	if f.UnitsPerEm() != unitsPerEm {
		t.Fatalf("an em is %d units", f.UnitsPerEm())
	}
	units := func(v fixed.Int26_6) int16 {
		if int16(v/64) != int16(v>>6) || fixed.I(int(int16(v/64))) != v {
			t.Fatalf("weight %d: %v is no whole number of units", w, v)
		}
		return int16(v / 64)
	}
	var buf sfnt.Buffer
	for r := range rune(lastRune) {
		id, err := f.GlyphIndex(&buf, r)
		if err != nil {
			t.Fatal(err)
		}
		if other := pdfFaces()[w].GlyphIndex(r); uint16(id) != other {
			t.Fatalf("weight %d: the glyph of %q is %d to one library, %d to the other", w, r, id, other)
		}
		if id == 0 {
			continue
		}
		b, advance, err := f.GlyphBounds(&buf, id, fixed.I(unitsPerEm), font.HintingNone)
		if err != nil {
			t.Fatal(err)
		}
		text := string(r)
		plain := r >= ' ' && pdfFaces()[regular].GlyphIndex(r) > 0 && pdfFaces()[bold].GlyphIndex(r) > 0 && plainSigns.Replace(text) == text &&
			norm.NFC.IsNormalString(text) && norm.NFC.PropertiesString(text).BoundaryBefore()
		out = append(out, readyLetter{uint16(r), uint16(id), plain, units(advance), units(-b.Min.Y), units(b.Max.Y)})
	}
	return out
}

// TestReadyType: the file of what is worked out beforehand holds what is worked out now.
func TestReadyType(t *testing.T) {
	var want []byte
	le := binary.LittleEndian
	var pair [2]*subset
	for w := range pair {
		letters := lettersOf(t, weight(w))
		want = le.AppendUint16(want, uint16(len(letters)))
		for _, l := range letters {
			letter := l.letter
			if l.plain {
				letter |= readyPlain
			}
			for _, v := range []uint16{letter, l.glyph, uint16(l.advance), uint16(l.above), uint16(l.below)} {
				want = le.AppendUint16(want, v)
			}
		}
	}
	letters := len(want)
	for w := range pair {
		s, err := findSubset(weight(w), nil)
		if err != nil {
			t.Fatal(err)
		}
		_, packed, _ := strings.Cut(s.face, "base64,")
		packed, _, _ = strings.Cut(packed, ")")
		woff, err := base64.StdEncoding.DecodeString(packed)
		if err != nil {
			t.Fatal(err)
		}
		want = append(le.AppendUint32(want, uint32(len(woff))), woff...)
		pair[w] = s
	}
	begun, err := beginDoc(pair)
	if err != nil {
		t.Fatal(err)
	}
	want = le.AppendUint16(want, uint16(len(begun.places)))
	for _, p := range begun.places {
		want = le.AppendUint32(le.AppendUint32(want, uint32(p.in)), uint32(p.at))
	}
	want = append(want, begun.out...)
	if *updateType {
		if err := os.WriteFile("type.bin", want, 0o644); err != nil {
			t.Fatal(err)
		}
		return // what is compiled in is the old one
	}
	// Another version of Go may pack in another way: what counts is what is packed.
	if !bytes.HasPrefix(readyFile, want[:letters]) || !slices.Equal(unpacked(want), unpacked(readyFile)) {
		t.Error("type.bin is not what the fonts give; where they were meant to change: go test -run TestReadyType -update-type")
	}
}

// unpacked is what is packed in data by zlib, piece by piece.
func unpacked(data []byte) (pieces []string) {
	for at := 0; at < len(data); at++ {
		rest := bytes.NewReader(data[at:])
		z, err := zlib.NewReader(rest)
		if err != nil {
			continue
		}
		piece, err := io.ReadAll(z)
		if err != nil || len(piece) == 0 {
			continue
		}
		pieces = append(pieces, string(piece))
		at = len(data) - rest.Len() - 1
	}
	return pieces
}
