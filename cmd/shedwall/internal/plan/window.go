// Package plan joins crops, covers and a band's climate into windows: from when
// until when each action is right, at which odds, and for which reasons. Reasons
// are data, never sentences, so that every language and the explain command can
// say them.
package plan

import (
	"shedwall/cmd/shedwall/internal/band"
	"shedwall/cmd/shedwall/internal/catalog"
	"shedwall/cmd/shedwall/internal/quantity"
	"shedwall/cmd/shedwall/internal/record"
)

// Action is one thing to do with a crop.
type Action string

// The actions of a plan. Three ways of starting are never mixed up.
const (
	SowInside   Action = "sow-inside"
	SowOutside  Action = "sow-outside"
	SetOut      Action = "set-out"
	Harvest     Action = "harvest"
	LastSafeDay Action = "last-safe-day" // last fall day without harm; From = To
)

// Actions is every action in the order of the year.
var Actions = []Action{SowInside, SowOutside, SetOut, Harvest, LastSafeDay}

// BoundState says whether an end of a window has a date.
type BoundState uint8

// Dated: Slot holds. Open: nothing limits this end within the season year.
// Never: at these odds there is no such date. NotKnown: a figure is missing.
const (
	NotKnown BoundState = iota
	Dated
	Open
	Never
)

// Bound is one end of a window. PlusMinus is how far off the date may be (days),
// from sampling and from carrying it over from other stations; 0 = not known.
// AtLeast: the true last day is not known, only that it is no earlier than Slot.
// A band has some thirty thousand of them, so it is kept small.
type Bound struct {
	Slot      quantity.Slot
	PlusMinus int16
	Gate      Gate
	State     BoundState
	AtLeast   bool
}

// EndKnown says whether a last day is known, or that nothing ends it or there is none.
func (b Bound) EndKnown() bool { return b.State != NotKnown && !b.AtLeast }

// Window is one action of one crop under one set of layers ("" = open ground) at
// one level of odds. From and To are whole days, both inclusive.
type Window struct {
	Action   Action
	Layers   string
	Odds     quantity.Odds
	From, To Bound
	Reasons  []Reason // in the order of the arithmetic

	Gap  Stretch // days within the window on which it is not done; see Parts
	Hot  Stretch // of a harvest: in half the years too hot for the crop
	Slow Stretch // of a harvest: what stands is picked, but hardly grows
}

// Exists says whether there is anything to do: both ends dated or open, and
// From not after To.
func (w Window) Exists() bool {
	ok := func(b Bound) bool { return b.State == Dated || b.State == Open }
	return ok(w.From) && ok(w.To) && (w.From.State != Dated || w.To.State != Dated || w.From.Slot <= w.To.Slot)
}

// CoverSpan is a stretch of days during which one layer must be on at night.
// From is the evening on which it goes on, To the last evening. Warms: it lies on the bed
// from before the first sowing on, to warm the soil.
type CoverSpan struct {
	Cover    string // cover id
	Level    int    // 0 = nearest the plant
	Event    record.Event
	Warms    bool
	From, To quantity.Slot
}

// LayerPlan is a crop under one set of layers.
type LayerPlan struct {
	Layers               string
	Careful              []Window // one per action that the crop has, in the order of Actions
	Half                 []Window
	Covers               []CoverSpan // for the careful dates
	SpringGain, FallGain int         // days the layers buy against open ground at careful odds
	GainKnown            bool        // of either

	SpringKnown, FallKnown bool   // a gain that is not known is 0
	Work                   []Work // what the earlier and later dates cost in nights and days

	// Risk is how often frost harms what is started on the first careful day and stands
	// to the last safe one: at either end, so more often than each end promises. Not known
	// where there is no start or no end.
	Risk band.SeasonRisk
}

// Find is the window of an action at careful or half odds.
func (l *LayerPlan) Find(odds quantity.Odds, a Action) (Window, bool) {
	if w := l.Window(odds, a); w != nil {
		return *w, true
	}
	return Window{}, false
}

// at is the windows at careful or half odds.
func (l *LayerPlan) at(odds quantity.Odds) []Window {
	if odds == quantity.Half {
		return l.Half
	}
	return l.Careful
}

// Window is Find without a copy, which must not be changed; nil where there is none.
func (l *LayerPlan) Window(odds quantity.Odds, a Action) *Window {
	ws := l.at(odds)
	for i := range ws {
		if ws[i].Action == a {
			return &ws[i]
		}
	}
	return nil
}

// CropPlan is one crop in one band: open ground first, then each offered set of
// layers. Group is A (a hard frost does no harm) to D (none is stood).
type CropPlan struct {
	Crop    *catalog.Crop
	Group   byte
	Layers  []LayerPlan
	LeftOut []Missing // what could not be worked out and for want of which figure
}

// Missing is a figure that nobody gave.
type Missing struct {
	Figure string // heading: "chill_c"; of Want the figure that the gate has
	Want   string // what no station has: "tmax"; "" = the figure itself is wanting
	Used   string // "class" when the class figure stood in, "" when the gate was left out
}
