package page

// Ticks is things to do with a box to tick before each, which prints: some groups with
// their names.
type Ticks struct{ Groups []TickGroup }

// TickGroup is things to do of one kind.
type TickGroup struct {
	Name  string
	Items [][]Inline
}

func (Ticks) block() {}

// LeafTicks is the same on paper, on a leaf of several pages: an item never breaks, its
// name stands with the first of them. Day is printed before the item's text.
type LeafTicks struct {
	Name  string
	Items []LeafTick
}

// LeafTick is one thing to do.
type LeafTick struct{ Day, Text string }

func (LeafTicks) leafBlock() {}
