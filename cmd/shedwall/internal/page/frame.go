package page

// footLinks leads to pages that few readers need on every visit; the navigation holds
// the others and stays short. A page that a guide may lack is named where it is made.
func (b *builder) footLinks() []Inline {
	var out []Inline
	for _, l := range []Inline{
		b.oddsLink(),
		link(b.t("nav.growers"), HTML(GrowersPath)),
		link(b.t("nav.words"), HTML(WordsPath)),
		link(b.t("nav.accessibility"), HTML(AccessPath)),
		link(b.t("nav.handover"), HTML(HandoverPath)),
	} {
		if out != nil {
			out = append(out, Inline{Text: " · "})
		}
		out = append(out, l)
	}
	if b.whole() {
		out = append(out, Inline{Text: " · "}, link(b.t("nav.guide"), HTML(WholePath)))
	}
	return out
}
