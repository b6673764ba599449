package plan

import (
	"shedwall/cmd/shedwall/internal/band"
	"shedwall/cmd/shedwall/internal/catalog"
	"shedwall/cmd/shedwall/internal/cover"
	"shedwall/cmd/shedwall/internal/quantity"
	"shedwall/cmd/shedwall/internal/record"
)

// Traced is one question that a plan put to the climate, with the whole answer:
// each station's threshold, date and weight.
type Traced struct {
	For    Action
	Event  record.Event
	Odds   quantity.Odds
	Gates  []band.Gate
	Answer band.Answer
	Sown   Bound // the sowing that comes up no earlier than the answer's date; else the zero Bound
}

// Explanation is everything behind the windows of one crop under one set of
// layers at one level of odds.
type Explanation struct {
	Crop    *catalog.Crop
	Layers  string
	Gain    cover.Gain
	Windows []Window
	Traced  []Traced // the fall question first, then those of the starts
	Film    Stretch  // careful dates: when film lies on the bed to warm its soil; none at half odds
}

// Explain plans a crop once more and keeps every step.
func (p *Planner) Explain(c *band.Climate, crop *catalog.Crop, layers string, odds quantity.Odds) Explanation {
	b := p.bandOf(c)
	x := Explanation{Crop: crop, Layers: layers, Gain: b.book.Gain(layers)}
	open := &LayerPlan{}
	b.under(open, crop, &b.of(crop).limits, b.layersOf(""))
	b.underHalf(open, crop, &b.of(crop).limits, b.layersOf(""))
	if layers != "" { // days to harvest, and what weather takes away, go by open ground
		b.open = open
	}
	b.trace = &x.Traced
	x.Windows = b.windows(crop, &b.of(crop).limits, b.layersOf(layers), odds)
	if Lasting(crop) {
		x.Windows = b.established(crop, x.Windows, b.firstPlanting(open))
	}
	b.trace = nil
	if odds == quantity.Careful {
		x.Film, _ = b.warming(crop, b.layersOf(layers), &LayerPlan{Layers: layers, Careful: x.Windows})
	}
	return x
}

// questions is how many questions have been kept so far.
func (b *bandPlan) questions() int {
	if b.trace == nil {
		return 0
	}
	return len(*b.trace)
}

// forget drops the questions from one number up to another: those of a way that was not
// taken.
func (b *bandPlan) forget(from, to int) {
	if b.trace != nil {
		*b.trace = append((*b.trace)[:from], (*b.trace)[to:]...)
	}
}
