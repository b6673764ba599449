package words

import (
	"strconv"
	"sync"
	"testing"

	"shedwall/cmd/shedwall/internal/diag"
	"shedwall/cmd/shedwall/internal/quantity"
)

// Dates are the same however often and by however many they are asked for; what is no date
// of a year is worded all the same.
func TestDatesAgain(t *testing.T) {
	var entries []Entry
	add := func(key, text string) {
		entries = append(entries, Entry{Key: key, Text: map[string]string{"en": text}})
	}
	add("date", "{day} {month}")
	add("date.short", "{day}. {month}")
	for m := range 15 {
		add("month."+strconv.Itoa(m), "Month"+strconv.Itoa(m))
		add("month.short."+strconv.Itoa(m), "M"+strconv.Itoa(m))
	}
	b := NewBook(entries, "en", Both, &diag.List{})
	var asking sync.WaitGroup
	for range 4 {
		asking.Go(func() {
			for m := range 15 {
				for d := range 40 {
					md := quantity.MonthDay{Month: m, Day: d}
					if got, want := b.Date(md), strconv.Itoa(d)+" Month"+strconv.Itoa(m); got != want {
						t.Errorf("%q, want %q", got, want)
					}
					if got, want := b.DateShort(md), strconv.Itoa(d)+". M"+strconv.Itoa(m); got != want {
						t.Errorf("%q, want %q", got, want)
					}
				}
			}
		})
	}
	asking.Wait()
}
