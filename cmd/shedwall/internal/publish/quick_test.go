package publish

import (
	"bytes"
	"os"
	"path/filepath"
	"testing"

	"pgregory.net/rapid"
)

// Any change of a file's bytes must show, those that leave its length as it was too.
func TestQuickShowsChanges(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		data := rapid.SliceOfN(rapid.Byte(), 1, 3000).Draw(t, "data")
		i, j := rapid.IntRange(0, len(data)-1).Draw(t, "i"), rapid.IntRange(0, len(data)-1).Draw(t, "j")
		other := bytes.Clone(data)
		switch rapid.SampledFrom([]string{"byte", "swap", "cut", "longer"}).Draw(t, "change") {
		case "byte":
			other[i] ^= rapid.ByteRange(1, 255).Draw(t, "by")
		case "swap":
			other[i], other[j] = other[j], other[i]
		case "cut":
			other = other[:i]
		case "longer":
			other = append(other, 0)
		}
		if same := bytes.Equal(data, other); (quickOf(data) == quickOf(other)) != same {
			t.Errorf("%x and %x: the same quick sum, the same bytes: %v", data, other, same)
		}
	})
}

// A file is summed as its bytes are, whatever its size beside the buffer's.
func TestQuickOfFile(t *testing.T) {
	for _, size := range []int{0, 1, 64<<10 - 1, 64 << 10, 64<<10 + 1, 1 << 20} {
		data := bytes.Repeat([]byte("frost"), size/5+1)[:size]
		name := filepath.Join(t.TempDir(), "file")
		if err := os.WriteFile(name, data, 0o600); err != nil {
			t.Fatal(err)
		}
		q, err := quickOfFile(name)
		if err != nil {
			t.Fatal(err)
		}
		if q != quickOf(data) || q.length != int64(size) {
			t.Errorf("a file of %d bytes: %v, its bytes: %v", size, q, quickOf(data))
		}
	}
	if _, err := quickOfFile(filepath.Join(t.TempDir(), "none")); err == nil {
		t.Error("a file that is not there has a quick sum")
	}
}

// Sums published by others: RFC 3720, appendix B.4 (CRC-32C of 32 bytes of zeros), and the
// check values of both for "123456789". All from memory.
func TestQuickBesidePublishedSums(t *testing.T) {
	if q := quickOf(make([]byte, 32)); q.castagnoli != 0x8a9136aa {
		t.Errorf("CRC-32C of 32 zeros is %08x", q.castagnoli)
	}
	if q := quickOf([]byte("123456789")); q.ieee != 0xcbf43926 || q.castagnoli != 0xe3069283 {
		t.Errorf("of 123456789: %08x %08x", q.ieee, q.castagnoli)
	}
}
