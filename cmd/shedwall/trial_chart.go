package main

import (
	"fmt"
	"html"
	"io"
	"math"

	"shedwall/cmd/shedwall/internal/cover"
)

// trialChart draws the nights of a trial: the outside minimum to the right, the gain
// upwards, a ring for each night, the line of no gain and that of the middle one.
// Black on white, with a title and a description for those who do not see it.
func trialChart(w io.Writer, t cover.Trial, name string) {
	const wide, high, left, right, top, bottom = 480.0, 320.0, 52.0, 14.0, 14.0, 44.0
	coldest, warmest, least, most := 0.0, 0.0, 0.0, 0.0
	for i, n := range t.Nights {
		o, g := float64(n.Outside), float64(n.Gain())
		if i == 0 {
			coldest, warmest = o, o
		}
		coldest, warmest, least, most = min(coldest, o), max(warmest, o), min(least, g), max(most, g)
	}
	stepX, stepY := gridStep(warmest-coldest), gridStep(most-least)
	coldest, warmest = math.Floor(coldest/stepX)*stepX, max(math.Ceil(warmest/stepX)*stepX, math.Floor(coldest/stepX)*stepX+stepX)
	least, most = math.Floor(least/stepY)*stepY, max(math.Ceil(most/stepY)*stepY, math.Floor(least/stepY)*stepY+stepY)
	x := func(v float64) float64 { return left + (v-coldest)/(warmest-coldest)*(wide-left-right) }
	y := func(v float64) float64 { return top + (most-v)/(most-least)*(high-top-bottom) }
	best, freezing := t.Best()
	which := "all nights"
	if freezing {
		which = "freezing nights"
	}
	fmt.Fprintf(w, `<svg xmlns="http://www.w3.org/2000/svg" viewBox="0 0 %g %g" role="img" aria-labelledby="trial-title trial-desc" font-family="sans-serif" font-size="12">`+"\n", wide, high)
	fmt.Fprintf(w, `<title id="trial-title">Gain of %s, night by night</title>`+"\n", html.EscapeString(name))
	fmt.Fprintf(w, `<desc id="trial-desc">%s. The middle gain of %s is %s K; one night in ten gained less than %s K, one in ten more than %s K.</desc>`+"\n",
		count(len(t.Nights), "night"), which, k1(best.Middle), k1(best.Low), k1(best.High))
	fmt.Fprintf(w, `<rect width="%g" height="%g" fill="white"/>`+"\n", wide, high)
	for v := coldest; v <= warmest+stepX/2; v += stepX {
		fmt.Fprintf(w, `<path d="M%.1f %.1fV%.1f" stroke="#bbb" stroke-width="0.5"/><text x="%.1f" y="%.1f" text-anchor="middle">%s</text>`+"\n",
			x(v), top, high-bottom, x(v), high-bottom+16, number(v, 1))
	}
	for v := least; v <= most+stepY/2; v += stepY {
		fmt.Fprintf(w, `<path d="M%.1f %.1fH%.1f" stroke="#bbb" stroke-width="0.5"/><text x="%.1f" y="%.1f" text-anchor="end">%s</text>`+"\n",
			left, y(v), wide-right, left-6, y(v)+4, number(v, 1))
	}
	fmt.Fprintf(w, `<path d="M%.1f %.1fH%.1f" stroke="black" stroke-width="1"/>`+"\n", left, y(0), wide-right)
	fmt.Fprintf(w, `<path d="M%.1f %.1fH%.1f" stroke="black" stroke-width="1" stroke-dasharray="6 3"/>`+"\n", left, y(float64(best.Middle)), wide-right)
	for _, n := range t.Nights {
		fmt.Fprintf(w, `<circle cx="%.1f" cy="%.1f" r="3" fill="none" stroke="black"/>`+"\n", x(float64(n.Outside)), y(float64(n.Gain())))
	}
	fmt.Fprintf(w, `<text x="%.1f" y="%.1f" text-anchor="middle">minimum outside, °C</text>`+"\n", (left+wide-right)/2, high-8)
	fmt.Fprintf(w, `<text transform="translate(14 %.1f) rotate(-90)" text-anchor="middle">gain, K (dashed: middle of %s)</text>`+"\n", (top+high-bottom)/2, which)
	fmt.Fprintln(w, `</svg>`)
}

// gridStep is a round step that cuts a span into at most eight.
func gridStep(span float64) float64 {
	for _, s := range []float64{0.5, 1, 2, 5} {
		if span/s <= 8 {
			return s
		}
	}
	return 10
}

// floorTenth rounds down to a tenth; what is a tenth but for rounding stays.
func floorTenth(v float64) float64 {
	f := math.Floor(v*10+1e-6) / 10
	if f == 0 {
		return 0 // not -0
	}
	return f
}
