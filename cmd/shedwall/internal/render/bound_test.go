package render

import "testing"

func TestFiguresStayWithTheirWord(t *testing.T) {
	var words wordStore
	for in, want := range map[string]string{
		"":                         "",
		"4 May":                    "4\u00a0May",
		"from 4 May to 12 June":    "from 4\u00a0May to 12\u00a0June",
		"del 4 de mayo al 12":      "del 4\u00a0de\u00a0mayo al 12",
		"−2.2 °C (28 °F)":          "−2.2\u00a0°C (28\u00a0°F)",
		"1 to 2, 3 4":              "1\u00a0to 2, 3 4",
		"B1 ":                      "B1 ",
		"no figure at all":         "no figure at all",
		"160 days, 2 de 3 años, x": "160\u00a0days, 2\u00a0de\u00a03\u00a0años, x",
	} {
		if got := bindFigures(&words, in); got != want {
			t.Errorf("bindFigures(%q) = %q, want %q", in, got, want)
		}
	}
}
