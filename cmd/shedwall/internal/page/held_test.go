package page

import (
	"strings"
	"testing"

	"shedwall/cmd/shedwall/internal/quantity"
)

// A harvest that goes on after "safe until" says why: what cold has hardened is picked until
// a night kills it, or all winter where none does. One that ends with it says nothing.
func TestHarvestAfterSafeUntil(t *testing.T) {
	for _, x := range []struct {
		kill float64 // 0 = not known
		want string
	}{{-10, "is still picked until "}, {-40, "it is picked all winter"}, {0, ""}} {
		in := tables()
		in.Crops[0].GrownDamage = known(quantity.Celsius(-5))
		if x.kill != 0 {
			in.Crops[0].WinterKill = known(quantity.Celsius(x.kill))
		}
		text := wordsOn(pageAt(t, Build(input(t, in, quantity.North, nil)), CropPath("kale")))
		if x.want != "" && !strings.Contains(text, x.want) || x.want == "" && strings.Contains(text, "frost may mark it") {
			t.Errorf("killed at %v: want %q in %s", x.kill, x.want, text)
		}
	}
}
