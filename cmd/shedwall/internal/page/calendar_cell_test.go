package page

import "testing"

func TestCellsThatSpreadsheetsWouldRun(t *testing.T) {
	for in, want := range map[string]string{
		"": "", "Kale": "Kale", "-2": "-2", "-2.5": "-2.5", "12-5": "12-5",
		"=1+1": "'=1+1", "+49 30": "'+49 30", "@home": "'@home", "-x": "'-x", "-": "'-", "-inf": "'-inf", "-1e3": "'-1e3", "+5": "+5", "-2+3": "'-2+3",
		"\t=1": "'\t=1", "\r=1": "'\r=1",
	} {
		if got := safeCell(in); got != want {
			t.Errorf("%q becomes %q, want %q", in, got, want)
		}
	}
}
