package check

import "shedwall/cmd/shedwall/internal/catalog"

// begun warns of a guide that still has the made-up rows it began with.
func (c *checker) begun() {
	at, ok := c.tables.Guide.Cells["contact"]
	if ok && c.tables.Guide.Contact == catalog.BeginContact {
		c.warn(at, "begun-contact", "the contact is still the one that a new guide begins with", "an address at which readers reach you", "write your own; while it stands here, do not give the guide to anybody")
	}
	for i := range c.tables.Stations {
		if s := &c.tables.Stations[i]; s.ID == catalog.BeginStation {
			c.warn(s.Cell, "begun-station", "the weather station is still the made-up one that a new guide begins with", "a station near you, with its own name", "write your station here and its dates in data/freeze.csv; no date of the guide is true before")
		}
	}
}
