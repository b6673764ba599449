package diag

import "testing"

func TestNearest(t *testing.T) {
	known := []string{"kale", "leek", "lettuce_head", "lettuce_leaf", "sumpney_hollow", "tomato"}
	for name, want := range map[string]string{
		"kael":         "kale",   // a swap is one slip
		"tomatoe":      "tomato", // an insert
		"lettuce_laef": "lettuce_leaf",
		"sumpney":      "sumpney_hollow", // the only one that begins so
		"lettuce":      "",               // two begin so: none is better
		"quince":       "",
		"":             "",
	} {
		if got := Nearest(name, known); got != want {
			t.Errorf("Nearest(%q) = %q, want %q", name, got, want)
		}
	}
}
