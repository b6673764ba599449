package render

import "testing"

// TestText: text strings in PDF's own encoding where it has all letters, else in UTF-16
// with its mark. Codes: ISO 32000-1, Annex D.2 and 7.9.2.2.
func TestText(t *testing.T) {
	for in, want := range map[string]string{
		"":              "()",
		`a (b) \ c`:     `(a \(b\) \\ c)`,
		"4–8 °C −2 año": "(4\x858 \xb0C \x8a2 a\xf1o)",
		"a\r\nb":        `(a\r\nb)`,
		"€ ž":           "(\xa0 \x9e)",
		"1\u00a0m":      "(\xfe\xff\x001\x00\xa0\x00m)",
		"þþ":            "(\xfe\xff\x00\xfe\x00\xfe)",
		"(≤":            "(\xfe\xff\x00\\(\x22\x64)",
		"\U0001F33F":    "(\xfe\xff\xd8\x3c\xdf\x3f)",
	} {
		if got := string(appendText(nil, in)); got != want {
			t.Errorf("%q: %q, want %q", in, got, want)
		}
	}
}

func TestHundredths(t *testing.T) {
	for in, want := range map[int]string{0: "0", 7: "0.07", 70: "0.7", 100: "1", 59528: "595.28", 1205: "12.05", 99999: "999.99", 100000: "1000", 1234567: "12345.67", -100: "-1", 900: "9", 1000: "10", -5: "-0.05", -1230: "-12.3"} {
		if got := string(appendHundredths(nil, in)); got != want {
			t.Errorf("%d: %s, want %s", in, got, want)
		}
	}
}
