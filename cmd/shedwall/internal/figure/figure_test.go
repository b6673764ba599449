package figure

import "testing"

// A blank keeps the deeper figure, a value and a declared unknown replace it, and
// a zero is a value like any other.
func TestOver(t *testing.T) {
	blank, zero, five := Of[float64]{}, Is(0.0, Cell{Line: 2}, "a"), Is(5.0, Cell{Line: 3}, "b")
	unknown := NotKnown[float64](Cell{Line: 4})
	for name, x := range map[string]struct{ near, deep, want Of[float64] }{
		"blank over value":   {blank, five, five},
		"zero over value":    {zero, five, zero},
		"unknown over value": {unknown, five, unknown},
		"value over unknown": {five, unknown, five},
		"blank over unknown": {blank, unknown, unknown},
		"blank over blank":   {blank, blank, blank},
	} {
		if got := x.near.Over(x.deep); got != x.want {
			t.Errorf("%s: %+v, want %+v", name, got, x.want)
		}
	}
	if v, ok := zero.Get(); v != 0 || !ok {
		t.Error("0 is known")
	}
	for _, f := range []Of[float64]{blank, unknown} {
		if _, ok := f.Get(); ok || f.Known() {
			t.Errorf("%+v is known", f)
		}
	}
}

// With converts a value and keeps everything that makes it trustworthy; what is
// not known is not converted.
func TestWith(t *testing.T) {
	f := Is(5.0, Cell{File: "crops.csv", Line: 3}, "osu")
	f.Qualifier, f.Owner = "<", Own
	g := With(f, func(v float64) int { return int(v) * 2 })
	if v, ok := g.Get(); v != 10 || !ok || g.Cell != f.Cell || g.Source != "osu" || g.Qualifier != "<" || g.Owner != Own {
		t.Errorf("%+v", g)
	}
	u := With(NotKnown[float64](Cell{Line: 9}), func(float64) int { t.Error("converted what is not known"); return 1 })
	if u.Known() || u.State != Unknown || u.Cell.Line != 9 {
		t.Errorf("%+v", u)
	}
}
