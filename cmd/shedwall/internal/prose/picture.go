package prose

import (
	"bytes"
	"encoding/binary"
	"errors"
	"fmt"
	"image"
	"image/gif"
	"image/jpeg"
	"image/png"
	"io"
	"math"

	"golang.org/x/image/draw"

	"shedwall/cmd/shedwall/internal/diag"
)

// Limits of a picture. A small file can unpack into gigabytes, so its sides are read
// before anything else is.
const (
	maxPictureBytes  = 30 << 20
	maxPicturePixels = 60_000_000 // more than any telephone takes
	longestSide      = 1600       // pixels, as published
	jpegQuality      = 82
)

// Picture is a picture as it is published.
type Picture struct {
	Data          []byte
	Width, Height int // pixels
}

// Picture is a picture by its path in the content folder, ready to be published: turned
// the right way up, its longest side at most 1600 pixels, and written anew, so that
// nothing but the picture is left of the file. Cameras write where and when a picture
// was taken, and by whom, into it.
func (l *Library) Picture(p string) (Picture, error) {
	data, err := l.pictureBytes(p)
	if err != nil {
		return Picture{}, err
	}
	return clean(data)
}

// PictureSize is what Picture's width and height will be; 0, 0 where the file cannot be
// read.
func (l *Library) PictureSize(p string) (width, height int) {
	data, err := l.pictureBytes(p)
	if err != nil {
		return 0, 0
	}
	width, height, _, err = measure(data)
	if err != nil {
		return 0, 0
	}
	return width, height
}

// checkPicture reports a picture that cannot be published.
func (l *Library) checkPicture(t Target, faults *diag.List) {
	data, err := l.pictureBytes(t.Doc)
	if err == nil {
		_, _, _, err = measure(data)
	}
	if err != nil {
		faults.Add(diag.Fault{At: t.At, ID: "prose-picture", What: fmt.Sprintf("the picture %q cannot be shown: %v", t.Doc, err),
			Expected: fmt.Sprintf("a PNG, JPEG or GIF file of at most %d MB and %d million pixels", maxPictureBytes>>20, maxPicturePixels/1_000_000),
			Cure:     "save the picture again as .jpg or .png"})
	}
}

func (l *Library) pictureBytes(p string) ([]byte, error) {
	f, err := l.OpenPicture(p)
	if err != nil {
		return nil, err
	}
	defer f.Close()
	return io.ReadAll(io.LimitReader(f, maxPictureBytes+1))
}

// measure looks at a file's head: its sides as published, and its kind.
func measure(data []byte) (width, height int, kind string, err error) {
	if len(data) > maxPictureBytes {
		return 0, 0, "", fmt.Errorf("the file has more than %d MB", maxPictureBytes>>20)
	}
	c, kind, err := image.DecodeConfig(bytes.NewReader(data))
	switch {
	case err != nil:
		return 0, 0, "", errors.New("the file is no PNG, JPEG or GIF picture, or is damaged")
	case c.Width <= 0 || c.Height <= 0:
		return 0, 0, "", errors.New("the picture has no size")
	case c.Width > maxPicturePixels/c.Height:
		return 0, 0, "", fmt.Errorf("the picture unpacks to %d x %d pixels", c.Width, c.Height)
	}
	width, height = fitted(c.Width, c.Height)
	if orientation(data) > 4 {
		width, height = height, width
	}
	return width, height, kind, nil
}

// fitted is the sides scaled so that the longer is at most longestSide.
func fitted(width, height int) (int, int) {
	long := max(width, height)
	if long <= longestSide {
		return width, height
	}
	part := func(n int) int { return max(1, int(math.Round(float64(n)*longestSide/float64(long)))) }
	return part(width), part(height)
}

