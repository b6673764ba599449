package page

// accessibility says what was tested, what falls short, and how to ask for the guide
// in another form.
func (b *builder) accessibility() *Page {
	p := b.newPage(AccessPath, HTML(AccessPath), b.t("access.title"), b.t("access.description"))
	p.add(Para{Lead: true, Text: b.say("access.lead")})
	p.add(b.heading(2, "ask", "access.h.ask"))
	ask := []Inline{{Text: b.t("access.ask", "contact", b.Tables.Guide.Contact)}}
	if a := address(b.Tables.Guide.Contact); a != "" {
		ask[0].Href = a
	}
	p.add(Para{Text: ask})
	list := func(prefix string, keys ...string) List {
		l := List{}
		for _, k := range keys {
			l.Items = append(l.Items, b.say(prefix+k))
		}
		return l
	}
	p.add(b.heading(2, "forms", "access.h.forms"), para(Inline{Text: b.t("access.forms.intro")}),
		list("access.forms.", "large", "table", "plain", "csv", "pdf"))
	if l := b.largePrint(); len(l.Items) > 0 {
		p.add(l)
	}
	p.add(b.heading(2, "gaps", "access.h.gaps"), list("access.gap.", "people", "pdf", "sheet", "wide", "own"))
	p.add(b.heading(2, "tested", "access.h.tested"), para(Inline{Text: b.t("access.tested.intro")}),
		list("access.tested.", "rules", "zoom", "keys", "colours", "tables", "html", "pdf"))
	return p
}

// largePrint leads to each band's list in large print.
func (b *builder) largePrint() List {
	l := List{}
	for _, m := range b.made {
		row := m.row()
		l.Items = append(l.Items, []Inline{link(b.t("band.files.sentences", "band", row.Name), HTML(SentencesPath(row.ID)))})
	}
	return l
}
