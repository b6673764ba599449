package catalog

import (
	"slices"
	"testing"
)

// By hand: November to February goes over the New Year; spans give it back whole.
func TestMonths(t *testing.T) {
	if got := MonthRange(11, 2); !slices.Equal(got.List(), []int{1, 2, 11, 12}) || got.Count() != 4 {
		t.Errorf("11-2 is %v", got.List())
	}
	if got := MonthSet(11, 12, 1, 5, 0, 13).Spans(); !slices.Equal(got, [][2]int{{5, 5}, {11, 1}}) {
		t.Errorf("spans %v", got)
	}
	if got := MonthRange(1, 12).Spans(); !slices.Equal(got, [][2]int{{1, 12}}) {
		t.Errorf("all year %v", got)
	}
	if MonthRange(4, 4) != MonthSet(4) || MonthSet().Spans() != nil || MonthSet(4).Has(5) || !MonthSet(12).Has(12) {
		t.Error("single months")
	}
}
