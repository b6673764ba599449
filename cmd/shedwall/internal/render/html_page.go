package render

// The frame of a page and the drawings on it, written as templates/html has them.

// appendParts appends markup and texts in turn, markup first.
func appendParts(b []byte, parts ...string) []byte {
	for i, s := range parts {
		if i%2 == 0 {
			b = append(b, s...)
		} else {
			b = appendHTML(b, s)
		}
	}
	return b
}

// pageHTML appends a page; blocks writes what stands in its middle.
func pageHTML(b []byte, x *viewPage, blocks *shortcuts) ([]byte, error) {
	b = appendParts(b, "<!DOCTYPE html>\n<html lang=\"", x.Lang, `">
<head>
<meta charset="utf-8">
<meta name="viewport" content="width=device-width, initial-scale=1">
<meta http-equiv="Content-Security-Policy" content="default-src 'none'; style-src 'self' file:; img-src 'self' file:; base-uri 'none'; form-action 'none'">
<meta name="referrer" content="no-referrer">
<meta name="color-scheme" content="light dark">
<meta name="description" content="`, x.Description, `">
<title>`, x.Title, `</title>
<link rel="stylesheet" href="`)
	b = append(appendAddress(b, string(x.Style)), "\">\n<link rel=\"alternate\" type=\"text/markdown\" href=\""...)
	b = append(appendAddress(b, string(x.Twin)), `">`...)
	for i := range x.Languages {
		l := &x.Languages[i]
		b = appendParts(b, "\n<link rel=\"alternate\" hreflang=\"", l.Code, `" href="`)
		b = append(appendAddress(b, string(l.Href)), `">`...)
	}
	b = append(b, "\n</head>\n<body"...)
	if x.Large {
		b = append(b, ` class="large"`...)
	}
	b = appendParts(b, ">\n<a class=\"skip\" href=\"#text\">", x.Site.SkipText, "</a>\n<header class=\"top\">\n<p class=\"guide\"><a href=\"")
	b = appendParts(appendAddress(b, string(x.Home)), `">`, x.Site.Title, "</a></p>\n<nav aria-label=\"", x.Site.NavName, "\">\n<ul>")
	b = append(appendNav(b, x.Nav), "\n</ul>\n</nav>"...)
	if len(x.Languages) > 0 {
		b = appendParts(b, "\n<nav class=\"languages\" aria-label=\"", x.Site.LanguageNav, `">`)
		for i := range x.Languages {
			l := &x.Languages[i]
			b = appendAddress(append(b, "\n<a href=\""...), string(l.Href))
			b = appendParts(b, `" lang="`, l.Code, `" hreflang="`, l.Code, `" rel="alternate">`, l.Name, "</a>")
		}
		b = append(b, "\n</nav>"...)
	}
	b = append(b, "\n</header>\n<main id=\"text\" tabindex=\"-1\">\n"...)
	b, err := blocks.append(b, x.Blocks)
	if err != nil {
		return b, err
	}
	b = append(b, "</main>\n<footer class=\"foot\">"...)
	b = append(appendEach(b, "p", x.Foot), "\n<p class=\"twin\"><a href=\""...)
	return appendParts(appendAddress(b, string(x.Twin)), `">`, x.Site.TwinText, "</a></p>\n</footer>\n</body>\n</html>\n"), nil
}

func chartHTML(b []byte, x *viewBlock) []byte {
	c := x.Chart
	b = append(appendID(append(b, `<figure class="chart"`...), c.ID), '>')
	b = appendParts(b, "\n<svg role=\"img\" aria-label=\"", c.Name, `" width="100%" height="`, c.Height, "\">\n<text class=\"axis\" x=\"0\" y=\"14\">", c.YLabel, "</text>")
	for i := range c.Rules {
		y := c.Rules[i].Y
		b = appendParts(b, "\n<line class=\"rule\" x1=\"0\" x2=\"100%\" y1=\"", y, `" y2="`, y, `"/>`)
	}
	for i := range c.Months {
		m := &c.Months[i]
		b = appendParts(b, "\n<line class=\"month\" x1=\"", m.X, `" x2="`, m.X, `" y1="`, c.Top, `" y2="`, c.Foot, `"/>`)
		b = appendParts(b, "\n<text class=\"month\" x=\"", m.Middle, `" y="`, c.Words, `">`, m.Name, "</text>")
	}
	b = appendParts(b, "\n<svg x=\"0\" y=\"", c.Top, `" width="100%" height="`, c.Plot, `" viewBox="0 0 `, c.Days, ` 1000" preserveAspectRatio="none">`)
	for i := range c.Lines {
		l := &c.Lines[i]
		b = appendParts(b, "\n<path class=\"", l.Class, `" vector-effect="non-scaling-stroke" d="`, l.Path, `"/>`)
	}
	b = append(b, "\n</svg>"...)
	for i := range c.Rules {
		r := &c.Rules[i]
		b = appendParts(b, "\n<text class=\"axis\" x=\"2\" y=\"", r.TextY, `">`, r.Text, "</text>")
	}
	for i := range c.Marks {
		m := &c.Marks[i]
		b = appendParts(b, "\n<line class=\"mark\" x1=\"", m.X, `" x2="`, m.X, `" y1="`, c.Top, `" y2="`, c.Foot, `"/>`)
		b = appendParts(b, "\n<text class=\"", m.Class, `" x="`, m.X, `" y="`, m.Y, `" dx="`, m.DX, `">`, m.Label, "</text>")
	}
	b = append(b, "\n</svg>\n<figcaption>\n<ul class=\"key\">"...)
	for i := range c.Lines {
		l := &c.Lines[i]
		b = appendParts(b, "\n<li><svg aria-hidden=\"true\" focusable=\"false\" width=\"44\" height=\"10\"><line class=\"", l.Class, `" x1="1" x2="43" y1="5" y2="5"/></svg> `, l.Name, "</li>")
	}
	return tableHTML(append(b, "\n</ul>\n</figcaption>\n</figure>\n"...), x.Twin)
}

func sketchHTML(b []byte, x *viewBlock) []byte {
	b = append(b, `<p class="sketch"><svg `...)
	if s := x.Sketch; s.Name != "" {
		b = appendParts(b, `role="img" aria-label="`, s.Name, `"`)
	} else {
		b = append(b, `aria-hidden="true" focusable="false"`...)
	}
	b = append(b, ` viewBox="0 0 480 300" fill="none" stroke="currentColor" stroke-linecap="round" stroke-linejoin="round">`...)
	for i := range x.Sketch.Paths {
		p := &x.Sketch.Paths[i]
		b = appendParts(b, "\n<path stroke-width=\"", p.Width, `"`)
		if p.Dash {
			b = append(b, ` stroke-dasharray="11 8"`...)
		}
		b = appendParts(b, ` d="`, p.D, `"/>`)
	}
	return append(b, "\n</svg></p>\n"...)
}
