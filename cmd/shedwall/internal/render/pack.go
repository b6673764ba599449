package render

import (
	"bytes"
	"compress/zlib"
	"fmt"
	"sync"
)

// A compressor is some 800 kB of tables: making one for each stream of each PDF cost
// more than compressing, so that they are kept and used again.
var packers = sync.Pool{New: func() any {
	return zlib.NewWriter(nil)
}}

// pack compresses data as zlib (RFC 1950) does.
func pack(data []byte) []byte {
	var out bytes.Buffer
	z := packers.Get().(*zlib.Writer)
	defer packers.Put(z)
	z.Reset(&out)
	_, err := z.Write(data)
	if err2 := z.Close(); err == nil {
		err = err2
	}
	if err != nil {
		panic(fmt.Sprintf("render: writing to memory failed: %v", err))
	}
	return out.Bytes()
}
