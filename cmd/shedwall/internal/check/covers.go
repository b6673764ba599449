package check

import (
	"fmt"
	"strings"

	"shedwall/cmd/shedwall/internal/catalog"
	"shedwall/cmd/shedwall/internal/diag"
)

const gainsRise = "gains that rise from low over typical to high"

// covers checks gains and the letters that tell offered covers apart.
func (c *checker) covers() {
	used := c.usedCovers()
	letters := map[string]*catalog.Cover{}
	for i := range c.tables.Covers {
		v := &c.tables.Covers[i]
		gain, winter := gains("gain_", v.Gain), gains("winter_gain_", v.Winter)
		c.rising("gain-order", gainsRise, gain...)
		c.rising("gain-order", gainsRise, winter...)
		if first := letters[v.Letter]; used[v.ID] && v.Letter != "" {
			if first != nil {
				c.fault(v.Cell, "cover-letter-twice", fmt.Sprintf("covers %s and %s have the same letter %s", first.ID, v.ID, v.Letter), "a letter of its own for each cover in use", "choose another letter for one of them")
			} else {
				letters[v.Letter] = v
			}
		}
		if used[v.ID] && v.Letter == "" {
			c.fault(v.Cell, "cover-letter-missing", fmt.Sprintf("cover %s is in use and has no letter", v.ID), "one capital letter", "fill in the column letter")
		}
		c.cited(append(append(gain, winter...), of("light_percent", v.LightPercent), of("vent_c", v.Vent), of("wind_kmh", v.WindLimit),
			ofBool("insects_out", v.InsectsOut), of("years", v.Years)))
	}
}

// usedCovers are the covers that are offered, alone or in layers.
func (c *checker) usedCovers() map[string]bool {
	used := map[string]bool{}
	for _, v := range c.tables.Covers {
		used[v.ID] = v.Offered
	}
	for _, y := range c.tables.Layers {
		for _, id := range y.Covers {
			used[id] = used[id] || y.Offered
		}
	}
	return used
}

func gains(prefix string, g catalog.Gain) []value {
	return []value{of(prefix+"low_k", g.Low), of(prefix+"typical_k", g.Typical), of(prefix+"high_k", g.High)}
}

// layers checks that layers are made of covers, and their gains.
func (c *checker) layers() {
	covers := c.coverIDs()
	for i := range c.tables.Layers {
		y := &c.tables.Layers[i]
		for _, id := range y.Covers {
			if !known(id, covers) {
				c.fault(y.Cell, "cover-unknown", fmt.Sprintf("the layers %s hold %q, which is not a cover of this guide", y.ID, id), "covers of covers.csv joined by +, the outermost first", near(id, covers, "choose a cover, or add it"))
			}
		}
		gain := gains("gain_", y.Gain)
		c.rising("gain-order", gainsRise, gain...)
		if y.Measured && !gain[0].known && !gain[1].known {
			c.fault(y.Cell, "layers-not-measured", fmt.Sprintf("the layers %s are said to be measured but have no gain", y.ID), "a low and a typical gain", "fill in the gain, or write no under measured")
		}
		c.cited(gain)
	}
}

// hazardScopes are the words, beside covers, that a hazard may be printed on.
var hazardScopes = []string{"all", "heat", "lamps", "water", "food", "structure", "house", "film", "glass"}

func (c *checker) hazards() {
	names := append(c.coverIDs(), hazardScopes...)
	for i := range c.tables.Hazards {
		h := &c.tables.Hazards[i]
		for _, on := range h.On {
			if !known(on, names) {
				at := h.OnCell
				if at == (diag.Position{}) {
					at = h.Cell
				}
				c.fault(at, "cover-unknown", fmt.Sprintf("the caution %s is about %q, which is not a cover of this guide", h.ID, on), "covers, or "+strings.Join(hazardScopes, ", "), near(on, names, "choose one of them"))
			}
		}
		if h.Source == "" {
			c.warn(h.Cell, "source-missing", fmt.Sprintf("the caution %s has no source", h.ID), "", "fill in the column source")
		}
	}
}
