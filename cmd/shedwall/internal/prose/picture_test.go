package prose

import (
	"bytes"
	"encoding/binary"
	"hash/crc32"
	"image"
	"image/color"
	"image/jpeg"
	"image/png"
	"strings"
	"testing"
	"testing/fstest"

	"shedwall/cmd/shedwall/internal/diag"
)

// dot is a PNG of one pixel.
func dot(t *testing.T) []byte {
	t.Helper()
	var out bytes.Buffer
	if err := png.Encode(&out, image.NewGray(image.Rect(0, 0, 1, 1))); err != nil {
		t.Fatal(err)
	}
	return out.Bytes()
}

// photo is a JPEG as a telephone writes it: black above and white below the middle, held
// so, with a place in it.
func photo(t *testing.T, width, height, orientation int) []byte {
	t.Helper()
	img := image.NewGray(image.Rect(0, 0, width, height))
	for y := height / 2; y < height; y++ {
		for x := range width {
			img.SetGray(x, y, color.Gray{255})
		}
	}
	var out bytes.Buffer
	if err := jpeg.Encode(&out, img, nil); err != nil {
		t.Fatal(err)
	}
	tiff := []byte("II*\x00\x08\x00\x00\x00\x01\x00\x12\x01\x03\x00\x01\x00\x00\x00\x00\x00\x00\x00\x00\x00\x00\x00GPS 44.22N 37.96W")
	tiff[18] = byte(orientation)
	body := append([]byte("Exif\x00\x00"), tiff...)
	segment := append([]byte{0xff, 0xe1, 0, 0}, body...)
	binary.BigEndian.PutUint16(segment[2:], uint16(len(body)+2))
	return append(append([]byte{0xff, 0xd8}, segment...), out.Bytes()[2:]...)
}

// The picture comes out upright, no longer than 1600 pixels, and without a word of what
// the camera wrote beside it. Exif 2.32, tag 274: with 6 the first stored row is the
// right side of the scene, with 8 the left one, with 3 the foot.
func TestPhotoIsTurnedScaledAndBare(t *testing.T) {
	for _, c := range []struct {
		orientation, width, height int
		black                      image.Point // a place that must be dark, of 100 x 100
	}{{1, 1600, 800, image.Pt(50, 10)}, {3, 1600, 800, image.Pt(50, 90)}, {6, 800, 1600, image.Pt(90, 50)}, {8, 800, 1600, image.Pt(10, 50)}} {
		p, err := clean(photo(t, 3200, 1600, c.orientation))
		if err != nil {
			t.Fatal(err)
		}
		img, err := jpeg.Decode(bytes.NewReader(p.Data))
		if err != nil {
			t.Fatal(err)
		}
		if b := img.Bounds(); b.Dx() != c.width || b.Dy() != c.height || p.Width != c.width || p.Height != c.height {
			t.Errorf("orientation %d: %v, said %d x %d; want %d x %d", c.orientation, b, p.Width, p.Height, c.width, c.height)
		}
		dark := func(x, y int) bool {
			r, _, _, _ := img.At(x*c.width/100, y*c.height/100).RGBA()
			return r < 0x4000
		}
		if !dark(c.black.X, c.black.Y) || dark(100-c.black.X, 100-c.black.Y) {
			t.Errorf("orientation %d: the wrong side is up", c.orientation)
		}
		if bytes.Contains(p.Data, []byte("GPS")) || bytes.Contains(p.Data, []byte("Exif")) {
			t.Error("the place is still in it")
		}
	}
}

// A file that says it is 60000 x 60000 pixels is not unpacked, and what is no picture is
// told where it is shown.
func TestPicturesThatCannotBeShown(t *testing.T) {
	bomb := dot(t)
	binary.BigEndian.PutUint32(bomb[16:], 60000)
	binary.BigEndian.PutUint32(bomb[20:], 60000)
	binary.BigEndian.PutUint32(bomb[29:], crc32.ChecksumIEEE(bomb[12:29]))
	own := fstest.MapFS{
		"soil.md":         {Data: []byte("# Soil\n\n![Bomb](images/bomb.png)\n\n![Text](images/text.jpg)\n\n![Dot](images/dot.png)\n")},
		"images/bomb.png": {Data: bomb}, "images/text.jpg": {Data: []byte("<svg onload=x>")}, "images/dot.png": {Data: dot(t)},
	}
	var faults diag.List
	if _, err := ReadFolder(own, nil, &faults); err != nil {
		t.Fatal(err)
	}
	var got []string
	for _, f := range faults.Sorted() {
		got = append(got, f.String())
	}
	if len(got) != 2 || !strings.Contains(got[0], "60000 x 60000") || !strings.Contains(got[1], "damaged") {
		t.Errorf("%q", got)
	}
}
