package words

import (
	"strings"
	"testing"

	"pgregory.net/rapid"
)

// TestPhraseFilled: where the braces are may be looked up before: any text is filled as one
// is that is read from its beginning each time.
func TestPhraseFilled(t *testing.T) {
	pieces := rapid.SampledFrom([]string{"{", "}", "{a}", "{b}", "{none}", "{}", "a", "b", "in ", "é"})
	pairs := rapid.SampledFrom([][]string{nil, {"a", "1"}, {"a", "{b}", "b", ""}, {"a", "x", "a", "y", "b"}, {"b", "long words", "", "empty", "a", "}"}})
	slots := 0
	rapid.Check(t, func(t *rapid.T) {
		text := strings.Join(rapid.SliceOfN(pieces, 0, 9).Draw(t, "text"), "")
		with := pairs.Draw(t, "pairs")
		p := phraseOf(text)
		slots += len(p.slots)
		if got, want := p.filled(with), fill(text, with); got != want {
			t.Errorf("%q with %q is %q, want %q", text, with, got, want)
		}
	})
	if slots == 0 {
		t.Error("no phrase had a slot")
	}
}
