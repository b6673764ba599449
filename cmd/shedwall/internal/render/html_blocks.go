package render

// The shortcuts of HTML: what templates/html makes of a block.

// htmlStands are the templates that the shortcut of a kind stands for.
var htmlStands = map[string][]string{
	"heading": {"heading", "id"}, "para": nil, "list": {"list"}, "table": {"table", "id"},
	"facts": {"facts"}, "ticks": {"ticks"}, "contents": {"contents"}, "note": nil,
	"chart": {"chart", "table", "id"}, "sketch": {"sketch"}, framed: {"page"},
}

// builtinHTML are the sums of the built-in templates that the shortcuts were written for.
var builtinHTML = map[string]string{
	"blocks": "8aecbee2248e66d7", "contents": "495e3b0b576ab18a", "facts": "8ffba67fdfb7d4fd", "heading": "9faee0e7083a171d",
	"id": "4f0be27b28e17bc0", "list": "219dc508f650b053", "table": "66c340cbbb0c2649", "ticks": "8fe32b5439e98a99",
	"chart": "4347d2a841c3eea8", "sketch": "32821506a82dc91e", "page": "8c3b08b27650862c",
}

func htmlShortcut(x *viewBlock) shortcut {
	switch x.Kind {
	case "heading":
		return headingHTML
	case "para":
		return paraHTML
	case "list":
		for i := range x.Items {
			if len(x.Items[i].Blocks) > 0 {
				return nil
			}
		}
		if !x.Ordered {
			return listHTML
		}
	case "table":
		return tableHTML
	case "facts":
		return factsHTML
	case "ticks":
		return ticksHTML
	case "contents":
		return contentsHTML
	case "note":
		return noteHTML
	case "chart":
		return chartHTML
	case "sketch":
		return sketchHTML
	}
	return nil
}

func appendID(b []byte, id string) []byte {
	if id == "" {
		return b
	}
	return append(appendHTML(append(b, ` id="`...), id), '"')
}

func headingHTML(b []byte, x *viewBlock) []byte {
	level := byte('6')
	if x.Level >= 1 && x.Level <= 5 {
		level = '0' + byte(x.Level)
	}
	b = append(appendID(append(b, '<', 'h', level), x.ID), '>')
	return append(appendInlines(b, x.Text), '<', '/', 'h', level, '>', '\n')
}

func paraHTML(b []byte, x *viewBlock) []byte {
	if x.Lead {
		b = append(b, `<p class="lead">`...)
	} else {
		b = append(b, "<p>"...)
	}
	return append(appendInlines(b, x.Text), "</p>\n"...)
}

func listHTML(b []byte, x *viewBlock) []byte {
	b = append(b, "<ul"...)
	if x.Class != "" {
		b = append(appendHTML(append(b, ` class="`...), x.Class), '"')
	}
	b = append(b, '>')
	for i := range x.Items {
		b = append(appendInlines(append(b, "\n<li>"...), x.Items[i].Text), "</li>"...)
	}
	return append(b, "\n</ul>\n"...)
}

func tableHTML(b []byte, x *viewBlock) []byte {
	b = append(appendID(append(b, "<table"...), x.ID), ">\n<caption>"...)
	b = append(appendInlines(b, x.Caption), "</caption>\n<thead>\n<tr>"...)
	b = append(appendHeads(b, x.Head), "</tr>\n</thead>\n<tbody>"...)
	return append(appendRows(b, x.Rows), "\n</tbody>\n</table>\n"...)
}

func factsHTML(b []byte, x *viewBlock) []byte {
	b = append(appendHTML(append(b, `<dl class="facts" aria-label="`...), x.Label), `">`...)
	for i := range x.Facts {
		f := &x.Facts[i]
		b = append(appendInlines(append(b, "\n<div>\n<dt>"...), f.Name), "</dt>\n<dd class=\"value\">"...)
		b = append(appendInlines(b, f.Value), "</dd>"...)
		if len(f.Detail) > 0 {
			b = append(appendInlines(append(b, "\n<dd>"...), f.Detail), "</dd>"...)
		}
		b = append(b, "\n</div>"...)
	}
	return append(b, "\n</dl>\n"...)
}

func ticksHTML(b []byte, x *viewBlock) []byte {
	b = append(b, `<dl class="ticks">`...)
	for i := range x.Groups {
		g := &x.Groups[i]
		b = append(appendInlines(append(b, "\n<div>\n<dt>"...), g.Name), "</dt>"...)
		b = append(appendEach(b, "dd", g.Items), "\n</div>"...)
	}
	return append(b, "\n</dl>\n"...)
}

func contentsHTML(b []byte, x *viewBlock) []byte {
	b = append(b, `<nav class="contents`...)
	if x.Class != "" {
		b = appendHTML(append(b, ' '), x.Class)
	}
	b = append(appendHTML(append(b, `" aria-label="`...), x.Label), "\">\n<ul>"...)
	return append(appendEach(b, "li", x.Links), "\n</ul>\n</nav>\n"...)
}

func noteHTML(b []byte, x *viewBlock) []byte {
	b = append(appendHTML(append(b, `<div class="note `...), x.Class), "\">\n<p>"...)
	if x.Label != "" {
		b = append(appendHTML(append(b, "<strong>"...), x.Label), "</strong> "...)
	}
	return append(appendInlines(b, x.Text), "</p>\n</div>\n"...)
}
