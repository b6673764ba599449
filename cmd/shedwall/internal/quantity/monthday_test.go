package quantity

import (
	"fmt"
	"testing"
)

func TestMonthDayString(t *testing.T) {
	for _, m := range []int{-1, 0, 1, 9, 10, 12, 99, 100} {
		for _, d := range []int{-5, 0, 1, 9, 10, 31, 99, 123} {
			if got, want := (MonthDay{m, d}).String(), fmt.Sprintf("%02d-%02d", m, d); got != want {
				t.Errorf("%q, want %q", got, want)
			}
		}
	}
}
