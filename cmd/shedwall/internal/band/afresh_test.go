package band

import (
	"reflect"
	"testing"

	"shedwall/cmd/shedwall/internal/quantity"
	"shedwall/cmd/shedwall/internal/record"
)

// A climate afresh answers as before and knows what its stations said; what callers kept
// and held with it is made again, and stays with the old one.
func TestAfresh(t *testing.T) {
	c := valley(3, 1981, 2010, 0).Climate(bandAt(300, 400))
	ask := func(c *Climate) []Answer {
		return []Answer{c.Date(record.Last, quantity.Careful, Gate{Limit: -1}), c.Remembering().Brief(record.First, quantity.Half, Gate{Series: Week, Limit: 2})}
	}
	before := ask(c)
	c.Curves()
	made := 0
	make := func() any { made++; return made }
	c.Keep("kept", make)
	c.Hold("held", make)
	x := c.Afresh()
	if len(x.kept.said) != len(c.kept.said) || len(c.kept.said) == 0 || x.kept.curves == nil {
		t.Error("what the stations said is lost")
	}
	if !reflect.DeepEqual(ask(x), before) {
		t.Error("it answers otherwise")
	}
	if x.Keep("kept", make) == c.Keep("kept", make) || x.Hold("held", make) == c.Hold("held", make) || made != 4 {
		t.Errorf("what was kept with the old one is kept with the new one: made %d", made)
	}
}
