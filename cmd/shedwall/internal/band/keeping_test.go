package band

import (
	"reflect"
	"testing"

	"shedwall/cmd/shedwall/internal/quantity"
	"shedwall/cmd/shedwall/internal/record"
)

// What is forgotten is worked out again, and is the same; a plan that is still being made
// goes on with what it has.
func TestForgotten(t *testing.T) {
	c := valley(3, 1981, 2010, 0).Climate(bandAt(300, 400))
	plan := c.Remembering()
	ask := func(c *Climate) (out []Answer) {
		for _, limit := range []quantity.Celsius{-4, -1, 0, 2} {
			out = append(out, c.Brief(record.Last, quantity.Careful, Gate{Limit: limit}, Gate{Series: Week, Limit: limit}))
			at, ok := c.Curves().At(record.First, quantity.Half, Gate{Limit: limit})
			if !ok {
				t.Fatalf("%v lies off the curves", limit)
			}
			out = append(out, *at)
		}
		return out
	}
	before := ask(plan)
	if len(c.kept.said) == 0 || c.kept.curves == nil {
		t.Fatal("nothing is kept, so nothing can be forgotten")
	}
	c.Forget()
	if len(c.kept.said) > 0 || c.kept.curves != nil {
		t.Error("something is kept still")
	}
	for _, x := range []*Climate{plan, c.Remembering()} {
		if got := ask(x); !reflect.DeepEqual(got, before) {
			t.Errorf("after forgetting\n%v\nbefore\n%v", got, before)
		}
	}
}
