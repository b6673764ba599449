package render

import (
	"compress/zlib"
	"fmt"
	"sync"
)

// operators are what pages are drawn to before they are packed: some 30 to 60 kB each.
var operators = sync.Pool{New: func() any { b := make([]byte, 0, 1<<16); return &b }}

func openOperators() []byte { return (*operators.Get().(*[]byte))[:0] }

// closeOperators takes a page back that nobody reads any more.
func closeOperators(page []byte) { operators.Put(&page) }

// packer is a compressor with the place it writes to. It is up to 800 kB of tables: making
// one for each stream of each PDF cost more than compressing, so that they are kept and
// used again.
type packer struct {
	z   *zlib.Writer
	out []byte
}

func (p *packer) Write(b []byte) (int, error) {
	p.out = append(p.out, b...)
	return len(b), nil
}

func packersOf(level int) *sync.Pool {
	return &sync.Pool{New: func() any {
		p := &packer{}
		z, err := zlib.NewWriterLevel(p, level)
		if err != nil {
			panic("render: " + err.Error())
		}
		p.z = z
		return p
	}}
}

// Fonts are packed once and stand in every file: small. The rest of a PDF is
// packed once for each: quickly, for a fifth of the time and a tenth more of the file.
var thorough, quick = packersOf(zlib.DefaultCompression), packersOf(zlib.BestSpeed)

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
