package diag

// What only a preview meets: publish ends with the same message.
var _ = explain(
	Explanation{
		ID: "page-failed", Title: "A page, a sheet or the whole guide could not be made",
		Why:   "Tables and texts were read without a fault, but a template of the guide asks for something that no page has, or the words of a sheet find no room on paper. Nothing is published while one page fails.",
		Wrong: "templates/html/page.html: {{.Tittle}}",
		Right: "templates/html/page.html: {{.Title}}",
	},
)
