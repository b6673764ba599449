package render

import (
	"math"
	"strconv"
	"strings"

	"shedwall/cmd/shedwall/internal/page"
)

// viewChart is a chart in places on the paper. Across, places are per cent of the
// width, or days for the curves; down, they are pixels, or thousandths of the plot
// for the curves.
type viewChart struct {
	ID, Name, YLabel              string
	Height, Top, Plot, Foot, Days string
	Words                         string // where the words of the months stand
	Rules                         []viewRule
	Months                        []viewMonth
	Lines                         []viewLine
	Marks                         []viewMark
}

type viewRule struct{ Y, TextY, Text string }
type viewMonth struct{ X, Middle, Name string }
type viewLine struct{ Class, Path, Name string }
type viewMark struct{ X, Y, DX, Class, Label string }

// Pixels from the top of a chart: words of the axis, words of the marks, plot,
// words of the months.
const (
	chartTop    = 58
	chartPlot   = 200
	chartMonths = 20
)

func chartView(c page.Chart) *viewChart {
	num := func(x float64) string { return strconv.FormatFloat(x, 'f', -1, 64) }
	whole := func(x float64) string { return strconv.Itoa(int(math.Round(x))) }
	percent := func(day float64) string {
		return strconv.FormatFloat(math.Round(day/float64(c.Days)*1e4)/100, 'f', -1, 64) + "%"
	}
	v := &viewChart{
		ID: c.ID, Name: c.Name, YLabel: c.YLabel,
		Height: num(chartTop + chartPlot + chartMonths), Top: num(chartTop), Plot: num(chartPlot),
		Foot: num(chartTop + chartPlot), Words: num(chartTop + chartPlot + chartMonths - 5), Days: num(float64(c.Days)),
	}
	span := c.YMax - c.YMin
	for _, t := range c.YTicks {
		y := chartTop + chartPlot*(1-(t.At-c.YMin)/span)
		v.Rules = append(v.Rules, viewRule{Y: num(y), TextY: num(y - 3), Text: t.Text})
	}
	for _, m := range c.Months {
		v.Months = append(v.Months, viewMonth{percent(float64(m.From)), percent(float64(m.From+m.To) / 2), m.Name})
	}
	for _, l := range c.Lines {
		v.Lines = append(v.Lines, viewLine{"curve " + l.Dash, curve(l.Y, func(y float64) string { return whole(1000 * (1 - (y-c.YMin)/span)) }), l.Name})
	}
	for i, m := range c.Marks {
		mark := viewMark{X: percent(float64(m.At)), Y: num(float64(chartTop - 8 - 16*(i%2))), DX: "4", Class: "mark", Label: m.Label}
		if 2*m.At > c.Days {
			mark.Class, mark.DX = "mark end", "-4"
		}
		v.Marks = append(v.Marks, mark)
	}
	return v
}

// curve is the path of a line, broken where there is no value. Points on a
// straight run between two others are left out.
func curve(y []float64, place func(float64) string) string {
	var b strings.Builder
	pen := false
	for i, v := range y {
		if math.IsNaN(v) {
			pen = false
			continue
		}
		if pen && i+1 < len(y) && math.Abs((y[i-1]-v)-(v-y[i+1])) < 1e-9 {
			continue
		}
		letter := "M"
		if pen {
			letter = "L"
		}
		b.WriteString(letter + strconv.Itoa(i) + " " + place(v))
		pen = true
	}
	return b.String()
}
