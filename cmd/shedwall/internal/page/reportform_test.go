package page

import (
	"fmt"
	"slices"
	"strings"
	"testing"

	"shedwall/cmd/shedwall/internal/catalog"
	"shedwall/cmd/shedwall/internal/quantity"
)

// TestFormSaysUnits: a form on paper says in which unit lows are written, and where there are
// two, that one has to be named.
func TestFormSaysUnits(t *testing.T) {
	for units, want := range map[catalog.Units]string{catalog.UnitsBoth: "Low outside, °C or °F", catalog.UnitsC: "Low outside, °C", catalog.UnitsF: "Low outside, °F"} {
		tb := tables()
		tb.Guide.Units = units
		text := leafText(leafAt(t, Build(input(t, tb, quantity.North, nil)), ReportPath("slopes")))
		if !strings.Contains(text, want+"|") || !strings.Contains(text, strings.Replace(want, "outside", "inside", 1)+"|") {
			t.Errorf("units %d: no %q in\n%s", units, want, text)
		}
		if got := strings.Contains(text, "Write °C or °F behind each low"); got != (units == catalog.UnitsBoth) {
			t.Errorf("units %d: told to write the unit: %v", units, got)
		}
	}
}

// TestFormInOrderOfRows: codes stand as on the wall sheets, A2 before A10.
func TestFormInOrderOfRows(t *testing.T) {
	tb := tables()
	for i := range 11 {
		c := tb.Crops[0]
		c.ID, c.Name = fmt.Sprint("kale", i), fmt.Sprint("Kale, no. ", i)
		tb.Crops = append(tb.Crops, c)
	}
	text := strings.ReplaceAll(leafText(leafAt(t, Build(input(t, tb, quantity.North, nil)), ReportPath("slopes"))), "\u00a0", " ")
	var at []int
	for _, code := range []string{"A1 ", "· A2 ", "· A3 ", "· A9 ", "· A10 ", "· A11 ", "· C1 ", "· D1 "} {
		at = append(at, strings.Index(text, code))
	}
	if at[0] < 0 || !slices.IsSorted(at) || slices.Contains(at, -1) {
		t.Errorf("codes at %v of\n%s", at, text)
	}
}
