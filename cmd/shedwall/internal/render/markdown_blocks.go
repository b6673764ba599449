package render

// The shortcuts of Markdown: what templates/markdown makes of a block.

// markdownStands are the templates that the shortcut of a kind stands for.
var markdownStands = map[string][]string{
	"heading": nil, "para": nil, "plain": nil, "list": {"list"}, "table": {"table"}, "facts": nil, "ticks": nil, "note": nil,
	"chart": {"table"}, "sketch": nil, framed: {"page"},
}

// builtinMarkdown are the sums of the built-in templates that the shortcuts were written for.
var builtinMarkdown = map[string]string{
	"blocks": "908ebfe1434e3723", "list": "0ac8f5a2523e0f7f", "table": "031cc2f9ebb1a5bc", "page": "a9dfc19916cd2e8e",
}

func markdownShortcut(x *viewBlock) shortcut {
	switch x.Kind {
	case "heading":
		return headingMarkdown
	case "para":
		return paraMarkdown
	case "plain":
		return plainMarkdown
	case "list":
		for i := range x.Items {
			if len(x.Items[i].Text) == 0 {
				return nil // blocks within
			}
		}
		return listMarkdown
	case "table":
		return tableMarkdown
	case "facts":
		return factsMarkdown
	case "ticks":
		return ticksMarkdown
	case "note":
		return noteMarkdown
	case "chart":
		return chartMarkdown
	case "sketch":
		return paraMarkdown
	}
	return nil
}

func headingMarkdown(b []byte, x *viewBlock) []byte {
	for range x.Level {
		b = append(b, '#')
	}
	return append(appendMarkdown(append(b, ' '), x.Text), "\n\n"...)
}

func paraMarkdown(b []byte, x *viewBlock) []byte {
	return append(appendMarkdownLine(b, x.Text), "\n\n"...)
}

func plainMarkdown(b []byte, x *viewBlock) []byte {
	return append(appendMarkdownLine(b, x.Text), '\n')
}

func listMarkdown(b []byte, x *viewBlock) []byte {
	for i := range x.Items {
		b = append(append(b, x.Items[i].Mark...), ' ')
		b = append(appendMarkdownLine(b, x.Items[i].Text), '\n')
	}
	return append(b, '\n')
}

func tableMarkdown(b []byte, x *viewBlock) []byte {
	b = append(appendMarkdown(append(b, "**"...), x.Caption), "**\n\n"...)
	return append(appendMarkdownRows(appendMarkdownHeads(b, x.Head), x.Rows), '\n')
}

func factsMarkdown(b []byte, x *viewBlock) []byte {
	for i := range x.Facts {
		f := &x.Facts[i]
		b = append(appendMarkdown(append(b, "- "...), f.Name), ": **"...)
		b = append(appendMarkdown(b, f.Value), "**"...)
		if len(f.Detail) > 0 {
			b = appendMarkdown(append(b, " - "...), f.Detail)
		}
		b = append(b, '\n')
	}
	return append(b, '\n')
}

func ticksMarkdown(b []byte, x *viewBlock) []byte {
	for i := range x.Groups {
		b = append(appendMarkdown(b, x.Groups[i].Name), "\n\n"...)
		b = append(appendMarkdownEach(b, "- [ ]", x.Groups[i].Items), '\n')
	}
	return b
}

func noteMarkdown(b []byte, x *viewBlock) []byte {
	b = append(b, "> "...)
	if x.Label != "" {
		b = append(appendMarkdownText(append(b, "**"...), x.Label), "** "...)
	}
	return append(appendMarkdown(b, x.Text), "\n\n"...)
}

func chartMarkdown(b []byte, x *viewBlock) []byte { return tableMarkdown(b, x.Twin) }

// pageMarkdown appends a page; blocks writes all but its end.
func pageMarkdown(b []byte, x *viewPage, blocks *shortcuts) ([]byte, error) {
	b, err := blocks.append(b, x.Blocks)
	if err != nil {
		return b, err
	}
	b = appendMarkdownNav(append(b, "---\n\n"...), x.Nav)
	for i := range x.Languages {
		b = append(appendMarkdown(append(b, "- "...), x.Languages[i].Link()), '\n')
	}
	b = append(b, '\n')
	for _, f := range x.Foot {
		b = append(appendMarkdownLine(b, f), "\n\n"...)
	}
	return b, nil
}
