package page

import (
	"math"

	"shedwall/cmd/shedwall/internal/band"
	"shedwall/cmd/shedwall/internal/quantity"
	"shedwall/cmd/shedwall/internal/record"
)

// notOnce is how many winters on record stayed above a limit, where all did; else 0.
func notOnce(c *band.Climate, limit quantity.Celsius) int {
	const all = 1 - 1e-9 // shares of stations are added up
	if w := c.Wintering(limit, 0); w.Known && w.Share >= all {
		return w.Winters
	}
	return 0
}

// answerAt is answer for the air that cools to a limit: a cold that is too seldom to wait for
// may never have come at all.
func (b *builder) answerAt(c *band.Climate, a band.Answer, limit quantity.Celsius) string {
	if a.State == band.NoneNeeded {
		if n := notOnce(c, limit); n > 0 {
			return b.t("answer.not_once", "winters", b.words.Int(n))
		}
	}
	return b.answer(a)
}

// freezeDetail says more of a freeze of a band: its odds, and when it comes in half the years.
// Nothing where it never came.
func (b *builder) freezeDetail(m *bandPage, key string, e record.Event) []Inline {
	careful, half := m.careful[e], m.half[e]
	odds := b.words.Odds(quantity.Careful)
	switch {
	case careful.State == band.NoneNeeded:
		if notOnce(m.in.Climate, 0) > 0 {
			return nil
		}
		return b.say("band.facts.seldom", "odds", odds)
	case careful.State != band.Dated:
		return b.say("band.facts."+key+".half", "half", b.answer(half))
	case half.State == band.NoneNeeded:
		return b.say("band.facts."+key+".rare", "odds", odds)
	}
	return b.say("band.facts."+key+".detail", "odds", odds, "half", b.answer(half))
}

// free is the days without frost of a band in words, and what they are.
func (b *builder) free(m *bandPage) (days string, detail []Inline) {
	switch {
	case m.freeKnown:
		return b.words.Days(m.frostFree), b.say(b.typedOr("band.facts.free.detail.typed", "band.facts.free.detail"))
	case m.half[record.Last].State == band.NoneNeeded && m.half[record.First].State == band.NoneNeeded:
		if notOnce(m.in.Climate, 0) > 0 {
			return b.t("free.year"), nil
		}
		return b.t("free.most"), nil
	}
	return b.t("not_known"), b.say(b.typedOr("band.facts.free.detail.typed", "band.facts.free.detail"))
}

// drawn says whether the chart has anything to show: years that freeze.
func (c *Chart) drawn() bool {
	for _, line := range c.Lines {
		for _, y := range line.Y {
			if y > 0 && !math.IsNaN(y) {
				return true
			}
		}
	}
	return false
}

// chartBlocks is the chart of a band with how to read it; where nothing ever freezes, that.
func (b *builder) chartBlocks(m *bandPage) []Block {
	ch := m.twice.chart()
	if !ch.drawn() {
		return []Block{para(Inline{Text: b.t("chart.nothing")})}
	}
	text := b.t("chart.intro")
	if len(ch.Marks) > 0 {
		text += " " + b.t("chart.intro.marks")
	}
	return []Block{para(Inline{Text: text}), ch}
}