// clean decodes a picture, turns and scales it, and encodes it in the same kind. Of a
// moving picture the first frame is kept.
func clean(data []byte) (Picture, error) {
	width, height, kind, err := measure(data)
	if err != nil {
		return Picture{}, err
	}
	img, _, err := image.Decode(bytes.NewReader(data))
	if err != nil {
		return Picture{}, errors.New("the picture is damaged")
	}
	w, h := fitted(img.Bounds().Dx(), img.Bounds().Dy())
	if kind == "jpeg" && w == img.Bounds().Dx() && bare(data) {
		return Picture{data, width, height}, nil // published before: each writing anew would lose a little
	}
	if w != img.Bounds().Dx() {
		small := image.NewNRGBA(image.Rect(0, 0, w, h))
		draw.CatmullRom.Scale(small, small.Bounds(), img, img.Bounds(), draw.Src, nil)
		img = small
	}
	img = turned(img, orientation(data))
	var out bytes.Buffer
	switch kind {
	case "jpeg":
		err = jpeg.Encode(&out, img, &jpeg.Options{Quality: jpegQuality})
	case "gif":
		err = gif.Encode(&out, img, nil)
	default:
		err = png.Encode(&out, img)
	}
	return Picture{out.Bytes(), width, height}, err
}

// bare says whether a JPEG file holds nothing but the picture: no block of a camera or a
// program (APP0 to APP15), no comment, nothing behind its end.
func bare(data []byte) bool {
	if !bytes.HasSuffix(data, []byte{0xff, 0xd9}) || bytes.Count(data, []byte{0xff, 0xd9}) != 1 {
		return false
	}
	for at := 2; at+4 <= len(data) && data[at] == 0xff; {
		kind := data[at+1]
		switch {
		case kind == 0xda:
			return true // from here on the picture itself
		case kind >= 0xe0 && kind <= 0xef, kind == 0xfe:
			return false
		}
		at += 2 + int(binary.BigEndian.Uint16(data[at+2:]))
	}
	return false
}

// turned is a picture the right way up: orientations 1 to 8 as cameras write them (Exif
// 2.32, tag 274).
func turned(img image.Image, orientation int) image.Image {
	if orientation < 2 || orientation > 8 {
		return img
	}
	b := img.Bounds()
	w, h := b.Dx(), b.Dy()
	size := image.Rect(0, 0, w, h)
	if orientation > 4 {
		size = image.Rect(0, 0, h, w)
	}
	out := image.NewNRGBA(size)
	for y := range h {
		for x := range w {
			u, v := x, y
			switch orientation {
			case 2:
				u = w - 1 - x
			case 3:
				u, v = w-1-x, h-1-y
			case 4:
				v = h - 1 - y
			case 5:
				u, v = y, x
			case 6:
				u, v = h-1-y, x
			case 7:
				u, v = h-1-y, w-1-x
			case 8:
				u, v = y, w-1-x
			}
			out.Set(u, v, img.At(b.Min.X+x, b.Min.Y+y))
		}
	}
	return out
}

// orientation reads how a camera was held from a JPEG file: 1 to 8, 1 where nothing
// says otherwise.
func orientation(data []byte) int {
	if len(data) < 4 || data[0] != 0xff || data[1] != 0xd8 {
		return 1
	}
	for at := 2; at+4 <= len(data) && data[at] == 0xff && data[at+1] != 0xda; {
		size := int(binary.BigEndian.Uint16(data[at+2:]))
		end := at + 2 + size
		if size < 2 || end > len(data) {
			return 1
		}
		if body := data[at+4 : end]; data[at+1] == 0xe1 && bytes.HasPrefix(body, []byte("Exif\x00\x00")) {
			return exifOrientation(body[6:])
		}
		at = end
	}
	return 1
}

// exifOrientation finds tag 274 in the first directory of a TIFF header.
func exifOrientation(tiff []byte) int {
	if len(tiff) < 8 {
		return 1
	}
	var order binary.ByteOrder = binary.LittleEndian
	if tiff[0] == 'M' {
		order = binary.BigEndian
	}
	at := int(order.Uint32(tiff[4:]))
	if at < 8 || at > len(tiff)-2 {
		return 1
	}
	n := int(order.Uint16(tiff[at:]))
	for at += 2; n > 0 && at+12 <= len(tiff); n, at = n-1, at+12 {
		if order.Uint16(tiff[at:]) == 274 {
			if v := int(order.Uint16(tiff[at+8:])); v >= 1 && v <= 8 {
				return v
			}
		}
	}
	return 1
}
