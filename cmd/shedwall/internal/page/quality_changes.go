package page

import (
	"shedwall/cmd/shedwall/internal/record"
)

// changes lists what records tell of their stations within the years used: moves and
// other hours of reading. Nothing where they tell of none.
func (b *builder) changes() []Block {
	l := List{}
	for _, s := range b.Region.Stations {
		for _, c := range s.Record.Changes {
			if y, _, _ := c.Day.Date(); y < s.First || y > s.Last {
				continue
			}
			key := "quality.change.moved"
			if c.What == record.OtherHour {
				key = "quality.change.hour"
			}
			l.Items = append(l.Items, b.say(key, "station", s.Row.Name, "date", b.words.DateFull(c.Day), "before", c.Before, "after", c.After))
		}
	}
	if len(l.Items) == 0 {
		return nil
	}
	return []Block{para(Inline{Text: b.t("quality.changes")}), l}
}
