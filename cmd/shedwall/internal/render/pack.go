package render

import (
	"compress/zlib"
	"encoding/binary"
	"fmt"
	"io"
	"sync"

	"github.com/klauspost/compress/flate"
)

// compressor is a zlib.Writer of one library and a flate.Writer of the other.
type compressor interface {
	io.WriteCloser
	Reset(to io.Writer)
}

// packer is a compressor with the place it writes to. It is up to 800 kB of tables: making
// one for each stream of each PDF cost more than compressing, so that they are kept and
// used again.
type packer struct {
	z    compressor
	bare bool // z writes neither the head nor the sum that zlib has
	out  []byte
}

func (p *packer) Write(b []byte) (int, error) {
	p.out = append(p.out, b...)
	return len(b), nil
}

func packersOf(bare bool, open func(to io.Writer) (compressor, error)) *sync.Pool {
	return &sync.Pool{New: func() any {
		p := &packer{bare: bare}
		z, err := open(p)
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
var thorough, quick = packersOf(false, openSmall), packersOf(true, openFast)

func openSmall(to io.Writer) (compressor, error) {
	return zlib.NewWriterLevel(to, zlib.DefaultCompression)
}
func openFast(to io.Writer) (compressor, error) { return flate.NewWriter(to, flate.BestSpeed) }

// fastHead is the head of zlib for data that were packed as fast as can be, in a window of
// 32 kB (RFC 1950, 2.2).
const fastHead = "\x78\x01"

// pack appends data to out, compressed as zlib (RFC 1950) does.
func pack(with *sync.Pool, out, data []byte) []byte {
	p := with.Get().(*packer)
	defer with.Put(p)
	p.out = out
	if p.bare {
		p.out = append(p.out, fastHead...)
	}
	p.z.Reset(p)
	_, err := p.z.Write(data)
	if err2 := p.z.Close(); err == nil {
		err = err2
	}
	if err != nil {
		panic(fmt.Sprintf("render: writing to memory failed: %v", err))
	}
	out, p.out = p.out, nil
	if p.bare {
		out = binary.BigEndian.AppendUint32(out, adler32(data))
	}
	return out
}

// adler32 is the sum that ends a zlib stream (RFC 1950, 8.2): a is one and all bytes, b the
// sum of a after each of them. Eight bytes are taken at a time, those at even places and
// those at odd ones as four numbers of 16 bits each; after eight times eight the four are
// added up, each as often as it comes in b: the highest 16 bits of a product. Nothing in
// them grows beyond 16 bits on the way. Go's own, byte by byte, took a tenth of the time of
// packing.
func adler32(data []byte) uint32 {
	const (
		prime = 65521
		once  = 1<<48 | 1<<32 | 1<<16 | 1
		even  = 8<<48 | 6<<32 | 4<<16 | 2 // bytes 0, 2, 4 and 6 of eight
		odd   = 7<<48 | 5<<32 | 3<<16 | 1
		lanes = 0x00ff00ff00ff00ff
		most  = 1 << 20 // so many bytes at once overflow nothing
	)
	a, b := uint64(1), uint64(0)
	for len(data) > 0 {
		part := data[:min(len(data), most)]
		data = data[len(part):]
		for ; len(part) >= 64; part = part[64:] {
			var xs, ys, before uint64
			for i := 0; i < 64; i += 8 {
				v := binary.LittleEndian.Uint64(part[i : i+8 : 64])
				before += xs + ys
				xs += v & lanes
				ys += v >> 8 & lanes
			}
			b += 64*a + before*once>>48*8 + xs*even>>48 + ys*odd>>48
			a += (xs + ys) * once >> 48
		}
		for _, c := range part {
			a += uint64(c)
			b += a
		}
		a, b = a%prime, b%prime
	}
	return uint32(b<<16 | a)
}
