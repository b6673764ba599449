package render

import (
	"bytes"
	"compress/zlib"
	"crypto/sha256"
	"encoding/hex"
	"io"
	"testing"

	fast "github.com/klauspost/compress/zlib"
)

// operatorsLike is a page of lines, texts and bytes without any order, as long as asked.
func operatorsLike(long int) []byte {
	var b []byte
	x := uint32(1)
	for i := 0; len(b) < long; i++ {
		x = x*1664525 + 1013904223 // Numerical Recipes' congruence
		b = append(appendHundredths(b, int(x>>16)), ' ')
		b = append(appendHundredths(b, 100*i), " m\n"...)
		if i%7 == 0 {
			b = append(append(b, "BT\n("...), byte(x>>24), byte(x>>16), byte(x>>8), byte(i))
			b = append(b, ") Tj\nET\n"...)
		}
	}
	return b[:long]
}

// TestPackedAlike: a packer that was used before packs as a new one does, other programs
// read it, and every machine packs alike. The sum was found on amd64 and is the same there
// with fused multiplication (GOAMD64=v3) and on 386; a new version of the library may
// change it.
func TestPackedAlike(t *testing.T) {
	const want = "f7e629da4a9288377d672dd10a65162d64084b619884506886d68f1ede5f9c23"
	all := sha256.New()
	for range 2 {
		for _, long := range []int{0, 1, 20, 100, 5_000, 60_000, 200_000} { // blocks end at 64 kB
			data := operatorsLike(long)
			fresh := pack(packersOf(fast.BestSpeed, openFast), nil, data)
			again := pack(quick, []byte("before"), data)
			if !bytes.Equal(again, append([]byte("before"), fresh...)) {
				t.Errorf("%d bytes: packed in another way by a packer that was used before", long)
			}
			z, err := zlib.NewReader(bytes.NewReader(fresh))
			if err != nil {
				t.Fatal(err)
			}
			if back, err := io.ReadAll(z); err != nil || !bytes.Equal(back, data) {
				t.Errorf("%d bytes: %d come back (%v)", long, len(back), err)
			}
			all.Write(fresh)
		}
	}
	if got := hex.EncodeToString(all.Sum(nil)); got != want {
		t.Errorf("packed to the sum %s, want %s", got, want)
	}
}
