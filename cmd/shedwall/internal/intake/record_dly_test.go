package intake

import (
	"encoding/binary"
	"strconv"
	"strings"
	"testing"
)

// slowNumber reads five characters one by one, as the format is described: blanks, then
// perhaps a minus, then digits; all blank is missing.
func slowNumber(s string) (n int, ok bool) {
	digits := strings.TrimLeft(s, " ")
	if digits == "" {
		return dlyMissing, true
	}
	for _, c := range strings.TrimPrefix(digits, "-") {
		if c < '0' || c > '9' {
			return 0, false
		}
	}
	n, err := strconv.Atoi(digits)
	return n, err == nil
}

// Every word of five characters of an alphabet with all kinds of neighbours, and every
// number that fits.
func TestPaddedNumber(t *testing.T) {
	check := func(word string) {
		cell := binary.LittleEndian.Uint64([]byte(word + "XYZ"))
		n, bad := paddedNumber(cell)
		want, ok := slowNumber(word)
		if ok != (bad == 0) || ok && n != want {
			t.Fatalf("%q: %d, fault %x; want %d, %v", word, n, bad, want, ok)
		}
	}
	const alphabet = " -0159:/!)+.a\t\x8d\xff"
	var word [5]byte
	var fill func(k int)
	fill = func(k int) {
		if k == len(word) {
			check(string(word[:]))
			return
		}
		for i := range len(alphabet) {
			word[k] = alphabet[i]
			fill(k + 1)
		}
	}
	fill(0)
	for n := -9999; n <= 99999; n++ {
		s := strconv.Itoa(n)
		check(strings.Repeat(" ", 5-len(s)) + s)
	}
}
