package render

import (
	"slices"

	"shedwall/cmd/shedwall/internal/page"
)

// stackMarks gives each label a row of its own, where lines lie so close together that no
// label keeps off the others' lines: on a mild coast the last freeze of one winter and the
// first of the next fall into the same weeks. The left of two lines has its label to the
// left, the right one to the right. false where a label is wider than the calendar.
func stackMarks(marks []page.SheetMark, m *measures, cal calendar) ([]placedMark, bool) {
	const edge = 0.8 // mm
	order := make([]int, len(marks))
	for i := range order {
		order[i] = i
	}
	slices.SortStableFunc(order, func(a, b int) int { return marks[a].At - marks[b].At })
	placed := make([]placedMark, len(marks))
	for n, i := range order {
		share := 0.97
		if n > 0 && n >= len(marks)/2 {
			share = 0.03
		}
		w, x := textWidth(marks[i].Label, bold, m.mark), cal.at(marks[i].At)
		left := min(max(x-share*w, cal.x0+edge), cal.x1-edge-w)
		if left < cal.x0 {
			return nil, false
		}
		placed[i] = placedMark{SheetMark: marks[i], x: x, box: span{left, left + w}, row: n}
	}
	return placed, len(marks) > 0
}
