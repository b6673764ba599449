// Package prose reads the Markdown of a guide into a checked document. goldmark
// is used here and nowhere else; raw HTML is never passed on.
package prose

// Doc is one Markdown file: its title (the first heading) and its body.
type Doc struct {
	File  string
	Title string
	HTML  func(shift int, link func(string) string) string // body without the title, headings shifted, links mapped
	Text  string                                           // body as Markdown, without the title
}
