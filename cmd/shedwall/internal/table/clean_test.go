package table

import (
	"testing"

	"pgregory.net/rapid"
)

// A text that is taken as it stands is one that cleaning would leave as it stands, and most
// texts of Spanish and English are taken so.
func TestSettled(t *testing.T) {
	for s, want := range map[string]bool{
		"": true, "a": true, "Sow in April.": true, "¿Cuándo siembro? A 5 °C, según «mi» año": true,
		" a": false, "a ": false, "a  b": false, "a\nb": false, "a\tb": false, "a\u00a0b": false,
		"a\u0085b": false, "a\u007fb": false, "e\u0301": false, "a\u2009b": false, "\xff": false, "a\u200b": false, " ": false,
	} {
		if got := settled(s); got != want {
			t.Errorf("settled(%q) is %v", s, got)
		}
	}
	sign := rapid.OneOf(rapid.SampledFrom([]rune("ab  \t\n\u0085\u00a0\u00ad\u0301\u0327éñÅ–\u2009\u200b\ufeff")), rapid.Rune(), rapid.Int32Range(0, 0x180))
	rapid.Check(t, func(t *rapid.T) {
		if s := string(rapid.SliceOfN(sign, 0, 8).Draw(t, "text")); settled(s) && cleaned(s) != s {
			t.Errorf("%q is taken as it stands, cleaned it is %q", s, cleaned(s))
		}
	})
}
