package words

import (
	"strings"
	"testing"

	"pgregory.net/rapid"
)

// TestPhraseFilled: values are put into any text as the library's replacer of texts puts them.
func TestPhraseFilled(t *testing.T) {
	pieces := rapid.SampledFrom([]string{"{", "}", "{a}", "{b}", "{none}", "{}", "a", "b", "in ", "é"})
	pairs := rapid.SampledFrom([][]string{nil, {"a", "1"}, {"a", "{b}", "b", ""}, {"a", "x", "a", "y", "b"}, {"b", "long words", "", "empty", "a", "}"}})
	slots := 0
	rapid.Check(t, func(t *rapid.T) {
		text := strings.Join(rapid.SliceOfN(pieces, 0, 9).Draw(t, "text"), "")
		with := pairs.Draw(t, "pairs")
		var replaced []string
		for i := 0; i+1 < len(with); i += 2 {
			replaced = append(replaced, "{"+with[i]+"}", with[i+1])
		}
		p := phraseOf(text)
		slots += len(p.slots)
		if got, want := p.filled(with), strings.NewReplacer(replaced...).Replace(text); got != want {
			t.Errorf("%q with %q is %q, want %q", text, with, got, want)
		}
	})
	if slots == 0 {
		t.Error("no phrase had a slot")
	}
}
