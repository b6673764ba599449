package page

// begunNote warns on every page of a guide that still has the made-up weather station it
// began with; nothing in any other guide.
func (b *builder) begunNote() []Block {
	if !b.Tables.Begun() {
		return nil
	}
	return []Block{Note{Kind: "caution", Label: b.t("begun.label"), Text: b.say("begun.note")}}
}
