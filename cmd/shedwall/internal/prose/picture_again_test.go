package prose

import (
	"bytes"
	"image"
	"image/color"
	"image/gif"
	"image/jpeg"
	"image/png"
	"testing"
)

// A picture that was published is published again as it is, so that a guide made from its
// published files has the same bytes; one with a camera's block is not taken for such.
func TestPicturesAgain(t *testing.T) {
	img := image.NewNRGBA(image.Rect(0, 0, 1700, 40))
	for x := range 1700 {
		for y := range 40 {
			img.Set(x, y, color.NRGBA{uint8(x), uint8(y * 6), uint8(x * y), 255})
		}
	}
	for kind, write := range map[string]func(*bytes.Buffer) error{
		"jpeg": func(b *bytes.Buffer) error { return jpeg.Encode(b, img, nil) },
		"png":  func(b *bytes.Buffer) error { return png.Encode(b, img) },
		"gif":  func(b *bytes.Buffer) error { return gif.Encode(b, img, nil) },
	} {
		var b bytes.Buffer
		if err := write(&b); err != nil {
			t.Fatal(err)
		}
		once, err := clean(b.Bytes())
		if err != nil {
			t.Fatal(kind, err)
		}
		twice, err := clean(once.Data)
		if err != nil || !bytes.Equal(once.Data, twice.Data) {
			t.Errorf("%s: other bytes the second time, %v", kind, err)
		}
		if kind != "jpeg" {
			continue
		}
		// FF FE, length 6, "here": a comment behind the first marker.
		noted := append(append([]byte{}, once.Data[:2]...), append([]byte("\xff\xfe\x00\x06here"), once.Data[2:]...)...)
		if got, err := clean(noted); err != nil || bytes.Contains(got.Data, []byte("here")) {
			t.Errorf("a comment came through: %v", err)
		}
		if got, err := clean(append(append([]byte{}, once.Data...), "44.2 N"...)); err != nil || bytes.Contains(got.Data, []byte("44.2 N")) {
			t.Errorf("bytes behind the picture came through: %v", err)
		}
	}
}
