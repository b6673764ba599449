package render

import (
	"compress/zlib"
	"fmt"
	"io"
	"sync"

	fast "github.com/klauspost/compress/zlib"
)

// compressor is what both libraries call zlib.Writer.
type compressor interface {
	io.WriteCloser
	Reset(to io.Writer)
}

// packer is a compressor with the place it writes to. It is up to 800 kB of tables: making
// one for each stream of each PDF cost more than compressing, so that they are kept and
// used again.
type packer struct {
	z   compressor
	out []byte
}

func (p *packer) Write(b []byte) (int, error) {
	p.out = append(p.out, b...)
	return len(b), nil
}

func packersOf(level int, open func(to io.Writer, level int) (compressor, error)) *sync.Pool {
	return &sync.Pool{New: func() any {
		p := &packer{}
		z, err := open(p, level)
		if err != nil {
			panic("render: " + err.Error())
		}
		p.z = z
		return p
	}}
}

// Fonts are packed once and stand in every file: small. The rest of a PDF is packed once
// for each: quickly, by a library that takes half the time of Go's own for it. What it
// decides rests on whole numbers and on fractions that come out the same with and without
// fused multiplication, and none of it is assembly: every machine packs alike.
var thorough, quick = packersOf(zlib.DefaultCompression, openSmall), packersOf(fast.BestSpeed, openFast)

func openSmall(to io.Writer, level int) (compressor, error) { return zlib.NewWriterLevel(to, level) }
func openFast(to io.Writer, level int) (compressor, error)  { return fast.NewWriterLevel(to, level) }

// pack appends data to out, compressed as zlib (RFC 1950) does.
func pack(with *sync.Pool, out, data []byte) []byte {
	p := with.Get().(*packer)
	defer with.Put(p)
	p.out = out
	p.z.Reset(p)
	_, err := p.z.Write(data)
	if err2 := p.z.Close(); err == nil {
		err = err2
	}
	if err != nil {
		panic(fmt.Sprintf("render: writing to memory failed: %v", err))
	}
	out, p.out = p.out, nil
	return out
}
